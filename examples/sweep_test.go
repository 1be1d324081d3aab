package examples_test

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"reflect"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// endless are functions that run as long as they are told to, so that a sweep over
// sizes cannot call them; their own tests refuse them bad values.
var endless = map[string]bool{"lot.Simulate": true, "lot.SimulatePlans": true}

// slow are functions that integrate for a tenth of a second, with how often they are
// called.
var slow = map[string]int{"lot.WithinMeasured": 60, "lot.Plan.TrueWithin": 60, "lot.WithinInterval": 100}

// callsEach is how often the sweep calls each function, each time with other values
// of the types of its parameters.
const callsEach = 500

// The sweep calls every exported function and method of the module with values that
// nobody should give it among those that somebody would. No call may panic, change
// or reorder a slice of the caller, or return NaN or an infinity without an error.
// What it must cover is read from the source, so that a function, or a type with
// methods, that has no row fails it.
func TestSweep(t *testing.T) {
	rows := sweepRows(t)
	for _, name := range packages {
		for _, want := range exportedNames(t, name) {
			if _, ok := rows[want]; !ok && !endless[want] {
				t.Errorf("%s has no row: add it, or a value of its type, to the sweep file of its package", want)
			}
		}
	}
	values := newGenerator()
	for name, f := range rows {
		t.Run(name, func(t *testing.T) {
			values.rng = rand.New(rand.NewPCG(41, uint64(len(name))))
			anyAccepted, calls := false, callsEach
			if n, ok := slow[name]; ok {
				calls = n
			}
			for range calls {
				accepted, fault := sweepOnce(name, f, values)
				if fault != "" {
					t.Fatalf("%s%s", name, fault)
				}
				anyAccepted = anyAccepted || accepted
			}
			if !anyAccepted && !makesRefusals(name) {
				t.Errorf("%s refused all values, so that the sweep says little: list better ones", name)
			}
		})
	}
}

// The sweep finds a panic, a write to the caller's slice, and a NaN that nothing tells
// of.
func TestSweepFindsFaults(t *testing.T) {
	for name, f := range map[string]any{
		"panics":  func(xs []float64) float64 { return xs[3] },
		"sorts":   func(xs []float64) int { slices.Sort(xs); return 0 },
		"divides": func(x float64) (float64, error) { return 0 / x, nil },
		"hides":   func(x float64) (struct{ y []float64 }, error) { return struct{ y []float64 }{[]float64{1 / x}}, nil },
		"blows":   func(x int) float64 { return 1 / float64(x) },
	} {
		values, found := newGenerator(), false
		values.rng = rand.New(rand.NewPCG(43, 44))
		for range callsEach {
			_, fault := sweepOnce(name, reflect.ValueOf(f), values)
			found = found || fault != ""
		}
		if !found {
			t.Errorf("a function that %s passed", name)
		}
	}
}

// exportedNames lists the functions and methods of a package as "stats.Sum" and
// "stats.Interval.Contains".
func exportedNames(t *testing.T, name string) (names []string) {
	p := parsePackage(t, name)
	for _, f := range p.Funcs {
		names = append(names, name+"."+f.Name)
	}
	for _, typ := range p.Types {
		for _, f := range typ.Funcs {
			names = append(names, name+"."+f.Name)
		}
		for _, m := range typ.Methods {
			names = append(names, name+"."+typ.Name+"."+m.Name)
		}
	}
	return names
}

// sweepRows names the functions of the list, and every method of the types of its
// values as a function whose first parameter is the receiver.
func sweepRows(t *testing.T) map[string]reflect.Value {
	rows := make(map[string]reflect.Value)
	for _, f := range sweptFunctions {
		full := runtime.FuncForPC(reflect.ValueOf(f).Pointer()).Name()
		rows[full[strings.LastIndex(full, "/")+1:]] = reflect.ValueOf(f)
	}
	for _, v := range sweptValues(t) {
		typ := reflect.TypeOf(v)
		if typ.Kind() == reflect.Slice {
			continue
		}
		if typ.Kind() != reflect.Pointer {
			typ = reflect.PointerTo(typ)
		}
		if !strings.Contains(typ.Elem().PkgPath(), "densilot") {
			continue
		}
		for i := range typ.NumMethod() {
			m := typ.Method(i)
			if byValue, ok := typ.Elem().MethodByName(m.Name); ok {
				m = byValue
			}
			of, _, _ := strings.Cut(typ.Elem().String(), "[") // without the type that a generic one is of
			rows[of+"."+m.Name] = m.Func
		}
	}
	return rows
}

// sweepOnce makes one call and looks at what it left and returned. It reports whether
// the values were accepted, and what was wrong, led by the arguments.
func sweepOnce(name string, f reflect.Value, values *generator) (accepted bool, fault string) {
	typ := f.Type()
	if strings.HasSuffix(name, ".Format") { // its parameters come from fmt
		return true, sweepFormat(values.of(typ.In(0)).Interface())
	}
	args := make([]reflect.Value, typ.NumIn())
	for i := range args {
		args[i] = values.of(typ.In(i))
	}
	values.align(args)
	kept := args
	if writesByDesign(name) {
		kept = args[1:] // the receiver, or the slice for the results
	}
	before := describeArguments(args)
	keptBefore := describeArguments(kept)
	results, panicked := call(f, args)
	if panicked != nil {
		return false, fmt.Sprintf("(%s) panics: %v", before, panicked)
	}
	if after := describeArguments(kept); after != keptBefore {
		return false, fmt.Sprintf("(%s) leaves %s", keptBefore, after)
	}
	err, tells := failure(results)
	if err != nil {
		return false, unclear(name, before, err)
	}
	if !tells && !ordinary(args) {
		return true, ""
	}
	for _, r := range results {
		if !finite(r) {
			return true, fmt.Sprintf("(%s) returns %v without an error", before, r)
		}
	}
	return true, ""
}

