package lot

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
)

// Within is the estimated share of a lot within its limits.
type Within struct {
	stats.Summary
	QL, QU   float64 // quality indices; 0 where there is no such limit or no spread
	Below    float64 // percent of the population below the lower limit
	Above    float64 // percent above the upper limit
	PWL      float64 // percent within limits, 100 - Below - Above
	Warnings []stats.Warning
}

// EstimateWithin estimates the percent of the population that xs comes from
// within the limits,
//
//	PWL = 100 - P(below L) - P(above U),   P = 100·I_x(n/2-1, n/2-1),   x = 1/2 - Q·√n/(2(n-1)) ≥ 0
//
// where Q_L = (x̄-L)/s and Q_U = (U-x̄)/s. xs holds n ≥ 3 finite values in the unit
// of the limits, in any order, and is not changed. The result is 0 to 100.
//
// It assumes independent draws from a normal population. If all values are equal
// the estimate is 100 where that value is within the limits, a limit itself
// included, and 0 where it is not; Warnings then holds [WarnZeroSpread] and, on a
// limit, [WarnAtLimit]. Where Q√n/(n-1) is 1 but for rounding it counts as 1.
//
// Errors are [*stats.InputError] around [stats.ErrTooFew], [stats.ErrNotFinite],
// [ErrNoLimit], [ErrLimitOrder], [ErrDigits] or [ErrScale]; the last where values and limit
// are 80 to 125 fold apart, as a percentage and a fraction are. Cost: O(n), and no
// allocation where there is nothing to warn of.
//
// Source: the standard deviation method of FHWA Technical Advisory T 5080.12
// (1989), with the beta distribution behind its tables.
func EstimateWithin(xs []float64, l Limits) (w Within, err error) {
	const fn = "lot.EstimateWithin"
	limits := l.pair()
	if limits.err != nil {
		return w, refuse(fn, "l", "", limits.err)
	}
	if len(xs) < 3 {
		return w, tooFew(fn, "xs", len(xs))
	}
	d, err := stats.Describe(xs)
	if err != nil {
		return w, inName(fn, err)
	}
	if limits.otherScale(d.Mean) {
		return w, refuse(fn, "l", l.String(), fmt.Errorf("%w (mean %.6g)", ErrScale, d.Mean))
	}
	if d.Min == d.Max {
		w.constant(&d, limits)
		return w, nil
	}
	if err := w.spread(&d, limits); err != nil {
		return Within{}, inName(fn, err)
	}
	return w, nil
}

// spread fills in the estimate where there is a spread. The largest absolute
// value sets the rounding error of a quality index.
func (w *Within) spread(d *stats.Description, l *limitPair) error {
	k, err := kernelOf(d.N)
	if err != nil {
		return err
	}
	w.Summary = d.Summary
	size := max(-d.Min, d.Max)
	if l.lower != nil {
		w.QL, w.Below = k.beyond(d.Mean-l.lower.float, d.StdDev, max(size, math.Abs(l.lower.float)))
	}
	if l.upper != nil {
		w.QU, w.Above = k.beyond(l.upper.float-d.Mean, d.StdDev, max(size, math.Abs(l.upper.float)))
	}
	if !isFinite(w.QL) || !isFinite(w.QU) { // a spread so small that its square is 0
		return refuse("", "xs", "", stats.ErrOverflow)
	}
	if w.PWL = 100 - w.Below - w.Above; w.PWL < 0 {
		w.PWL = 0
	}
	return nil
}

// constant fills in the estimate where all values are equal.
func (w *Within) constant(d *stats.Description, l *limitPair) {
	x := d.Min
	w.Summary, w.PWL = d.Summary, 100
	if l.lower != nil && x < l.lower.float {
		w.PWL, w.Below = 0, 100
	}
	if l.upper != nil && x > l.upper.float {
		w.PWL, w.Above = 0, 100
	}
	at := l.lower != nil && x == l.lower.float || l.upper != nil && x == l.upper.float
	w.Warnings = zeroSpread(w.N, at)
}

