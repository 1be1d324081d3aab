// Package progress shows how far a long computation is: a line that is written over
// where someone watches on a terminal, nothing where the output goes to a file.
package progress

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"
)

// every is how often the line is written; an eye reads no faster.
const every = 200 * time.Millisecond

// A Line counts up to a total. The nil Line shows nothing and may be used.
type Line struct {
	out   io.Writer
	what  string
	total int

	mu      sync.Mutex
	started time.Time
	shown   time.Time
}

// ForTerminal returns a line on f, or nil where f is not a terminal. what names the
// things that are counted.
func ForTerminal(f *os.File, what string, total int) *Line {
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return nil
	}
	return To(f, what, total)
}

// To returns a line on out whatever out is.
func To(out io.Writer, what string, total int) *Line {
	return &Line{out: out, what: what, total: total, started: time.Now()}
}

// At says that done things are done. It may be called from several goroutines.
func (l *Line) At(done int) {
	if l == nil {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if now := time.Now(); done >= l.total || now.Sub(l.shown) >= every {
		l.shown = now
		fmt.Fprintf(l.out, "\r%s", l.text(done, now.Sub(l.started)))
	}
}

// text is the line without what moves the cursor.
func (l *Line) text(done int, spent time.Duration) string {
	share := 0.0
	if l.total > 0 {
		share = 100 * float64(done) / float64(l.total)
	}
	s := fmt.Sprintf("%5.1f %%  %d of %d %s", share, done, l.total, l.what)
	if done > 0 && done < l.total {
		left := time.Duration(float64(spent) * (float64(l.total)/float64(done) - 1))
		s += fmt.Sprintf(", %s left", left.Round(time.Second))
	}
	return fmt.Sprintf("%-72s", s)
}

// Done ends the line.
func (l *Line) Done() {
	if l != nil {
		fmt.Fprintln(l.out)
	}
}
