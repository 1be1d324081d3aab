package lot

import (
	"cmp"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// OutlierTest names a test for outliers. The zero value is none and is refused.
type OutlierTest uint8

// The tests.
const (
	GrubbsTest         OutlierTest = iota + 1 // one look at the most extreme result, by stats.Grubbs
	TwoOutliersTest                           // the two most extreme on one side together, by stats.TwoOutliers
	GeneralizedESDTest                        // up to Suspects one after the other, by stats.GeneralizedESD
)

var testNames = names[OutlierTest]{GrubbsTest: "Grubbs", TwoOutliersTest: "two outliers", GeneralizedESDTest: "generalized ESD"}

// String returns the name of the test.
func (t OutlierTest) String() string { return testNames.of(t) }

// Screen is what the outlier test of a plan found. Grubbs' test and the generalized
// ESD test are decided exactly: the deviation is a root of rationals, and its p is
// compared with alpha as [Plan.Evaluate] compares a percent within limits. For two
// outliers the ratio is exact, and p, which is integrated to 1e-6 of itself, is
// compared as it is given here.
type Screen struct {
	Test    OutlierTest
	Side    stats.Side
	Alpha   float64
	N       int          // results screened
	Steps   []ScreenStep // one; for the generalized ESD test one for each suspect
	Flagged []string     // ids of the results that are flagged, nil for none
}

// ScreenStep is one comparison of a screen.
type ScreenStep struct {
	Suspects  []string // ids
	Statistic Number   // |x - mean|/s of the results that are left, or the ratio of two outliers
	Critical  float64  // the statistic at which p is alpha, to five digits
	P         float64  // an upper bound where that of the test in package stats is one; to five digits for two outliers
}

// String returns the screen in words.
func (s Screen) String() string { return s.comparisons() + "; flagged: " + list(s.Flagged) }

// comparisons is what was compared, without what came of it.
func (s Screen) comparisons() string {
	var steps []string
	for _, step := range s.Steps {
		steps = append(steps, fmt.Sprintf("%s %.5g, critical %.5g", strings.Join(step.Suspects, " and "), step.Statistic.Exact, step.Critical))
	}
	return fmt.Sprintf("%v, %v, alpha %g: %s", s.Test, s.Side, s.Alpha, strings.Join(steps, "; "))
}

// screening is a screen at work. Positions are those in the results.
type screening struct {
	policy   *OutlierPolicy
	results  []Result
	values   []*big.Rat
	steps    []ScreenStep
	flagged  []int
	working  []units.Step
	warnings []stats.Warning
}

// screen makes the test of the policy. Each test says in warnings what its form in
// package stats warns of.
func (o *OutlierPolicy) screen(results []Result, values []*big.Rat) (*screening, error) {
	s := &screening{policy: o, results: results, values: values}
	test := map[OutlierTest]func() error{GrubbsTest: s.grubbs, TwoOutliersTest: s.twoOutliers, GeneralizedESDTest: s.generalizedESD}[o.Test]
	if err := test(); err != nil {
		return nil, err
	}
	s.warnings = slices.DeleteFunc(s.warnings, func(w stats.Warning) bool { return w.Code == stats.WarnConstant }) // the lot says so itself
	return s, nil
}

// takes reports whether a test can be made of n results.
func (o *OutlierPolicy) takes(n int) bool {
	return n >= o.MinN && !(o.Test == TwoOutliersTest && n > stats.MostForTwoOutliers)
}

func (s *screening) screen() *Screen {
	o := s.policy
	return &Screen{Test: o.Test, Side: o.Side, Alpha: o.Alpha, N: len(s.results), Steps: s.steps, Flagged: s.ids(s.flagged)}
}

func (s *screening) ids(positions []int) (ids []string) {
	for _, i := range positions {
		ids = append(ids, s.results[i].ID)
	}
	return ids
}

func (s *screening) grubbs() error {
	r, err := stats.Grubbs(floatsOf(s.values), s.policy.Side, s.policy.Alpha)
	if err != nil {
		return err
	}
	s.warnings = r.Warnings
	d := s.policy.furthest(s.values)
	if s.look(d, []int{d.at}, r.Critical) <= 0 {
		s.flagged = []int{d.at}
	}
	return nil
}

// generalizedESD flags all up to the last deviation that is beyond its critical
// value.
func (s *screening) generalizedESD() error {
	o := s.policy
	r, err := stats.GeneralizedESD(floatsOf(s.values), o.Suspects, o.Side, o.Alpha)
	if err != nil {
		return err
	}
	s.warnings = r.Warnings
	left, positions := slices.Clone(s.values), make([]int, len(s.values))
	for i := range positions {
		positions[i] = i
	}
	var taken []int
	for i := range o.Suspects {
		d := o.furthest(left)
		taken = append(taken, positions[d.at])
		if s.look(d, taken[i:], r.Steps[i].Critical) < 0 {
			s.flagged = slices.Clone(taken)
		}
		left, positions = slices.Delete(left, d.at, d.at+1), slices.Delete(positions, d.at, d.at+1)
	}
	return nil
}

// look notes a deviation and returns how its p compares with alpha.
func (s *screening) look(d deviation, suspects []int, critical float64) int {
	p, verdict := d.against(s.policy.Alpha)
	exact := d.size.real()
	step := ScreenStep{s.ids(suspects), number(exact, exact, units.Rounding{Method: units.Absolute}), fiveDigits(critical), p}
	s.note(step, verdict, "|x - mean|/s of "+step.Suspects[0], fmt.Sprintf("|%s - %s|/%s", units.ExactText(s.values[suspects[0]]), units.ExactText(d.mean), textOf(d.stdDev.real())))
	return verdict
}

// verdicts say how p compares with alpha.
var verdicts = map[int]string{-1: "below", 0: "equal to", 1: "above"}

func (s *screening) note(step ScreenStep, verdict int, formula, numbers string) {
	o := s.policy
	s.steps = append(s.steps, step)
	s.working = append(s.working, units.Step{What: fmt.Sprintf("outlier screen, %v, %v", o.Test, o.Side), Formula: formula, Numbers: numbers,
		Value: fmt.Sprintf("%s, critical %.5g, p = %.4g, %s alpha %g", step.Statistic.Used, step.Critical, step.P, verdicts[verdict], o.Alpha)})
}

// twoOutliers takes p to five digits, of which integration is sure.
func (s *screening) twoOutliers() error {
	o := s.policy
	r, err := stats.TwoOutliers(floatsOf(s.values), o.Side, o.Alpha)
	if err != nil {
		return err
	}
	s.warnings = r.Warnings
	pair := r.Indices[:]
	rest := slices.Clone(s.values)
	for _, i := range slices.Backward(slices.Sorted(slices.Values(pair))) {
		rest = slices.Delete(rest, i, i+1)
	}
	inner, all := squaresOf(rest), squaresOf(s.values)
	ratio := big.NewRat(1, 1)
	if all.Sign() > 0 {
		ratio.Quo(inner, all)
	}
	step := ScreenStep{s.ids(pair), number(rational(ratio), rational(ratio), units.Rounding{Method: units.Absolute}), fiveDigits(r.Critical), fiveDigits(r.P)}
	s.note(step, cmp.Compare(step.P, o.Alpha), "Σ(x - mean)² without "+strings.Join(step.Suspects, " and ")+"/Σ(x - mean)² of all", units.ExactText(inner)+"/"+units.ExactText(all))
	if step.P <= o.Alpha {
		s.flagged = pair
	}
	return nil
}

// squaresOf returns Σ(x - mean)².
func squaresOf(values []*big.Rat) *big.Rat {
	_, variance := momentsOf(values)
	return variance.Mul(variance, big.NewRat(int64(len(values)-1), 1))
}

// fiveDigits rounds a number that is known no better, so that it is the same on
// every processor.
func fiveDigits(x float64) float64 {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 5, 64), 64)
	return rounded
}

