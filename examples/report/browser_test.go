package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/densilot/densilot/examples/report/internal/browser"
)

// open shows a page to a real browser, or skips the test where there is none.
func open(t *testing.T, html string, s browser.Screen) *browser.Page {
	t.Helper()
	path := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(path, []byte(html), 0o644); err != nil {
		t.Fatal(err)
	}
	b, err := browser.Start(2 * time.Minute)
	if errors.Is(err, browser.ErrAbsent) {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close() })
	p, err := b.Open(path, s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

var handheld = browser.Screen{Width: 360, Height: 780, Phone: true}

// overflow says by how many pixels the page is wider than the screen.
func overflow(t *testing.T, p *browser.Page) int {
	t.Helper()
	var wide int
	if err := p.Evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth", &wide); err != nil {
		t.Fatal(err)
	}
	return wide
}

func TestInBrowser(t *testing.T) {
	p := open(t, reportOf(t), handheld)
	if c := p.Complaints(); len(c) > 0 {
		t.Errorf("the browser complains: %s", strings.Join(c, "\n"))
	}
	for _, r := range p.Requests() {
		if !strings.Contains(r, `"url":"file:`) && !strings.Contains(r, `"url":"data:,"`) {
			t.Errorf("the page asks for something: %s", r)
		}
	}
	for _, width := range []int{320, 360, 640, 641, 1280} {
		if err := p.Resize(browser.Screen{Width: width, Height: 780, Phone: width <= 640}); err != nil {
			t.Fatal(err)
		}
		if over := overflow(t, p); over > 0 {
			t.Errorf("%d pixels wide: the page is %d wider", width, over)
		}
		// The drawing for the phone is what keeps its words legible.
		var smallest float64
		if err := p.Evaluate(`Math.min(...[...document.querySelectorAll("svg text")].filter(t => t.getBoundingClientRect().width > 0).map(t => Math.hypot(t.getScreenCTM().a, t.getScreenCTM().b) * parseFloat(getComputedStyle(t).fontSize)))`, &smallest); err != nil {
			t.Fatal(err)
		}
		if smallest < 9 {
			t.Errorf("%d pixels wide: text of %.1f pixels in a figure", width, smallest)
		}
	}
}

// Every word of a figure lies within the drawing: none is clipped.
func TestNothingClipped(t *testing.T) {
	p := open(t, reportOf(t), handheld)
	for _, s := range []browser.Screen{handheld, {Width: 1280, Height: 900}} {
		if err := p.Resize(s); err != nil {
			t.Fatal(err)
		}
		var out []string
		if err := p.Evaluate(`[...document.querySelectorAll("svg text")].filter(t => { const a = t.getBoundingClientRect(), b = t.closest("svg").getBoundingClientRect(); return a.width > 0 && (a.left < b.left - 1 || a.right > b.right + 1 || a.top < b.top - 1 || a.bottom > b.bottom + 1) }).map(t => t.closest("svg").querySelector("title").textContent + ": " + t.textContent)`, &out); err != nil {
			t.Fatal(err)
		}
		if len(out) > 0 {
			t.Errorf("%d pixels wide: clipped: %q", s.Width, out)
		}
	}
}

// The checks above can fail: a page that logs an error and is too wide is found out.
func TestBrowserNotices(t *testing.T) {
	p := open(t, `<!DOCTYPE html><meta name="viewport" content="width=device-width"><p style="width:500px">wide</p><script>console.error("no")</script>`, handheld)
	if len(p.Complaints()) != 1 || overflow(t, p) < 140 {
		t.Errorf("%d complaints, %d pixels of overflow", len(p.Complaints()), overflow(t, p))
	}
}

// A screen reader is told the name of every figure once, and what it shows; every
// table has a name and headers.
func TestReadAloud(t *testing.T) {
	p := open(t, reportOf(t), browser.Screen{Width: 1280, Height: 900})
	var opened int
	if err := p.Evaluate(`document.querySelectorAll("details").forEach(d => d.open = true); document.querySelectorAll("details").length`, &opened); err != nil {
		t.Fatal(err)
	}
	nodes, err := p.Accessible()
	if err != nil {
		t.Fatal(err)
	}
	count := make(map[string]int)
	for _, n := range nodes {
		count[n.Role]++
		if n.Role == "image" && (n.Name == "" || len(n.Description) < 40) {
			t.Errorf("an image says only %q, %q", n.Name, n.Description)
		}
		if n.Role == "table" && n.Name == "" {
			t.Error("a table has no name")
		}
	}
	if count["image"] != 9 || count["table"] != opened+4 || count["columnheader"] < 30 || count["rowheader"] < 60 {
		t.Errorf("%d details; %v", opened, count)
	}
	var levels []int
	if err := p.Evaluate(`[...document.querySelectorAll("h1,h2,h3,h4,h5,h6")].map(h => +h.tagName[1])`, &levels); err != nil {
		t.Fatal(err)
	}
	for i, level := range levels {
		if i == 0 && level != 1 || i > 0 && (level == 1 || level > levels[i-1]+1) {
			t.Errorf("heading %d is of level %d after %v", i+1, level, levels[:i])
		}
	}
}
