package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// By hand: points in standard deviations from the centre, and at which points each rule
// completes its pattern.
func TestRunSignals(t *testing.T) {
	western, nelson := WesternElectricRules(), NelsonRules()
	for _, tt := range []struct {
		name   string
		xs     []float64
		rule   RunRule
		points [][]int
	}{
		{"one out, on the line is not", []float64{0, 3, 3.01, -3.01}, western[0], [][]int{{2}, {3}}},
		{"two of three", []float64{2.1, 0, 2.1, 0, 0, 2.1}, western[1], [][]int{{0, 2}}},
		{"two of three, already at the second", []float64{-2.1, -2.1, 0}, western[1], [][]int{{0, 1}}},
		{"all three", []float64{2.5, 2.5, 2.5}, western[1], [][]int{{0, 1}, {0, 1, 2}}},
		{"not on two sides", []float64{2.5, -2.5, 1}, western[1], nil},
		{"the newest must show it", []float64{2.5, 1, 0.5, 2.5}, western[1], nil},
		{"four of five", []float64{1.1, 1.1, 0, 1.1, 1.1, 0}, western[2], [][]int{{0, 1, 3, 4}}},
		{"eight on one side", []float64{-.1, -.1, -.1, -.1, -.1, -.1, -.1, -.1, -.1, 0}, western[3], [][]int{{0, 1, 2, 3, 4, 5, 6, 7}, {1, 2, 3, 4, 5, 6, 7, 8}}},
		{"the centre is no side", []float64{.1, .1, .1, 0, .1, .1, .1, .1}, western[3], nil},
		{"six up", []float64{1, .1, .2, .3, .4, .5, .6, .6}, nelson[2], [][]int{{1, 2, 3, 4, 5, 6}}},
		{"six down", []float64{.6, .5, .4, .3, .2, .1}, nelson[2], [][]int{{0, 1, 2, 3, 4, 5}}},
		{"level is no trend", []float64{.1, .2, .2, .3, .4, .5}, nelson[2], nil},
		{"fourteen in turn", []float64{1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0}, nelson[3], [][]int{{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13}}},
		{"thirteen in turn", []float64{0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 0}, nelson[3], nil},
		{"fifteen within", []float64{.9, -.9, .9, -.9, .9, -.9, .9, -.9, .9, -.9, .9, -.9, .9, -.9, .9}, nelson[6], [][]int{{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14}}},
		{"on the line is not within", []float64{.9, -.9, .9, -.9, .9, -.9, .9, 1, .9, -.9, .9, -.9, .9, -.9, .9}, nelson[6], nil},
		{"on the line is not beyond", []float64{1.1, -1.1, 1.1, 1, -1.1, 1.1, 1.1, -1.1}, nelson[7], nil},
		{"eight beyond", []float64{1.1, -1.1, 1.1, 1.1, -1.1, 1.1, 1.1, -1.1}, nelson[7], [][]int{{0, 1, 2, 3, 4, 5, 6, 7}}},
	} {
		scaled := make([]float64, len(tt.xs))
		for i, x := range tt.xs {
			scaled[i] = 94 + 0.5*x // dyadic, so that points on a line stay there
		}
		signals, err := RunSignals(scaled, 94, 0.5, []RunRule{tt.rule})
		if err != nil || len(signals) != len(tt.points) {
			t.Errorf("%s: %v, %v", tt.name, signals, err)
			continue
		}
		for i, s := range signals {
			if !slices.Equal(s.Points, tt.points[i]) || s.Rule != tt.rule {
				t.Errorf("%s: %+v, want %v", tt.name, s, tt.points[i])
			}
		}
	}
}

// Signals come in the order of the points, then of the rules, and turning the chart over
// changes none.
func TestRunSignalsOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(85, 86))
	for range 200 {
		xs, other := make([]float64, 60), make([]float64, 60)
		for i := range xs {
			xs[i] = math.Round(4*rng.NormFloat64()) / 2
			other[i] = -xs[i]
		}
		signals := must[[]RunSignal](t)(RunSignals(xs, 0, 1, NelsonRules()))
		turned := must[[]RunSignal](t)(RunSignals(other, 0, 1, NelsonRules()))
		if !slices.EqualFunc(signals, turned, func(a, b RunSignal) bool { return a.Rule == b.Rule && slices.Equal(a.Points, b.Points) }) {
			t.Fatalf("turned over: %v and %v", signals, turned)
		}
		if !slices.IsSortedFunc(signals, func(a, b RunSignal) int { return a.Points[len(a.Points)-1] - b.Points[len(b.Points)-1] }) {
			t.Fatalf("order: %v", signals)
		}
	}
}

