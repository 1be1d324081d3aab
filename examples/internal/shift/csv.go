package shift

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"
)

// placeError is an error with the file, line and column that it is about.
type placeError struct {
	file         string
	line, column int
	err          error
}

func (e *placeError) Error() string {
	return fmt.Sprintf("%s:%d:%d: %v", e.file, e.line, e.column, e.err)
}

func (e *placeError) Unwrap() error { return e.err }

// cell is one field with its place, so that whatever is wrong with it later can
// be said with file, line and column.
type cell struct {
	text         string
	file         string
	line, column int
}

func (c cell) fail(err error) error { return &placeError{c.file, c.line, c.column, err} }

func (c cell) failf(format string, args ...any) error { return c.fail(fmt.Errorf(format, args...)) }

// row is one record by column name.
type row map[string]cell

// table reads a CSV file whose header holds exactly the given columns, in any
// order. Blanks around a field are dropped, one byte-order mark at the very start
// is skipped; anywhere else it is an error.
func table(files fs.FS, name string, columns ...string) ([]row, error) {
	data, err := fs.ReadFile(files, name)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, errors.Unwrap(err))
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if err := noMarks(name, data); err != nil {
		return nil, err
	}
	r := csv.NewReader(bytes.NewReader(data))
	header, err := readRow(r, name)
	if err == io.EOF {
		return nil, &placeError{name, 1, 1, fmt.Errorf("the file is empty; need the header %s", strings.Join(columns, ","))}
	}
	if err != nil {
		return nil, err
	}
	if err := checkHeader(header, columns); err != nil {
		return nil, err
	}
	var rows []row
	for {
		cells, err := readRow(r, name)
		if err == io.EOF {
			return rows, nil
		}
		if err != nil {
			return nil, err
		}
		fields := make(row, len(header))
		for i, h := range header {
			fields[h.text] = cells[i]
		}
		rows = append(rows, fields)
	}
}

func readRow(r *csv.Reader, name string) ([]cell, error) {
	record, err := r.Read()
	var bad *csv.ParseError
	if errors.As(err, &bad) {
		return nil, &placeError{name, bad.Line, bad.Column, bad.Err}
	}
	if err != nil {
		return nil, err
	}
	cells := make([]cell, len(record))
	for i, field := range record {
		line, column := r.FieldPos(i)
		cells[i] = cell{strings.Trim(field, " \t"), name, line, column}
	}
	return cells, nil
}

// noMarks refuses a byte-order mark inside a file, as pasting files together
// leaves one.
func noMarks(name string, data []byte) error {
	at := bytes.Index(data, []byte("\ufeff"))
	if at < 0 {
		return nil
	}
	before := data[:at]
	line := bytes.Count(before, []byte("\n")) + 1
	column := at - bytes.LastIndexByte(before, '\n')
	return &placeError{name, line, column, errors.New("byte-order mark inside the file")}
}

func checkHeader(header []cell, columns []string) error {
	seen := make(map[string]bool)
	for _, h := range header {
		known := false
		for _, c := range columns {
			known = known || c == h.text
		}
		if !known || seen[h.text] {
			return h.failf("unknown or repeated column %q; need %s", h.text, strings.Join(columns, ","))
		}
		seen[h.text] = true
	}
	for _, c := range columns {
		if !seen[c] {
			return header[0].failf("column %q is missing; need %s", c, strings.Join(columns, ","))
		}
	}
	return nil
}
