package stats

import "math"

// EWMAOptions sets how [EWMA] works. None has a default. Weight 0.2 and Multiple 2.962, or
// 0.1 and 2.814, are usual: values in control give a false signal every 494 and 486 on
// average, a lasting shift of one standard deviation shows after 9.6 and 8.2 (by
// integration; limits that do not vary would make it 500, and 10.5 and 10.3).
type EWMAOptions struct {
	Target   float64 // in the unit of the values; the average starts from it
	Sigma    float64 // standard deviation of a value in control, positive
	Weight   float64 // λ, of the newest value, above 0 and at most 1
	Multiple float64 // L, how far the limits are from Target in standard deviations of the average
}

// EWMAResult holds the average and its limits after each value.
type EWMAResult struct {
	Averages    []float64
	Limits      []Interval // Level is what the average of normal values in control keeps at that point
	Signals     []int      // positions of averages outside their limits
	FirstSignal int        // the first of Signals, -1 where there is none
	Options     EWMAOptions
}

// EWMA returns the exponentially weighted moving average of xs in the order they were
// taken, with limits that widen as values come in:
//
//	zᵢ = λ·xᵢ + (1-λ)·zᵢ₋₁,   z₀ = target
//	target ± L·σ·√(λ/(2-λ)·(1-(1-λ)^2i)),   i = 1, 2, …
//
// With λ = 1 it is a chart of single values. It shows a small lasting shift sooner than
// that does, as [CUSUM] does. The averages go on after a signal and are not set back. xs
// holds at least one finite value and is not changed; the values are taken to be
// independent.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrParameter] or
// [ErrOverflow].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4, with the limits that
// vary in time; J. M. Lucas and M. S. Saccucci, Technometrics 32 (1990) 1, for the usual
// options (from memory).
func EWMA(xs []float64, o EWMAOptions) (EWMAResult, error) {
	const fn = "stats.EWMA"
	if err := o.check(fn); err != nil {
		return EWMAResult{}, err
	}
	if len(xs) < 1 {
		return EWMAResult{}, tooFew(fn, "xs", 0, 1)
	}
	if err := checkFinite(fn, "xs", xs); err != nil {
		return EWMAResult{}, err
	}
	r := EWMAResult{FirstSignal: -1, Options: o}
	z := o.Target
	for i, x := range xs {
		z = float64(o.Weight*x) + float64((1-o.Weight)*z)
		limits := limitsAbout(o.Target, o.Multiple*o.stdDev(i+1), o.Multiple)
		if !areFinite(z, limits.Lo, limits.Hi) {
			return EWMAResult{}, &InputError{Func: fn, Arg: "xs", Index: i, Value: text(x), Err: ErrOverflow}
		}
		r.Averages, r.Limits = append(r.Averages, z), append(r.Limits, limits)
		if !limits.Contains(z) {
			r.Signals = append(r.Signals, i)
		}
	}
	if len(r.Signals) > 0 {
		r.FirstSignal = r.Signals[0]
	}
	return r, nil
}

// stdDev returns that of the average after i values.
func (o EWMAOptions) stdDev(i int) float64 {
	settled := -math.Expm1(2 * float64(i) * math.Log1p(-o.Weight))
	return o.Sigma * math.Sqrt(o.Weight/(2-o.Weight)*settled)
}

func (o EWMAOptions) check(fn string) error {
	switch {
	case !isFinite(o.Target):
		return Refuse(fn, "o.Target", text(o.Target), ErrNotFinite)
	case !(o.Sigma > 0) || math.IsInf(o.Sigma, 1):
		return outOfRange(fn, "o.Sigma", text(o.Sigma), positive)
	case !(o.Weight > 0 && o.Weight <= 1):
		return outOfRange(fn, "o.Weight", text(o.Weight), "more than 0 and at most 1")
	}
	return checkMultiple(fn, "o.Multiple", o.Multiple)
}