func TestRunSignalsRefuse(t *testing.T) {
	xs, rules := []float64{1, 2}, WesternElectricRules()
	bad := func(r RunRule) []RunRule { return append(WesternElectricRules(), r) }
	for _, tt := range []struct {
		name          string
		xs            []float64
		centre, sigma float64
		rules         []RunRule
		want          error
		text          string
	}{
		{"no points", nil, 0, 1, rules, ErrTooFew, "xs"}, {"no rules", xs, 0, 1, nil, ErrTooFew, "rules"}, {"NaN", []float64{1, math.NaN()}, 0, 1, rules, ErrNotFinite, "xs[1]"},
		{"centre", xs, math.NaN(), 1, rules, ErrNotFinite, "centre"}, {"sigma", xs, 0, 0, rules, ErrParameter, "sigma"},
		{"no pattern", xs, 0, 1, bad(RunRule{Points: 1, Of: 1}), ErrParameter, "rules[4]"},
		{"three of two", xs, 0, 1, bad(RunRule{Name: "x", Pattern: BeyondOneSide, Points: 3, Of: 2}), ErrParameter, `rules[4] "x"`},
		{"no points of a rule", xs, 0, 1, bad(RunRule{Pattern: BeyondOneSide, Of: 2}), ErrParameter, "0 points of 2"},
		{"trend with a distance", xs, 0, 1, bad(RunRule{Pattern: SteadyTrend, Points: 6, Of: 6, Sigmas: 1}), ErrParameter, "trend"},
		{"trend of some of", xs, 0, 1, bad(RunRule{Pattern: SteadyTrend, Points: 5, Of: 6}), ErrParameter, "trend"},
		{"distance", xs, 0, 1, bad(RunRule{Pattern: WithinSigmas, Points: 5, Of: 6, Sigmas: -1}), ErrParameter, "distance"},
	} {
		s, err := RunSignals(tt.xs, tt.centre, tt.sigma, tt.rules)
		if !errors.Is(err, tt.want) || !strings.Contains(err.Error(), tt.text) || s != nil {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// Hundredths give the signals of whole numbers, which are exact: points on a line are on it.
// So do averages whose limits are decimals, as they are where the newest value is all.
func TestChartsOfHundredthsAreThoseOfWholeNumbers(t *testing.T) {
	r := rand.New(rand.NewPCG(81, 82))
	rules := append(WesternElectricRules(), NelsonRules()...)
	for range 2000 {
		centre, sigma := float64(9000+r.IntN(900)), float64(5*(1+r.IntN(9)))
		xs, hundredths := make([]float64, 20), make([]float64, 20)
		for i := range xs {
			xs[i] = centre + sigma*float64(r.IntN(9)-4)
			hundredths[i] = xs[i] / 100
		}
		want, err1 := RunSignals(xs, centre, sigma, rules)
		got, err2 := RunSignals(hundredths, centre/100, sigma/100, rules)
		if diff := cmp.Diff(want, got); err1 != nil || err2 != nil || diff != "" {
			t.Fatalf("%v, centre %v, sigma %v: %v, %v (-want +got)\n%s", hundredths, centre/100, sigma/100, err1, err2, diff)
		}
		whole, err1 := EWMA(xs, EWMAOptions{Target: centre, Sigma: sigma, Weight: 1, Multiple: 2})
		parts, err2 := EWMA(hundredths, EWMAOptions{Target: centre / 100, Sigma: sigma / 100, Weight: 1, Multiple: 2})
		if err1 != nil || err2 != nil || !slices.Equal(whole.Signals, parts.Signals) {
			t.Fatalf("%v, target %v, sigma %v: signals %v, want %v; %v, %v", hundredths, centre/100, sigma/100, parts.Signals, whole.Signals, err1, err2)
		}
	}
}
