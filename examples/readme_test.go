// Package examples_test holds the README to its word: its Go snippets compile. The
// programs beside it are what a user would write.
package examples_test

import (
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"regexp"
	"strings"
	"testing"
)

// known are the imports that a snippet may use, and the values that it may take
// from the text around it.
var known = []struct{ name, path, declared string }{
	{"context", "context", "var _ context.Context"},
	{"fmt", "fmt", "var _ = fmt.Sprint"},
	{"units", "github.com/densilot/densilot/units", "var _ units.Density"},
	{"stats", "github.com/densilot/densilot/stats", "var _ stats.Summary"},
	{"density", "github.com/densilot/densilot/density", "var _ density.Scope"},
	{"bias", "github.com/densilot/densilot/bias", "var (\n\tlocations []bias.Location\n\tcores []bias.Core\n)"},
	{"lot", "github.com/densilot/densilot/lot", "var (\n\tplan lot.Plan\n\tsublots lot.Lot\n)"},
}

func TestReadmeSnippetsCompile(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile("(?s)```go\n(.*?)```").FindAllStringSubmatch(string(readme), -1)
	if len(blocks) < 5 {
		t.Fatalf("%d Go snippets, want one for each package", len(blocks))
	}
	fset := token.NewFileSet()
	conf := types.Config{Importer: importer.ForCompiler(fset, "source", nil)}
	for i, block := range blocks {
		var head, declared strings.Builder
		for _, k := range known {
			fmt.Fprintf(&head, "import %q\n", k.path)
			fmt.Fprintln(&declared, k.declared)
		}
		src := "package p\n" + head.String() + declared.String() + "func _() {\n" + block[1] + "}\n"
		f, err := parser.ParseFile(fset, fmt.Sprintf("snippet%d.go", i+1), src, 0)
		if err == nil {
			_, err = conf.Check("p", fset, []*ast.File{f}, nil)
		}
		if err != nil {
			t.Errorf("snippet %d: %v\n%s", i+1, err, block[1])
		}
	}
}
