package examples_test

import (
	"go/doc"
	"go/doc/comment"
	"regexp"
	"testing"
)

// A link of a doc comment that leads nowhere is shown in its brackets.
func TestDocLinksLead(t *testing.T) {
	parsed := make(map[string]*doc.Package)
	for _, name := range packages {
		parsed["github.com/densilot/densilot/"+name] = parsePackage(t, name)
	}
	for path, p := range parsed {
		parser := p.Parser()
		for symbol, text := range commentsOf(p) {
			for _, block := range parser.Parse(text).Content {
				checkLinks(t, path+" "+symbol, block, parsed)
			}
		}
	}
}

func checkLinks(t *testing.T, place string, block comment.Block, parsed map[string]*doc.Package) {
	t.Helper()
	switch b := block.(type) {
	case *comment.Paragraph:
		checkTexts(t, place, b.Text, parsed)
	case *comment.List:
		for _, item := range b.Items {
			for _, block := range item.Content {
				checkLinks(t, place, block, parsed)
			}
		}
	}
}

// unlinked is what looks like a link and is none, such as [Terms.Rule] of a field. A
// position in a list follows a name at once.
var unlinked = regexp.MustCompile(`(^|[^\w])\[\*?([a-z]\w*\.)?[A-Z]\w*(\.[A-Z]\w*)?\]`)

func checkTexts(t *testing.T, place string, texts []comment.Text, parsed map[string]*doc.Package) {
	t.Helper()
	for _, text := range texts {
		switch x := text.(type) {
		case comment.Plain:
			if dead := unlinked.FindString(string(x)); dead != "" {
				t.Errorf("%s: %s leads nowhere", place, dead)
			}
		case *comment.DocLink:
			if p := parsed[x.ImportPath]; p != nil && x.Name != "" && !p.Parser().LookupSym(x.Recv, x.Name) {
				t.Errorf("%s: %s.%s is not in %s", place, x.Recv, x.Name, x.ImportPath)
			}
		}
	}
}
