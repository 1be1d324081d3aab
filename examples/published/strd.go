package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/densilot/densilot/stats"
)

// certifiedSet is what testdata/strd/certified.json says of one data set: the
// figures as certified, the same in rational arithmetic, and how many digits the
// data keep when they are read into float64.
type certifiedSet struct {
	Certified, Exact map[string]any
	Ceiling          map[string]float64 `json:"float64_ceiling_lre"`
}

// readCertified makes a record of each figure, in the order of the names.
func readCertified(files fs.FS) ([]record, error) {
	raw, err := fs.ReadFile(files, "strd/certified.json")
	if err != nil {
		return nil, err
	}
	var kinds map[string]map[string]certifiedSet
	if err := json.Unmarshal(raw, &kinds); err != nil {
		return nil, fmt.Errorf("certified.json: %w", err)
	}
	var all []record
	for _, kind := range []string{"univariate", "anova", "linear"} {
		for _, name := range sortedKeys(kinds[kind]) {
			all = append(all, kinds[kind][name].records(kind, name)...)
		}
	}
	return all, nil
}

func sortedKeys[T any](m map[string]T) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

func (s certifiedSet) records(kind, name string) []record {
	var all []record
	add := func(figure string, printed, exact any, ceiling float64) {
		p, ok := printed.(string)
		e, ok2 := exact.(string)
		if !ok || !ok2 || strings.HasPrefix(figure, "df") || strings.HasPrefix(p, "Inf") {
			return // counts, and the F of a perfect fit
		}
		all = append(all, record{id: name, check: "certified figure", input: fmt.Sprintf("kind=%s;set=%s;figure=%s", kind, name, figure),
			printed: p, exact: e, status: "seen", source: "NIST Statistical Reference Datasets", edition: "not dated", place: name, digits: ceiling})
	}
	for _, figure := range sortedKeys(s.Certified) {
		coefficients, ok := s.Certified[figure].(map[string]any)
		if !ok {
			add(figure, s.Certified[figure], s.Exact[figure], s.Ceiling[figure])
			continue
		}
		for _, b := range sortedKeys(coefficients) {
			printed, exact := coefficients[b].([]any), s.Exact[figure].(map[string]any)[b].([]any)
			add(b, printed[0], exact[0], s.Ceiling["minB"])
			add("s of "+b, printed[1], exact[1], s.Ceiling["minSE"])
		}
	}
	return all
}

// certifiedFigure reads the data set and computes the figure as a user would.
func certifiedFigure(in *input) (float64, error) {
	rows, err := dataRows(in.files, in.values["kind"], in.values["set"])
	if err != nil {
		return 0, err
	}
	kinds := map[string]func([][]float64, string) (map[string]float64, error){"univariate": univariateFigures, "anova": anovaFigures, "linear": linearFigures}
	return figure(in, func(in *input) (map[string]float64, error) { return kinds[in.values["kind"]](rows, in.values["set"]) })
}

// dataRows returns the numbers of each data line, from line 61 on.
func dataRows(files fs.FS, kind, set string) ([][]float64, error) {
	raw, err := fs.ReadFile(files, "strd/"+kind+"/"+set+".dat")
	if err != nil {
		return nil, err
	}
	var rows [][]float64
	for _, line := range strings.Split(string(raw), "\n")[60:] {
		var row []float64
		for _, field := range strings.Fields(line) {
			x, err := strconv.ParseFloat(field, 64)
			if err != nil {
				return nil, err
			}
			row = append(row, x)
		}
		if row != nil {
			rows = append(rows, row)
		}
	}
	return rows, nil
}

func column(rows [][]float64, at int) []float64 {
	xs := make([]float64, len(rows))
	for i, row := range rows {
		xs[i] = row[at]
	}
	return xs
}

func univariateFigures(rows [][]float64, _ string) (map[string]float64, error) {
	xs := column(rows, 0)
	d, err := stats.Describe(xs)
	r1, err2 := stats.LagOne(xs)
	return map[string]float64{"mean": d.Mean, "sd": d.StdDev, "r1": r1}, errors.Join(err, err2)
}

func anovaFigures(rows [][]float64, _ string) (map[string]float64, error) {
	var groups [][]float64
	for i, row := range rows {
		if i == 0 || row[0] != rows[i-1][0] {
			groups = append(groups, nil)
		}
		groups[len(groups)-1] = append(groups[len(groups)-1], row[1])
	}
	t, err := stats.OneWay(groups)
	return map[string]float64{"ss_b": t.Between.SS, "ms_b": t.Between.MS, "ss_w": t.Within.SS, "ms_w": t.Within.MS,
		"F": t.F, "r2": t.RSquared, "rsd": t.ResidualSD}, err
}

// linearFigures fits a line, a line through the origin, a polynomial or several
// predictors.
func linearFigures(rows [][]float64, set string) (map[string]float64, error) {
	ys := column(rows, 0)
	var xs [][]float64
	for j := range rows[0][1:] {
		xs = append(xs, column(rows, j+1))
	}
	degrees := map[string]int{"Pontius": 2, "Filip": 10, "Wampler1": 5, "Wampler2": 5, "Wampler3": 5, "Wampler4": 5, "Wampler5": 5}
	var fit stats.LinearFit
	var err error
	first := 0
	switch {
	case strings.HasPrefix(set, "NoInt"):
		fit, err = stats.FitLinearThroughOrigin(xs, ys)
		first = 1
	case degrees[set] > 0:
		fit, err = stats.FitPolynomial(xs[0], ys, degrees[set])
	default:
		fit, err = stats.FitLinear(xs, ys)
	}
	values := map[string]float64{"rsd": fit.ResidualSD, "r2": fit.RSquared, "F": fit.F, "ss_reg": fit.Regression.SS, "ms_reg": fit.Regression.MS,
		"ss_res": fit.Residual.SS, "ms_res": fit.Residual.MS}
	for j, c := range fit.Coefficients {
		name := fmt.Sprintf("B%d", j+first)
		values[name], values["s of "+name] = c.Value, c.StdErr
	}
	return values, err
}

// digitsAgreed is the log relative error of a value, the number of right digits,
// or the log absolute error where the right value is 0.
func digitsAgreed(value float64, exact string) float64 {
	want, err := strconv.ParseFloat(exact, 64)
	if err != nil {
		return 0
	}
	off := math.Abs(value - want)
	if want != 0 {
		off /= math.Abs(want)
	}
	return max(0, min(15, -math.Log10(off)))
}