// deviation is that of the most extreme value.
type deviation struct {
	at, n        int
	mean         *big.Rat
	stdDev, size root  // size is |x - mean|/s, 0 where nothing varies
	comparisons  int64 // how many deviations the test could have picked
}

// furthest returns the deviation of the first of the most extreme values on the side
// looked at; of two on either side that are as far, the upper.
func (o *OutlierPolicy) furthest(values []*big.Rat) deviation {
	mean, variance := momentsOf(values)
	lo, hi := 0, 0
	for i, v := range values {
		if v.Cmp(values[lo]) < 0 {
			lo = i
		}
		if v.Cmp(values[hi]) > 0 {
			hi = i
		}
	}
	n := len(values)
	d := deviation{at: hi, n: n, mean: mean, stdDev: root{variance.Sign(), variance}, comparisons: int64(n)}
	below, above := new(big.Rat).Sub(mean, values[lo]), new(big.Rat).Sub(values[hi], mean)
	if o.Side == stats.TwoSide {
		d.comparisons *= 2
	}
	if o.Side == stats.Low || o.Side == stats.TwoSide && below.Cmp(above) > 0 {
		d.at, above = lo, below
	}
	if d.size = (root{0, new(big.Rat)}); variance.Sign() > 0 {
		d.size = rootOf(above).over(d.stdDev)
	}
	return d
}

// against returns p and how it compares with alpha, exactly.
func (d deviation) against(alpha float64) (p float64, verdict int) {
	most := big.NewRat(d.comparisons, 1)
	beyond := fractionBelow(toY(d.size, d.n).negative(), d.n)
	verdict = beyond.compare(new(big.Rat).Quo(decimal.NewFromFloat(alpha).Rat(), most))
	return min(1, beyond.linear(new(big.Rat), most).float()), verdict
}

// nearly reports whether a two-sided p is at most alpha or so close to it that only
// [deviation.against] can tell. It costs a hundredth of that.
func (d deviation) nearly(alpha float64) bool {
	critical, err := stats.GrubbsCritical(d.n, stats.TwoSide, alpha)
	square, _ := d.size.square.Float64()
	return err != nil || math.Sqrt(square) > critical*(1-1e-9)
}
