package main

import "html/template"

// figure is a chart with its name, its text alternative and its numbers.
type figure struct {
	ID, Title string
	Text      string // what it shows, for those who cannot see it
	Table     table
	draw      func(phone bool) *chart
}

// Wide is the drawing for screens and paper, Phone that for narrow screens; the
// style sheet shows one of them.
func (f figure) Wide() template.HTML { return f.draw(false).svg(f.ID, f.Title, f.Text) }

// Phone is the drawing for narrow screens.
func (f figure) Phone() template.HTML { return f.draw(true).svg(f.ID+"-phone", f.Title, f.Text) }

// table is for people and for screen readers: it has a caption, its first row heads
// the columns and its first column the rows.
type table struct {
	Caption string
	Head    []string
	Rows    [][]string
	Words   bool // all columns are text; otherwise the first is, and the others are numbers
}

// section is a part of the page under a heading of its own.
type section struct {
	ID, Title string
	Parts     []part
}

// part is one thing of a section: the field that is set.
type part struct {
	Heading  string
	Text     string
	Figure   *figure
	Table    *table
	Working  []string
	Warnings []string
}