func zeroSpread(n int, atLimit bool) []stats.Warning {
	ws := []stats.Warning{{Code: WarnZeroSpread, Text: fmt.Sprintf(
		"all %d results are equal; identical results are suspicious, so look at how they were obtained", n)}}
	if atLimit {
		ws = append(ws, stats.Warning{Code: WarnAtLimit, Text: "all results are equal to the limit, which counts as within"})
	}
	return ws
}

// PercentWithin returns the percent within one limit at quality index q for n ≥ 3
// results. Negative q give less than 50.
//
// Errors are [*stats.InputError] around [stats.ErrTooFew] or
// [stats.ErrNotFinite].
func PercentWithin(q float64, n int) (float64, error) {
	const fn = "lot.PercentWithin"
	if n < 3 {
		return 0, tooFew(fn, "n", n)
	}
	if !isFinite(q) {
		return 0, refuse(fn, "q", fmt.Sprint(q), stats.ErrNotFinite)
	}
	k, err := kernelOf(n)
	if err != nil {
		return 0, err
	}
	return 100 * k.within(q*k.toY), nil
}

// QualityIndex returns the q at which [PercentWithin] is pwl, for pwl from 0 to
// 100 and n ≥ 3: a cell of a PWL table. At 100 it is the smallest such q,
// (n-1)/√n.
//
// Errors are [*stats.InputError] around [stats.ErrTooFew] or [ErrOutOfDomain].
func QualityIndex(pwl float64, n int) (float64, error) {
	const fn = "lot.QualityIndex"
	if n < 3 {
		return 0, tooFew(fn, "n", n)
	}
	if !(pwl >= 0 && pwl <= 100) {
		return 0, refuse(fn, "pwl", fmt.Sprint(pwl), fmt.Errorf("%w; need 0 to 100", ErrOutOfDomain))
	}
	k, err := kernelOf(n)
	if err != nil {
		return 0, err
	}
	u, err := k.beta.Quantile(pwl / 100)
	return u * k.max, err
}

// kernel is the distribution behind the estimate for one n.
type kernel struct {
	beta stats.SymmetricBeta
	max  float64 // (n-1)/√n, the quality index of 100 percent
	toY  float64 // its inverse
}

// usualKernels are those of the sample sizes that occur, made once.
var usualKernels = func() (ks [201]kernel) {
	for n := 3; n < len(ks); n++ {
		ks[n], _ = newKernel(n) // every shape from 1/2 is one
	}
	return ks
}()

func kernelOf(n int) (*kernel, error) {
	if n < len(usualKernels) {
		return &usualKernels[n], nil
	}
	k, err := newKernel(n)
	return &k, err
}

func newKernel(n int) (kernel, error) {
	b, err := stats.NewSymmetricBeta(float64(n)/2 - 1)
	root := math.Sqrt(float64(n))
	return kernel{b, float64(n-1) / root, root / float64(n-1)}, err
}

// within takes y = q/max; it cannot fail for a y that is a number.
func (k *kernel) within(y float64) float64 {
	p, _ := k.beta.CDF(y)
	return p
}

// beyond returns the quality index of a distance from the mean to a limit and the
// percent beyond that limit.
func (k *kernel) beyond(distance, s, size float64) (q, percent float64) {
	q = distance / s
	return q, 100 * k.within(-snap(q*k.toY, s, size))
}

// snap takes y to ±1 where it differs by no more than the rounding error of a
// mean and standard deviation of values of that size. It matters for n = 3, where
// the slope at 1 is infinite.
func snap(y, s, size float64) float64 {
	const ulp = 0x1p-52
	if math.Abs(math.Abs(y)-1)*s <= 8*ulp*size {
		return math.Copysign(1, y)
	}
	return y
}

func tooFew(fn, arg string, have int) error {
	return refuse(fn, arg, "", fmt.Errorf("%w (have %d, need 3)", stats.ErrTooFew, have))
}
