package lot

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/densilot/densilot/stats"
)

// FormatError says where a JSON document was refused and why.
type FormatError struct {
	Func string // the function as the caller wrote it, such as "lot.ParsePlan"
	Path string // JSON pointer by RFC 6901; "" for the whole document
	Err  error  // the reason
}

// Error gives the place and the reason in one line.
func (e *FormatError) Error() string {
	path := e.Path
	if path == "" {
		path = "document"
	}
	reason := "refused"
	if e.Err != nil {
		reason = e.Err.Error()
	}
	return e.Func + ": " + path + ": " + reason
}

// Unwrap returns the reason.
func (e *FormatError) Unwrap() error { return e.Err }

// Reasons that a document is refused.
var (
	ErrSyntax       = errors.New("is not JSON")
	ErrKind         = errors.New("wrong kind of value")
	ErrUnknownKey   = errors.New("unknown key")
	ErrDuplicateKey = errors.New("key is given more than once")
	ErrTooLarge     = errors.New("document is too large or too deep")
	ErrFormat       = errors.New("is another kind of document")
)

// reader is a form that reads. The first error stays.
type reader struct {
	node *jsonNode
	path string
	used map[string]bool
	err  *error
}

// readForm reads the fields of an object, and refuses keys that no field asked for.
func readForm(n *jsonNode, path string, err *error, fields func(form)) {
	if n.kind != kindObject {
		fail(err, path, wrongKind(n, kindObject))
		return
	}
	r := &reader{n, path, make(map[string]bool), err}
	fields(r)
	for _, key := range n.keys {
		if !r.used[key] {
			fail(err, path+"/"+escape(key), unknownKey(key, r.used))
			return
		}
	}
}

// fail keeps the first error.
func fail(err *error, path string, reason error) {
	if *err == nil && reason != nil {
		*err = &FormatError{Path: path, Err: reason}
	}
}

func wrongKind(n *jsonNode, want kind) error {
	return fmt.Errorf("%w: have %s, need %s", ErrKind, kindNames[n.kind], kindNames[want])
}

func unknownKey(key string, known map[string]bool) error {
	for k := range known {
		if strings.EqualFold(k, key) {
			return fmt.Errorf("%w; is %q meant?", ErrUnknownKey, k)
		}
	}
	return ErrUnknownKey
}

// escape writes a key as a part of a JSON pointer.
func escape(key string) string {
	if len(key) > 80 {
		key = strings.ToValidUTF8(key[:80], "") + "…"
	}
	return strings.NewReplacer("~", "~0", "/", "~1").Replace(key)
}

func (r *reader) has(key string, _ bool) bool {
	r.used[key] = true
	return r.node.get(key) != nil
}

// child returns the value of a key that has to be of a kind, nil after an error.
func (r *reader) child(key string, want kind) (*jsonNode, string) {
	r.used[key] = true
	path := r.path + "/" + key
	n := r.node.get(key)
	switch {
	case *r.err != nil:
		return nil, path
	case n == nil:
		r.missing(key)
		return nil, path
	case n.kind != want:
		fail(r.err, path, wrongKind(n, want))
		return nil, path
	}
	return n, path
}

// missing refuses an object without a key, at the key that is it in other capitals
// where there is one.
func (r *reader) missing(key string) {
	for _, have := range r.node.keys {
		if strings.EqualFold(have, key) {
			fail(r.err, r.path+"/"+escape(have), unknownKey(have, map[string]bool{key: true}))
		}
	}
	fail(r.err, r.path+"/"+key, ErrMissing)
}

func (r *reader) scalar(key string, kind kind, _ string, set func(string) error) {
	if n, path := r.child(key, kind); n != nil {
		fail(r.err, path, set(n.text))
	}
}

func (r *reader) object(key string, fields func(form)) {
	if n, path := r.child(key, kindObject); n != nil {
		readForm(n, path, r.err, fields)
	}
}

func (r *reader) list(key string, _ int, element func(f form, i int)) {
	n, path := r.child(key, kindList)
	if n == nil {
		return
	}
	for i, v := range n.values {
		readForm(v, path+"/"+strconv.Itoa(i), r.err, func(f form) { element(f, i) })
		if *r.err != nil {
			return
		}
	}
}

func (r *reader) texts(key string, _ []string, set func([]string) error) {
	n, path := r.child(key, kindList)
	if n == nil {
		return
	}
	var all []string
	for i, v := range n.values {
		if v.kind != kindText {
			fail(r.err, path+"/"+strconv.Itoa(i), wrongKind(v, kindText))
			return
		}
		all = append(all, v.text)
	}
	fail(r.err, path, set(all))
}

// refuse places an error about one of several behind its position.
func (r *reader) refuse(key string, err error) {
	path := r.path + "/" + key
	var e *stats.InputError
	if errors.As(err, &e) {
		if err = e.Err; e.Index >= 0 {
			path += "/" + strconv.Itoa(e.Index)
		}
	}
	fail(r.err, path, err)
}

// quotedWords lists what an enum may be, in the order of the alphabet.
func quotedWords[T comparable](words map[T]string) string {
	var all []string
	for _, w := range words {
		all = append(all, strconv.Quote(w))
	}
	slices.Sort(all)
	return strings.Join(all, ", ")
}