// sweepFormat prints v with good verbs and bad ones; fmt recovers a panic into text.
func sweepFormat(v any) (fault string) {
	if printed := fmt.Sprintf("%v %+.3v %8.2v %q %x %d", v, v, v, v, v, v); strings.Contains(printed, "PANIC") {
		return ": " + printed
	}
	return ""
}

func call(f reflect.Value, args []reflect.Value) (results []reflect.Value, panicked any) {
	defer func() { panicked = recover() }()
	if f.Type().IsVariadic() {
		return f.CallSlice(args), nil
	}
	return f.Call(args), nil
}

// describeArguments prints what a call could write to.
func describeArguments(args []reflect.Value) string {
	var parts []string
	for _, a := range args {
		switch {
		case a.Kind() == reflect.Func:
			parts = append(parts, "a function")
		case a.Kind() == reflect.Pointer && !a.IsNil() && a.Type() != reflect.TypeFor[*big.Rat]():
			parts = append(parts, fmt.Sprintf("&%+v", a.Elem()))
		default:
			parts = append(parts, fmt.Sprintf("%+v", a))
		}
	}
	return strings.Join(parts, ", ")
}

// writesByDesign says which functions exist to write to their first argument.
func writesByDesign(name string) bool {
	for _, end := range []string{"Into", ".EstimateLots", ".AcceptanceCurve", ".PayCurve", ".Scan", ".UnmarshalText", ".UnmarshalJSON"} {
		if strings.HasSuffix(name, end) {
			return true
		}
	}
	return strings.HasPrefix(name, "stats.Accumulator.")
}

// failure returns the error among the results, and whether the function can tell of
// one at all.
func failure(results []reflect.Value) (err error, tells bool) {
	for _, r := range results {
		if r.Type() == reflect.TypeFor[error]() {
			err, _ := r.Interface().(error)
			return err, true
		}
	}
	return nil, false
}

// bare are reasons that need more words: what would have been taken.
var bare = []error{stats.ErrParameter, stats.ErrTooFew, lot.ErrOutOfDomain, units.ErrRange,
	density.ErrScope, density.ErrKind, density.ErrModel, density.ErrImpossibleMass}

// inner is a second function in the text of an error, which the caller did not call.
var inner = regexp.MustCompile(`: (units|stats|density|bias|lot)\.[A-Z][\w.]*: `)

// unclear finds fault with an error that names another function than the caller's, or
// gives a bare reason.
func unclear(name, before string, err error) (fault string) {
	if makesRefusals(name) {
		return ""
	}
	var input *stats.InputError
	if errors.As(err, &input) && input.Func != name {
		return fmt.Sprintf("(%s) is refused in the name of %s", before, input.Func)
	}
	var text *units.ParseError
	if errors.As(err, &text) && text.Func != name {
		return fmt.Sprintf("(%s) is refused in the name of %s", before, text.Func)
	}
	if also := inner.FindString(err.Error()); also != "" && also != ": units.Rounding: " { // a type
		return fmt.Sprintf("(%s): %v, which also names%s", before, err, also[1:])
	}
	for _, reason := range bare {
		if strings.HasSuffix(err.Error(), ": "+reason.Error()) {
			return fmt.Sprintf("(%s): %v, without the way out", before, err)
		}
	}
	return ""
}

// makesRefusals says which functions return errors that are their answer.
func makesRefusals(name string) bool { return name == "stats.Refuse" || name == "stats.Renamed" }

// ordinary reports whether all numbers of the arguments are of a size that field
// data have: a function that cannot tell of an error may answer others with an
// infinity.
func ordinary(args []reflect.Value) bool {
	for _, a := range args {
		if !everyFloat(a, func(x float64) bool { return math.Abs(x) < 1e100 && (x == 0 || math.Abs(x) > 1e-100) }) {
			return false
		}
	}
	return true
}

func finite(v reflect.Value) bool {
	return everyFloat(v, func(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) })
}

// endlessFreedom reports whether a field says that a standard error is known for
// certain, which is written as infinite degrees of freedom.
func endlessFreedom(v reflect.Value, i int) bool {
	return v.Type().Field(i).Name == "DF" && v.Field(i).Kind() == reflect.Float64 && math.IsInf(v.Field(i).Float(), 1)
}

// everyFloat reports whether all float64 values reachable from v are right.
func everyFloat(v reflect.Value, right func(x float64) bool) bool {
	switch v.Kind() {
	case reflect.Float64, reflect.Float32:
		return right(v.Float())
	case reflect.Pointer, reflect.Interface:
		return v.IsNil() || everyFloat(v.Elem(), right)
	case reflect.Struct:
		for i := range v.NumField() {
			if endlessFreedom(v, i) {
				continue
			}
			if !everyFloat(v.Field(i), right) {
				return false
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if !everyFloat(v.Index(i), right) {
				return false
			}
		}
	}
	return true
}
