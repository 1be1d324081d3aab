package examples_test

import (
	"go/doc"
	"go/doc/comment"
	"regexp"
	"strings"
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

// commentsOf returns the doc comments of a package by their symbols.
func commentsOf(p *doc.Package) map[string]string {
	all := map[string]string{"": p.Doc}
	values, funcs := append(append([]*doc.Value(nil), p.Consts...), p.Vars...), append([]*doc.Func(nil), p.Funcs...)
	for _, typ := range p.Types {
		all[typ.Name] = typ.Doc
		values = append(append(values, typ.Consts...), typ.Vars...)
		funcs = append(append(funcs, typ.Funcs...), typ.Methods...)
	}
	for _, v := range values {
		all[v.Names[0]] = v.Doc
	}
	for _, f := range funcs {
		all[f.Recv+"."+f.Name] = f.Doc
	}
	return all
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
			if p := parsed[x.ImportPath]; p != nil && x.Name != "" && p.Parser().LookupSym(x.Recv, x.Name) == false {
				t.Errorf("%s: %s.%s is not in %s", place, x.Recv, x.Name, x.ImportPath)
			}
			if x.ImportPath != "" && strings.HasPrefix(x.ImportPath, "github.com/densilot") && parsed[x.ImportPath] == nil {
				t.Errorf("%s: there is no %s", place, x.ImportPath)
			}
		}
	}
}
