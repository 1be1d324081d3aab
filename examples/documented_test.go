package examples_test

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var packages = []string{"units", "stats", "density", "bias", "lot"}

// parsePackage parses a package of the module with its tests.
func parsePackage(t *testing.T, name string) *doc.Package {
	t.Helper()
	fset := token.NewFileSet()
	paths, err := filepath.Glob(filepath.Join("..", name, "*.go"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no files of %s: %v", name, err)
	}
	var files []*ast.File
	for _, path := range paths {
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		f, err := parser.ParseFile(fset, path, src, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	p, err := doc.NewFromFiles(fset, files, "github.com/densilot/densilot/"+name)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestExportedSymbolsAreDocumented(t *testing.T) {
	for _, name := range packages {
		p := parsePackage(t, name)
		if !strings.HasPrefix(p.Doc, "Package "+name) {
			t.Errorf("package %s has no package comment", name)
		}
		for symbol, text := range commentsOf(p) {
			if strings.TrimSpace(text) == "" {
				t.Errorf("%s.%s has no doc comment", name, symbol)
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

// Every exported function has an example; a maker may share that of its type, and
// methods share those of their type or of the function that makes it.
func TestExportedFunctionsHaveExamples(t *testing.T) {
	for _, name := range packages {
		p := parsePackage(t, name)
		if len(p.Examples) == 0 && len(p.Types) == 0 {
			t.Errorf("package %s has no example", name)
		}
		funcs := append([]*doc.Func(nil), p.Funcs...)
		for _, typ := range p.Types {
			if len(typ.Examples) == 0 {
				funcs = append(funcs, typ.Funcs...)
			}
		}
		for _, f := range funcs {
			if len(f.Examples) == 0 {
				t.Errorf("%s.%s has no example", name, f.Name)
			}
		}
	}
}

// The map of the module names functions and types that exist.
func TestMapNamesWhatExists(t *testing.T) {
	known := make(map[string]bool)
	for _, name := range packages {
		p := parsePackage(t, name)
		for _, f := range p.Funcs {
			known[name+"."+f.Name] = true
		}
		for _, typ := range p.Types {
			known[name+"."+typ.Name] = true
			for _, f := range typ.Funcs {
				known[name+"."+f.Name] = true
			}
			for _, f := range typ.Methods {
				known[name+"."+typ.Name+"."+f.Name] = true
			}
		}
	}
	raw, err := os.ReadFile("../doc.go")
	if err != nil {
		t.Fatal(err)
	}
	named := regexp.MustCompile(`\b(?:units|stats|density|bias|lot)(?:\.[A-Z]\w+)+`).FindAllString(string(raw), -1)
	if len(named) < 30 {
		t.Fatalf("the map names %d functions and types", len(named))
	}
	for _, n := range named {
		if !known[n] {
			t.Errorf("the map names %s, which does not exist", n)
		}
	}
}
