package stats_test

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"github.com/densilot/densilot/stats"
)

var rosner = []float64{-0.25, 0.68, 0.94, 1.15, 1.2, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65, 1.69, 1.7,
	1.76, 1.77, 1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.1, 2.14, 2.15, 2.23, 2.24, 2.26, 2.35, 2.37, 2.4, 2.47, 2.54, 2.62,
	2.64, 2.9, 2.92, 2.92, 2.93, 3.21, 3.26, 3.3, 3.59, 3.68, 4.3, 4.64, 5.34, 5.42, 6.01}

// Data of Rosner (1983); the figures printed of each step are in testdata/statistics.csv.
func TestGeneralizedESD(t *testing.T) {
	r, err := stats.GeneralizedESD(rosner, 10, stats.TwoSide, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range r.Steps {
		if rosner[s.Index] != s.Suspect {
			t.Errorf("step %d: %+v", i+1, s)
		}
	}
	var taken []float64
	for _, s := range r.Steps[:r.Outliers] {
		taken = append(taken, s.Suspect)
	}
	if diff := cmp.Diff([]float64{6.01, 5.42, 5.34}, taken); diff != "" || len(r.Steps) != 10 {
		t.Errorf("%d steps, outliers (-want +got)\n%s", len(r.Steps), diff)
	}
	if !has(r.Warnings, stats.WarnMasking) || has(r.Warnings, stats.WarnSmallN) {
		t.Errorf("warnings %v", codes(r.Warnings))
	}
}

func TestGeneralizedESDSides(t *testing.T) {
	low, err := stats.GeneralizedESD(rosner, 2, stats.Low, 0.05)
	if err != nil || low.Outliers != 0 || low.Steps[0].Suspect != -0.25 || low.Steps[1].Suspect != 0.68 {
		t.Errorf("low: %+v, %v", low, err)
	}
	want, err := stats.GrubbsCritical(len(rosner), stats.Low, 0.05)
	if err != nil || low.Steps[0].Critical != want {
		t.Errorf("critical %v, want that of a single test %v, %v", low.Steps[0].Critical, want, err)
	}
	hidden, err := stats.GeneralizedESD([]float64{93.1, 93.4, 93.2, 93.3, 88.0, 88.2}, 2, stats.TwoSide, 0.05)
	if err != nil || hidden.Outliers != 2 || !has(hidden.Warnings, stats.WarnMasking) || !has(hidden.Warnings, stats.WarnSmallN) {
		t.Errorf("two that hide each other: %+v, %v", hidden, err)
	}
	tied, err := stats.GeneralizedESD([]float64{93.1, 93.4, 93.2, 93.3, 93.25, 93.35, 88, 88}, 1, stats.Low, 0.5)
	if err != nil || tied.Outliers != 1 || !has(tied.Warnings, stats.WarnTies) {
		t.Errorf("ties cut apart: %+v, %v", tied, err)
	}
	same, err := stats.GeneralizedESD([]float64{93, 93, 93, 93}, 2, stats.TwoSide, 0.05)
	if err != nil || same.Outliers != 0 || !has(same.Warnings, stats.WarnConstant) {
		t.Errorf("no spread: %+v, %v", same, err)
	}
}

func TestGeneralizedESDRefuses(t *testing.T) {
	xs := []float64{1, 2, 3, 4}
	for _, tt := range []struct {
		name  string
		xs    []float64
		most  int
		side  stats.Side
		alpha float64
		want  error
	}{
		{"two values", xs[:2], 1, stats.Low, 0.05, stats.ErrTooFew},
		{"no maximum", xs, 0, stats.Low, 0.05, stats.ErrParameter},
		{"all but one", xs, 3, stats.Low, 0.05, stats.ErrParameter},
		{"no side", xs, 1, 0, 0.05, stats.ErrParameter},
		{"no alpha", xs, 1, stats.Low, 0, stats.ErrLevel},
		{"a NaN", []float64{1, math.NaN(), 3}, 1, stats.Low, 0.05, stats.ErrNotFinite},
	} {
		if _, err := stats.GeneralizedESD(tt.xs, tt.most, tt.side, tt.alpha); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// R 4.2.2, p.adjust(c(.01, .04, .03, .005, 1e-300, .9), "holm").
func TestHolm(t *testing.T) {
	ps := []float64{0.01, 0.04, 0.03, 0.005, 1e-300, 0.9}
	got, err := stats.Holm(ps)
	want := []float64{0.04, 0.09, 0.09, 0.025, 6e-300, 0.9}
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(1e-14, 0)); err != nil || diff != "" {
		t.Errorf("%v (-want +got)\n%s", err, diff)
	}
	for _, tt := range []struct {
		ps   []float64
		want error
	}{{nil, stats.ErrTooFew}, {[]float64{0.5, math.NaN()}, stats.ErrNotFinite}, {[]float64{1.1}, stats.ErrParameter}, {[]float64{-0.1}, stats.ErrParameter}} {
		if _, err := stats.Holm(tt.ps); !errors.Is(err, tt.want) {
			t.Errorf("%v: %v, want %v", tt.ps, err, tt.want)
		}
	}
}
