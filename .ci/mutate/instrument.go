package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// mutant is one change.
type mutant struct {
	id           int // from 1
	file         string
	line, column int
	change       string
	killed       bool
}

// switches is added to the package: mutant says whether a switch is thrown.
const switches = `package lot

import (
	"math/big"
	"os"
	"strconv"

	"github.com/shopspring/decimal"
)

var thrown, _ = strconv.Atoi(os.Getenv("MUTANT"))

func mutant(id int) bool { return id == thrown }

type (
	mutantRat     = *big.Rat
	mutantInt     = *big.Int
	mutantDecimal = decimal.Decimal
)

func choose[F any](other bool, f, g F) F {
	if other {
		return f
	}
	return g
}

type mutantNumber interface {
	~int | ~int32 | ~int64 | ~uint | ~uint64 | ~float64
}

func mutantAdd[T mutantNumber](id int, x, y T) T {
	if mutant(id) {
		return x - y
	}
	return x + y
}

func mutantSub[T mutantNumber](id int, x, y T) T {
	if mutant(id) {
		return x + y
	}
	return x - y
}

func mutantMul[T mutantNumber](id int, x, y T) T {
	if mutant(id) {
		return x / y
	}
	return x * y
}

func mutantQuo[T mutantNumber](id int, x, y T) T {
	if mutant(id) {
		return x * y
	}
	return x / y
}
`

// instrument writes the files with their switches and an overlay into dir.
func instrument(folder string, names []string, dir string) ([]mutant, error) {
	files := token.NewFileSet()
	packages, err := parsePackage(files, folder)
	if err != nil {
		return nil, err
	}
	info := &types.Info{Types: make(map[ast.Expr]types.TypeAndValue), Selections: make(map[*ast.SelectorExpr]*types.Selection)}
	config := types.Config{Importer: importer.ForCompiler(files, "source", nil)}
	if _, err := config.Check(folder, files, packages, info); err != nil {
		return nil, err
	}
	root, err := filepath.Abs(folder)
	if err != nil {
		return nil, err
	}
	var mutants []mutant
	replace := map[string]string{filepath.Join(root, "switches_mutate.go"): filepath.Join(dir, "switches.go")}
	if err := os.WriteFile(filepath.Join(dir, "switches.go"), []byte(switches), 0o600); err != nil {
		return nil, err
	}
	for _, f := range packages {
		path := files.Position(f.Pos()).Filename
		if !slices.Contains(names, filepath.Base(path)) {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		e := &editor{files: files, info: info, text: string(text), mutants: mutants}
		ast.Inspect(f, e.visit)
		mutants = e.mutants
		out := filepath.Join(dir, filepath.Base(path))
		replace[filepath.Join(root, filepath.Base(path))] = out
		if err := os.WriteFile(out, []byte(e.result()), 0o600); err != nil {
			return nil, err
		}
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return nil, err
	}
	return mutants, os.WriteFile(filepath.Join(dir, "overlay.json"), overlay, 0o600)
}

func parsePackage(files *token.FileSet, folder string) (parsed []*ast.File, err error) {
	paths, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		return nil, err
	}
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(files, path, nil, 0)
		if err != nil {
			return nil, err
		}
		parsed = append(parsed, f)
	}
	return parsed, nil
}

// edit replaces text[from:to]. Of edits at one place those that close come first,
// inner before outer, then those that open, outer before inner.
type edit struct {
	from, to, order int
	text            string
}

// editor collects the edits of a file.
type editor struct {
	files   *token.FileSet
	info    *types.Info
	text    string
	edits   []edit
	mutants []mutant
}

func (e *editor) offset(p token.Pos) int { return e.files.Position(p).Offset }

func (e *editor) source(n ast.Node) string { return e.text[e.offset(n.Pos()):e.offset(n.End())] }

// wrap puts text before and behind a node.
func (e *editor) wrap(n ast.Node, before, behind string) {
	order := len(e.edits) + 1
	e.edits = append(e.edits, edit{e.offset(n.Pos()), e.offset(n.Pos()), order, before}, edit{e.offset(n.End()), e.offset(n.End()), -order, behind})
}

func (e *editor) replace(from, to token.Pos, text string) {
	e.edits = append(e.edits, edit{e.offset(from), e.offset(to), 0, text})
}

// add notes a mutant and returns its number.
func (e *editor) add(p token.Pos, format string, args ...any) int {
	at := e.files.Position(p)
	id := len(e.mutants) + 1
	change := strings.Join(strings.Fields(fmt.Sprintf(format, args...)), " ")
	e.mutants = append(e.mutants, mutant{id: id, file: at.Filename, line: at.Line, column: at.Column, change: change})
	return id
}

func (e *editor) result() string {
	slices.SortStableFunc(e.edits, func(a, b edit) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.order, b.order)) })
	var b strings.Builder
	at := 0
	for _, x := range e.edits {
		b.WriteString(e.text[at:x.from] + x.text)
		at = x.to
	}
	return b.String() + e.text[at:]
}

