package lot

import (
	"errors"
	"testing"
)

// A document of an older version goes through every step in turn, and its keys are
// then those of the newest. The versions here are made up.
func TestUpgrade(t *testing.T) {
	rename := func(from, to string) func(n *jsonNode) error {
		return func(n *jsonNode) error {
			i, ok := n.at[from]
			if !ok {
				return &FormatError{Path: "/" + from, Err: ErrMissing}
			}
			delete(n.at, from)
			n.at[to], n.keys[i] = i, to
			return nil
		}
	}
	d := document{format: "made up", version: 3, upgrades: []func(n *jsonNode) error{rename("a", "b"), rename("b", "c")}}
	for _, tt := range []struct {
		text, want, path string
		err              error
	}{
		{`{"format":"made up","version":1,"a":"x"}`, "x", "", nil},
		{`{"format":"made up","version":2,"b":"x"}`, "x", "", nil},
		{`{"format":"made up","version":3,"c":"x"}`, "x", "", nil},
		{`{"format":"made up","version":1,"b":"x"}`, "", "/a", ErrMissing},
		{`{"format":"made up","version":3,"a":"x"}`, "", "/c", ErrMissing},
		{`{"format":"made up","version":0,"c":"x"}`, "", "/version", nil},
		{`{"format":"made up","version":4,"c":"x"}`, "", "/version", nil},
	} {
		var c string
		err := d.read("f", []byte(tt.text), func(f form) { textField(f, "c", &c) })
		var bad *FormatError
		if errors.As(err, &bad) != (tt.path != "") || tt.path != "" && bad.Path != tt.path || tt.err != nil && !errors.Is(err, tt.err) || err == nil && c != tt.want {
			t.Errorf("%s: %q, %v", tt.text, c, err)
		}
	}
}

// Every field of a plan has a key that errors about it are placed at.
func TestJSONKey(t *testing.T) {
	for name, want := range map[string]string{"StdDev": "stdDev", "Q": "q", "GmmSource": "gmmSource", "MinN": "minN", "Limits": "limits"} {
		if got := jsonKey(name); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}
