package lot

import (
	"bytes"
	"encoding/json"
)

// writer is a form that writes, in the order in which the fields are handed to it
// and without blanks. json.Marshal gives the same bytes.
type writer struct {
	b     *bytes.Buffer
	begun bool // a key has been written
}

// writeForm writes an object.
func writeForm(b *bytes.Buffer, fields func(form)) {
	b.WriteByte('{')
	fields(&writer{b: b})
	b.WriteByte('}')
}

func (w *writer) has(_ string, given bool) bool { return given }

func (w *writer) key(key string) {
	if w.begun {
		w.b.WriteByte(',')
	}
	w.begun = true
	writeText(w.b, key)
	w.b.WriteByte(':')
}

func writeText(b *bytes.Buffer, text string) {
	quoted, _ := json.Marshal(text) // a string always has a form
	b.Write(quoted)
}

func (w *writer) scalar(key string, kind kind, text string, _ func(string) error) {
	w.key(key)
	if kind == kindText {
		writeText(w.b, text)
		return
	}
	w.b.WriteString(text)
}

func (w *writer) object(key string, fields func(form)) {
	w.key(key)
	writeForm(w.b, fields)
}

func (w *writer) list(key string, n int, element func(f form, i int)) {
	w.key(key)
	w.each(n, func(i int) { writeForm(w.b, func(f form) { element(f, i) }) })
}

func (w *writer) texts(key string, all []string, _ func([]string) error) {
	w.key(key)
	w.each(len(all), func(i int) { writeText(w.b, all[i]) })
}

func (w *writer) refuse(string, error) {}

func (w *writer) each(n int, write func(i int)) {
	w.b.WriteByte('[')
	for i := range n {
		if i > 0 {
			w.b.WriteByte(',')
		}
		write(i)
	}
	w.b.WriteByte(']')
}