func (e *editor) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.GenDecl:
		return n.Tok != token.CONST && n.Tok != token.TYPE && n.Tok != token.IMPORT
	case *ast.BlockStmt:
		e.leaveOut(n.List)
	case *ast.CaseClause:
		e.leaveOut(n.Body)
	case *ast.IfStmt:
		e.turnRound(n.Cond)
	case *ast.UnaryExpr:
		if n.Op == token.NOT {
			e.wrap(n, fmt.Sprintf("(mutant(%d) != (", e.add(n.Pos(), "%s without its not", e.source(n))), "))")
		}
	case *ast.BinaryExpr:
		e.binary(n)
	case *ast.CallExpr:
		e.method(n)
	}
	return true
}

// leaveOut puts a switch before statements that can be left out.
func (e *editor) leaveOut(list []ast.Stmt) {
	for _, s := range list {
		switch s := s.(type) {
		case *ast.ExprStmt, *ast.BranchStmt:
		case *ast.AssignStmt:
			if s.Tok == token.DEFINE {
				continue
			}
		default:
			continue
		}
		e.wrap(s, fmt.Sprintf("if !mutant(%d) { ", e.add(s.Pos(), "without %s", e.source(s))), " }")
	}
}

// turnRound negates a condition that is a bare name or call.
func (e *editor) turnRound(cond ast.Expr) {
	switch cond.(type) {
	case *ast.Ident, *ast.CallExpr, *ast.SelectorExpr:
		e.wrap(cond, fmt.Sprintf("(mutant(%d) != (", e.add(cond.Pos(), "not %s", e.source(cond))), "))")
	}
}

var (
	strict  = map[token.Token]string{token.LSS: "<=", token.GTR: ">="}
	loose   = map[token.Token]string{token.LEQ: "<", token.GEQ: ">"}
	numbers = map[token.Token][2]string{token.ADD: {"Add", "-"}, token.SUB: {"Sub", "+"}, token.MUL: {"Mul", "/"}, token.QUO: {"Quo", "*"}}
	logic   = map[token.Token]string{token.LAND: "||", token.LOR: "&&"}
)

func (e *editor) binary(n *ast.BinaryExpr) {
	if e.info.Types[n].Value != nil {
		return
	}
	x, y := e.source(n.X), e.source(n.Y)
	switch {
	case n.Op == token.EQL || n.Op == token.NEQ:
		e.wrap(n, fmt.Sprintf("(mutant(%d) != (", e.add(n.OpPos, "not %s", e.source(n))), "))")
	case strict[n.Op] != "":
		negated, moved := e.add(n.OpPos, "not %s", e.source(n)), e.add(n.OpPos, "%s %s %s", x, strict[n.Op], y)
		e.wrap(n, fmt.Sprintf("(mutant(%d) != (", negated), fmt.Sprintf(" || mutant(%d) && %s == %s))", moved, x, y))
	case loose[n.Op] != "":
		negated, moved := e.add(n.OpPos, "not %s", e.source(n)), e.add(n.OpPos, "%s %s %s", x, loose[n.Op], y)
		e.wrap(n, fmt.Sprintf("(mutant(%d) != (", negated), fmt.Sprintf(" && !(mutant(%d) && %s == %s)))", moved, x, y))
	case logic[n.Op] != "":
		id := e.add(n.OpPos, "%s %s %s", x, logic[n.Op], y)
		e.wrap(n, fmt.Sprintf("(mutant(%d) && ((%s) %s (%s)) || !mutant(%d) && (", id, x, logic[n.Op], y, id), "))")
	case numbers[n.Op][0] != "" && isNumber(e.info.TypeOf(n)):
		id := e.add(n.OpPos, "%s %s %s", x, numbers[n.Op][1], y)
		e.wrap(n, fmt.Sprintf("mutant%s(%d, ", numbers[n.Op][0], id), ")")
		e.replace(n.OpPos, n.OpPos+1, ",")
	}
}

func isNumber(t types.Type) bool {
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&types.IsNumeric != 0
}

var (
	swapped   = map[string]string{"Add": "Sub", "Sub": "Add", "Mul": "Quo", "Quo": "Mul"}
	receivers = map[string]string{"*math/big.Rat": "mutantRat", "*math/big.Int": "mutantInt", "github.com/shopspring/decimal.Decimal": "mutantDecimal"}
)

// method swaps sums and differences, products and quotients of exact numbers.
func (e *editor) method(n *ast.CallExpr) {
	s, ok := n.Fun.(*ast.SelectorExpr)
	if !ok || e.info.Selections[s] == nil || swapped[s.Sel.Name] == "" {
		return
	}
	receiver := receivers[e.info.TypeOf(s.X).String()]
	other := swapped[s.Sel.Name]
	if receiver == "" || receiver == "mutantDecimal" && s.Sel.Name == "Mul" {
		return
	}
	id := e.add(s.Sel.Pos(), "%s for %s in %s", other, s.Sel.Name, e.source(n))
	before := fmt.Sprintf("choose(mutant(%d), (%s).%s, (%s).%s)(", id, receiver, other, receiver, s.Sel.Name)
	e.wrap(s.X, before, "")
	e.replace(s.X.End(), n.Lparen+1, ", ")
}
