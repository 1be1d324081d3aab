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
func EstimateWithin(xs []float64, l Limits) (Within, error) {
	const fn = "lot.EstimateWithin"
	limits := l.pair()
	if limits.err != nil {
		return Within{}, stats.Refuse(fn, "l", "", limits.err)
	}
	if len(xs) < 3 {
		return Within{}, tooFew(fn, "xs", len(xs))
	}
	d, err := stats.Summarize(xs)
	if err != nil {
		return Within{}, stats.Renamed(err, fn, "")
	}
	if limits.otherScale(d.Mean) {
		return Within{}, stats.Refuse(fn, "l", l.String(), fmt.Errorf("%w (mean %.6g)", ErrScale, d.Mean))
	}
	if d.StdDev == 0 {
		return limits.withinConstant(d), nil
	}
	k := kernelOf(d.N)
	w := Within{Summary: d}
	var yl, yu float64
	w.QL, w.QU, yl, yu = limits.indices(k, d)
	w.Below, w.Above = 100*k.within(-yl), 100*k.within(-yu)
	if !w.finish() {
		return Within{}, stats.Refuse(fn, "xs", "", stats.ErrOverflow)
	}
	return w, nil
}

// indices returns the quality indices and y = Q√n/(n-1) of each; for a limit that
// there is not, Q is 0 and y is 1, where nothing is beyond. size bounds the largest
// absolute value, which sets the rounding error of an index.
func (p *limitPair) indices(k *kernel, d stats.Summary) (ql, qu, yl, yu float64) {
	size := math.Abs(d.Mean) + d.StdDev*k.max
	yl, yu = 1, 1
	if p.lower != nil {
		ql = (d.Mean - p.lower.float) / d.StdDev
		yl = snap(ql*k.toY, d.StdDev, size)
	}
	if p.upper != nil {
		qu = (p.upper.float - d.Mean) / d.StdDev
		yu = snap(qu*k.toY, d.StdDev, size)
	}
	return ql, qu, yl, yu
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

// finish takes both tails off and reports whether the quality indices are
// numbers; a spread so small that its square is 0 leaves none.
func (w *Within) finish() bool {
	if w.PWL = 100 - w.Below - w.Above; w.PWL < 0 {
		w.PWL = 0
	}
	return isFinite(w.QL + w.QU)
}

// withinConstant returns the estimate where all values are the mean.
func (p *limitPair) withinConstant(d stats.Summary) Within {
	w := Within{Summary: d, PWL: 100}
	x := d.Mean
	if p.lower != nil && x < p.lower.float {
		w.PWL, w.Below = 0, 100
	}
	if p.upper != nil && x > p.upper.float {
		w.PWL, w.Above = 0, 100
	}
	w.Warnings = zeroSpread(d.N, p.lower != nil && x == p.lower.float || p.upper != nil && x == p.upper.float)
	return w
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
		return 0, stats.Refuse(fn, "q", fmt.Sprint(q), stats.ErrNotFinite)
	}
	k := kernelOf(n)
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
		return 0, stats.Refuse(fn, "pwl", fmt.Sprint(pwl), needs(ErrOutOfDomain, "0 to 100"))
	}
	k := kernelOf(n)
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
		ks[n] = newKernel(n)
	}
	return ks
}()

// kernelOf returns the kernel for n of at least 3, whose shape is always one.
func kernelOf(n int) *kernel {
	if n < len(usualKernels) {
		return &usualKernels[n]
	}
	made := newKernel(n)
	return &made
}

func newKernel(n int) kernel {
	b, _ := stats.NewSymmetricBeta(float64(n)/2 - 1)
	root := math.Sqrt(float64(n))
	return kernel{b, float64(n-1) / root, root / float64(n-1)}
}

// within takes y = q/max; it cannot fail for a y that is a number.
func (k *kernel) within(y float64) float64 {
	p, _ := k.beta.CDF(y)
	return p
}

func tooFew(fn, arg string, have int) error {
	return stats.Refuse(fn, arg, "", fmt.Errorf("%w (have %d, need 3)", stats.ErrTooFew, have))
}
