package lot

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Bounds of a document, so that none fills the memory.
const (
	maxBytes = 4 << 20
	maxNodes = 200_000
	maxDepth = 20
)

// jsonNode is a JSON value. Numbers keep their text.
type jsonNode struct {
	kind   kind
	text   string
	keys   []string    // of an object
	values []*jsonNode // of an object or a list
	at     map[string]int
}

func (n *jsonNode) get(key string) *jsonNode {
	if i, ok := n.at[key]; ok {
		return n.values[i]
	}
	return nil
}

// tokens makes nodes of the token stream.
type tokens struct {
	decoder *json.Decoder
	nodes   int
}

// byteOrderMark is what some programs put before a text; at the very start of a
// document it is passed over, as a reader of JSON may by RFC 8259, section 8.1.
const byteOrderMark = "\ufeff"

// parse reads one JSON value that is all of data.
func parse(data []byte) (*jsonNode, error) {
	data = bytes.TrimPrefix(data, []byte(byteOrderMark))
	if len(data) > maxBytes {
		return nil, &FormatError{Err: fmt.Errorf("%w: %d bytes, at most %d", ErrTooLarge, len(data), maxBytes)}
	}
	if !utf8.Valid(data) {
		return nil, &FormatError{Err: fmt.Errorf("%w: not UTF-8", ErrSyntax)}
	}
	t := tokens{decoder: json.NewDecoder(bytes.NewReader(data))}
	t.decoder.UseNumber()
	n, err := t.value("", 0)
	if err != nil {
		return nil, err
	}
	if _, err := t.decoder.Token(); !errors.Is(err, io.EOF) || !json.Valid(data) {
		return nil, &FormatError{Err: fmt.Errorf("%w: more than one value", ErrSyntax)}
	}
	return n, nil
}

func (t *tokens) next(path string) (json.Token, error) {
	token, err := t.decoder.Token()
	if err != nil {
		return nil, &FormatError{Path: path, Err: fmt.Errorf("%w: byte %d: %v", ErrSyntax, t.decoder.InputOffset(), err)}
	}
	return token, nil
}

func (t *tokens) value(path string, depth int) (*jsonNode, error) {
	token, err := t.next(path)
	if err != nil {
		return nil, err
	}
	if t.nodes++; t.nodes > maxNodes || depth > maxDepth {
		return nil, &FormatError{Path: path, Err: fmt.Errorf("%w: at most %d values, %d deep", ErrTooLarge, maxNodes, maxDepth)}
	}
	switch v := token.(type) {
	case json.Delim:
		if v == '{' {
			return t.object(path, depth)
		}
		return t.list(path, depth)
	case string:
		return textNode(path, v)
	case json.Number:
		return &jsonNode{kind: kindNumber, text: v.String()}, nil
	case bool:
		return &jsonNode{kind: kindBool, text: strconv.FormatBool(v)}, nil
	}
	return &jsonNode{kind: kindNull}, nil
}

// textNode refuses the mark that stands for a character that cannot be, as half a
// pair of escapes leaves it.
func textNode(path, text string) (*jsonNode, error) {
	if strings.ContainsRune(text, utf8.RuneError) {
		return nil, &FormatError{Path: path, Err: fmt.Errorf("%w: a character is damaged", ErrSyntax)}
	}
	return &jsonNode{kind: kindText, text: text}, nil
}

func (t *tokens) object(path string, depth int) (*jsonNode, error) {
	n := &jsonNode{kind: kindObject, at: make(map[string]int)}
	for t.decoder.More() {
		token, err := t.next(path)
		if err != nil {
			return nil, err
		}
		key, _ := token.(string) // the decoder lets nothing else be a key
		below := path + "/" + escape(key)
		if _, repeated := n.at[key]; repeated {
			return nil, &FormatError{Path: below, Err: ErrDuplicateKey}
		}
		v, err := t.value(below, depth+1)
		if err != nil {
			return nil, err
		}
		n.at[key] = len(n.values)
		n.keys, n.values = append(n.keys, key), append(n.values, v)
	}
	_, err := t.next(path)
	return n, err
}

func (t *tokens) list(path string, depth int) (*jsonNode, error) {
	n := &jsonNode{kind: kindList}
	for t.decoder.More() {
		v, err := t.value(path+"/"+strconv.Itoa(len(n.values)), depth+1)
		if err != nil {
			return nil, err
		}
		n.values = append(n.values, v)
	}
	_, err := t.next(path)
	return n, err
}
