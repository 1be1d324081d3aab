package lot

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"github.com/densilot/densilot/stats"
)

// document is a kind of JSON document with its version.
type document struct {
	format  string
	version int // the newest, which is written
	// upgrades take a document from one version to the next: the first from 1 to 2.
	upgrades []func(n *jsonNode) error
}

// VersionError says that a document is of a version that is not known. A newer one
// needs a newer library.
type VersionError struct {
	Have, Newest int
}

// Error gives both versions.
func (e *VersionError) Error() string {
	return fmt.Sprintf("version %d is not known; the newest is %d", e.Have, e.Newest)
}

// write writes a document in its canonical form.
func (d document) write(fields func(form)) []byte {
	var b bytes.Buffer
	writeForm(&b, func(f form) {
		format, version := d.format, d.version
		textField(f, "format", &format)
		intField(f, "version", &version)
		fields(f)
	})
	return b.Bytes()
}

// read reads a document, whatever its version.
func (d document) read(fn string, data []byte, fields func(form)) error {
	n, err := parse(data)
	if err == nil {
		err = d.upgrade(n)
	}
	if err == nil {
		readForm(n, "", &err, func(f form) {
			f.has("format", true)
			f.has("version", true)
			fields(f)
		})
	}
	return named(fn, err)
}

// readInto is UnmarshalJSON by the function that parses the same document; what stood
// there before stays where that fails.
func readInto[T any](to *T, data []byte, parse func([]byte) (T, error)) error {
	read, err := parse(data)
	if err == nil {
		*to = read
	}
	return err
}

// readsBack returns a document that was written if the function that parses it takes it.
func readsBack[T any](fn string, data []byte, parse func([]byte) (T, error)) ([]byte, error) {
	if _, err := parse(data); err != nil {
		return nil, named(fn, err)
	}
	return data, nil
}

// upgrade checks the head of the document and takes it to the newest version.
func (d document) upgrade(n *jsonNode) (err error) {
	if n.kind != kindObject {
		return &FormatError{Err: wrongKind(n, kindObject)}
	}
	var format string
	var version int
	head := &reader{n, "", make(map[string]bool), &err}
	textField(head, "format", &format)
	countField(head, "version", &version, math.MaxInt32)
	switch {
	case err != nil:
		return err
	case format != d.format:
		return &FormatError{Path: "/format", Err: fmt.Errorf("%.80q: %w; need %q", format, ErrFormat, d.format)}
	case version < 1 || version > d.version:
		return &FormatError{Path: "/version", Err: &VersionError{version, d.version}}
	}
	for _, step := range d.upgrades[version-1:] {
		if err := step(n); err != nil {
			return err
		}
	}
	return nil
}

// named gives an error the name of the function that the caller used.
func named(fn string, err error) error {
	var e *FormatError
	if !errors.As(err, &e) {
		return err
	}
	return &FormatError{fn, e.Path, e.Err}
}

// placedError turns an error about a field of Go into one about the same field of
// the document: t.Rounding.StdDev, index 2, is /rounding/stdDev/2.
func placedError(fn string, err error) error {
	var e *stats.InputError
	if !errors.As(err, &e) {
		return &FormatError{fn, "", err}
	}
	_, arg, _ := strings.Cut(e.Arg, ".")
	path := ""
	for _, part := range strings.Split(arg, ".") {
		path += "/" + jsonKey(part)
	}
	if e.Index >= 0 {
		path += "/" + strconv.Itoa(e.Index)
	}
	if e.Value != "" {
		return &FormatError{fn, path, fmt.Errorf("%s: %w", e.Value, e.Err)}
	}
	return &FormatError{fn, path, e.Err}
}

// jsonKey writes the name of a field as its key: its first word in small letters,
// all of it where it is an abbreviation.
func jsonKey(name string) string {
	if strings.ToUpper(name) == name {
		return strings.ToLower(name)
	}
	letters := []rune(name)
	letters[0] = unicode.ToLower(letters[0])
	return string(letters)
}
