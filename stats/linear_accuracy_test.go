package stats

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// linearSets are fitted as a user would: a line, a line through the origin, a
// polynomial of the degree given, or several predictors.
var linearSets = []struct {
	name   string
	degree int
	origin bool
}{
	{"Norris", 1, false},
	{"Pontius", 2, false},
	{"NoInt1", 1, true},
	{"NoInt2", 1, true},
	{"Filip", 10, false},
	{"Longley", 0, false},
	{"Wampler1", 5, false},
	{"Wampler2", 5, false},
	{"Wampler3", 5, false},
	{"Wampler4", 5, false},
	{"Wampler5", 5, false},
}

// linearFigures are coefficients, standard errors, residual sd, R² and F.
type linearFigures struct {
	values, errors []float64
	sd, r2, f      float64
}

// TestLinearAccuracy prints the digits of the certified regressions that are
// reached, the fewest over the coefficients and over their standard errors.
// Certified values and ceilings: NIST StRD, testdata/strd/certified.json.
func TestLinearAccuracy(t *testing.T) {
	var table strings.Builder
	fmt.Fprintf(&table, "digits of coefficients / standard errors / residual sd / R² / F\n%-9s %26s %26s %26s\n", "set", "ceiling", "ours", "gonum mat.QR")
	sets := readCertified(t, "linear")
	for _, s := range linearSets {
		set := sets[s.name]
		rows := strdRows(t, "linear", s.name)
		ys := column(t, rows, 0)
		var xs [][]float64
		for j := range rows[0][1:] {
			xs = append(xs, column(t, rows, j+1))
		}
		ceiling := []float64{set.Ceiling["minB"], set.Ceiling["minSE"], set.Ceiling["rsd"], set.Ceiling["r2"], set.Ceiling["F"]}
		ours := linearDigits(t, set, linearOurs(t, xs, ys, s.degree, s.origin))
		gonum := linearDigits(t, set, linearGonum(t, xs, ys, s.degree, s.origin))
		fmt.Fprintf(&table, "%-9s %26s %26s %26s\n", s.name, slashes(ceiling), slashes(ours), slashes(gonum))
		for i, digits := range ours {
			if digits < ceiling[i]-0.5 {
				t.Errorf("%s, figure %d: %.1f digits, ceiling %.1f", s.name, i, digits, ceiling[i])
			}
		}
	}
	t.Log(table.String())
}

func linearDigits(t *testing.T, set certified, f linearFigures) []float64 {
	t.Helper()
	values, errors := 15.0, 15.0
	first := 0
	if _, ok := set.Exact["B"].(map[string]any)["B0"]; !ok {
		first = 1
	}
	for j := range f.values {
		want := set.Exact["B"].(map[string]any)[fmt.Sprintf("B%d", j+first)].([]any)
		values = min(values, lre(f.values[j], parseBig(t, want[0].(string))))
		errors = min(errors, lre(f.errors[j], parseBig(t, want[1].(string))))
	}
	ratio := 15.0
	if want, ok := set.Exact["F"].(string); ok && !strings.HasPrefix(strings.ToLower(want), "inf") {
		ratio = lre(f.f, parseBig(t, want))
	} else if f.f != math.MaxFloat64 {
		ratio = 0
	}
	return []float64{values, errors, lre(f.sd, set.exact(t, "rsd")), lre(f.r2, set.exact(t, "r2")), ratio}
}

func linearOurs(t *testing.T, xs [][]float64, ys []float64, degree int, origin bool) linearFigures {
	t.Helper()
	if degree == 1 {
		return lineOurs(t, xs[0], ys, origin)
	}
	fit, err := FitLinear(xs, ys)
	if degree > 0 {
		fit, err = FitPolynomial(xs[0], ys, degree)
	}
	if err != nil {
		t.Fatal(err)
	}
	f := linearFigures{sd: fit.ResidualSD, r2: fit.RSquared, f: fit.F}
	for _, c := range fit.Coefficients {
		f.values, f.errors = append(f.values, c.Value), append(f.errors, c.StdErr)
	}
	return f
}

func lineOurs(t *testing.T, xs, ys []float64, origin bool) linearFigures {
	t.Helper()
	if origin {
		fit, err := FitLineThroughOrigin(xs, ys)
		if err != nil {
			t.Fatal(err)
		}
		return linearFigures{[]float64{fit.Slope.Value}, []float64{fit.Slope.StdErr}, fit.ResidualSD, fit.RSquared, fit.F}
	}
	fit, err := FitLine(xs, ys)
	if err != nil {
		t.Fatal(err)
	}
	return linearFigures{[]float64{fit.Intercept.Value, fit.Slope.Value}, []float64{fit.Intercept.StdErr, fit.Slope.StdErr}, fit.ResidualSD, fit.RSquared, fit.F}
}

// linearGonum solves with mat.QR and forms the rest from its residuals.
func linearGonum(t *testing.T, xs [][]float64, ys []float64, degree int, origin bool) linearFigures {
	t.Helper()
	design := gonumDesign(xs, len(ys), degree, origin)
	n, p := design.Dims()
	var qr mat.QR
	qr.Factorize(design)
	var b, fitted, r, inverse mat.Dense
	if err := qr.SolveTo(&b, false, mat.NewDense(n, 1, ys)); err != nil {
		t.Log(err)
	}
	fitted.Mul(design, &b)
	qr.RTo(&r)
	if err := inverse.Inverse(r.Slice(0, p, 0, p)); err != nil {
		t.Log(err)
	}
	mean := 0.0
	if !origin {
		mean = mat.Sum(mat.NewVecDense(n, ys)) / float64(n)
	}
	var sse, sst float64
	for i, y := range ys {
		sse += (y - fitted.At(i, 0)) * (y - fitted.At(i, 0))
		sst += (y - mean) * (y - mean)
	}
	df := float64(p)
	if !origin {
		df--
	}
	f := linearFigures{sd: math.Sqrt(sse / float64(n-p)), r2: 1 - sse/sst, f: (sst - sse) / df / (sse / float64(n-p))}
	for j := range p {
		f.values = append(f.values, b.At(j, 0))
		f.errors = append(f.errors, f.sd*mat.Norm(inverse.RowView(j), 2))
	}
	return f
}

func gonumDesign(xs [][]float64, n, degree int, origin bool) *mat.Dense {
	var columns [][]float64
	if !origin {
		columns = append(columns, make([]float64, n))
		for i := range columns[0] {
			columns[0][i] = 1
		}
	}
	columns = append(columns, xs...)
	for d := 2; d <= degree; d++ {
		power := make([]float64, n)
		for i, x := range xs[0] {
			power[i] = math.Pow(x, float64(d))
		}
		columns = append(columns, power)
	}
	design := mat.NewDense(n, len(columns), nil)
	for j, c := range columns {
		design.SetCol(j, c)
	}
	return design
}
