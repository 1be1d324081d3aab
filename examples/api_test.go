package examples_test

import (
	"bytes"
	"go/ast"
	"go/doc"
	"go/printer"
	"go/token"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// apiFile lists every exported symbol of the module, so that a change to one is
// seen in the difference and meant.
const apiFile = "../testdata/api.txt"

func TestAPI(t *testing.T) {
	var b strings.Builder
	for _, name := range packages {
		b.WriteString("package " + name + "\n")
		for _, line := range declarations(t, parsePackage(t, name)) {
			b.WriteString("\n" + line + "\n")
		}
		b.WriteString("\n")
	}
	if *update {
		if err := os.WriteFile(apiFile, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(apiFile)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), b.String()); diff != "" {
		t.Errorf("the API is another one (-listed +now); if that is meant: go test ./examples -run TestAPI -update\n%s", diff)
	}
}

// declarations prints what go/doc shows of a package, without comments, bodies,
// fields that are not exported and values of variables.
func declarations(t *testing.T, p *doc.Package) []string {
	t.Helper()
	var all []string
	values := func(vs []*doc.Value) {
		for _, v := range vs {
			all = append(all, declaration(t, v.Decl))
		}
	}
	funcs := func(fs []*doc.Func) {
		for _, f := range fs {
			all = append(all, declaration(t, f.Decl))
		}
	}
	values(p.Consts)
	values(p.Vars)
	funcs(p.Funcs)
	for _, typ := range p.Types {
		all = append(all, declaration(t, typ.Decl))
		values(typ.Consts)
		values(typ.Vars)
		funcs(typ.Funcs)
		funcs(typ.Methods)
	}
	return all
}

func declaration(t *testing.T, decl ast.Node) string {
	t.Helper()
	ast.Inspect(decl, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GenDecl:
			n.Doc = nil
		case *ast.FuncDecl:
			n.Doc, n.Body = nil, nil
		case *ast.Field:
			n.Doc, n.Comment = nil, nil
		case *ast.StructType:
			n.Incomplete = false
		case *ast.InterfaceType:
			n.Incomplete = false
		case *ast.TypeSpec:
			n.Doc, n.Comment = nil, nil
		case *ast.ValueSpec:
			n.Doc, n.Comment = nil, nil
			if decl.(*ast.GenDecl).Tok == token.VAR {
				n.Values = nil
			}
		}
		return true
	})
	var b bytes.Buffer
	if err := printer.Fprint(&b, token.NewFileSet(), decl); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
