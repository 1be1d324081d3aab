package stats

import "math"

// Summary is what most statistics need of a sample, and all that many records
// keep of one.
type Summary struct {
	N      int
	Mean   float64
	StdDev float64 // divisor N-1
}

// Summarize returns n, the mean and the standard deviation
//
//	x̄ = Σx/n,   s = √(Σ(x-x̄)²/(n-1))
//
// of xs, which holds at least 2 finite values in any order and is not changed.
// Where all values are equal the mean is exactly that value and s exactly 0;
// rounding never makes a spread out of none.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite] or, for values
// near the end of the float64 range, [ErrOverflow].
func Summarize(xs []float64) (Summary, error) {
	return summarize("stats.Summarize", "xs", xs)
}

func summarize(fn, arg string, xs []float64) (Summary, error) {
	if len(xs) < 2 {
		return Summary{}, tooFew(fn, arg, len(xs), 2)
	}
	if err := checkFinite(fn, arg, xs); err != nil {
		return Summary{}, err
	}
	mean, s := meanStdDev(xs)
	if !isFinite(mean) || !isFinite(s) {
		return Summary{}, refuse(fn, arg, "", ErrOverflow)
	}
	return Summary{N: len(xs), Mean: mean, StdDev: s}, nil
}

// meanStdDev takes two passes about the first value and corrects the second for
// the rounding of the mean, so that a large common part of xs costs no digits.
func meanStdDev(xs []float64) (mean, s float64) {
	origin := xs[0]
	n := float64(len(xs))
	var shift float64
	for _, x := range xs {
		shift += x - origin
	}
	shift /= n
	var ss, rest float64
	for _, x := range xs {
		d := (x - origin) - shift
		ss += float64(d * d)
		rest += d
	}
	return origin + (shift + rest/n), math.Sqrt(max(0, ss-float64(rest*rest)/n) / (n - 1))
}

// check refuses a summary that no sample can have.
func (s Summary) check(fn, arg string, atLeast int) error {
	switch {
	case s.N < atLeast:
		return tooFew(fn, arg+".N", s.N, atLeast)
	case !isFinite(s.Mean):
		return refuse(fn, arg+".Mean", text(s.Mean), ErrNotFinite)
	case !isFinite(s.StdDev):
		return refuse(fn, arg+".StdDev", text(s.StdDev), ErrNotFinite)
	case s.StdDev < 0:
		return refuse(fn, arg+".StdDev", text(s.StdDev), ErrParameter)
	}
	return nil
}
