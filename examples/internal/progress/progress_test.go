package progress

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestLine(t *testing.T) {
	var out bytes.Buffer
	l := To(&out, "lots", 2000)
	l.At(500)
	l.At(501) // too soon to be shown
	l.At(2000)
	l.Done()
	got := out.String()
	if strings.Count(got, "\r") != 2 || !strings.Contains(got, " 25.0 %  500 of 2000 lots") || !strings.Contains(got, "100.0 %  2000 of 2000 lots  ") || !strings.HasSuffix(got, "\n") {
		t.Errorf("%q", got)
	}
	if text := l.text(500, 3*time.Second); !strings.Contains(text, ", 9s left") {
		t.Errorf("a quarter in 3 s: %q", text)
	}
}

// A file is not a terminal.
func TestForTerminal(t *testing.T) {
	f, err := os.Create(filepath.Join(t.TempDir(), "log"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	l := ForTerminal(f, "lots", 10)
	l.At(10)
	l.Done()
	if info, err := f.Stat(); l != nil || err != nil || info.Size() != 0 {
		t.Errorf("%v, %v, %v", l, info, err)
	}
}
