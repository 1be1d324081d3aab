package stats

import "math"

// RatioAgreement says how far the ratio of two methods of measuring is from 1.
type RatioAgreement struct {
	N         int
	Ratio     float64  // geometric mean of x/y
	CI        Interval // of Ratio
	Limits    Interval // of agreement of the ratios; Level is the coverage
	LowerCI   Interval // of the true lower limit
	UpperCI   Interval
	Tolerance Interval
	Log       Agreement // of ln x - ln y, which the rest is exp of
}

// LimitsOfRatio is [LimitsOfAgreement] on the logarithmic scale, for methods whose
// differences grow in proportion to what is measured: with d = ln(xs[i]/ys[i]) every
// figure of the result is exp of that of the differences d, and says between which
// multiples of y a part coverage of all x lies. Values are above 0.
//
// It assumes independent normal logarithms of the ratios, whose mean and spread do not
// depend on the size of what is measured.
//
// Errors are those of LimitsOfAgreement, [ErrOverflow] also of the mean of y/x, and
// [ErrParameter] for a value not above 0.
//
// Source: J. M. Bland and D. G. Altman, Measuring agreement in method comparison studies,
// Statistical Methods in Medical Research 8 (1999) 135-160, section 3.1.
func LimitsOfRatio(xs, ys []float64, o AgreementOptions) (RatioAgreement, error) {
	const fn = "stats.LimitsOfRatio"
	if err := checkPoints(fn, xs, ys, 2); err != nil {
		return RatioAgreement{}, err
	}
	// a relative rounding of x or y is as large in the logarithm
	logs, noise := make([]float64, len(xs)), roundingIn(1)
	for i, x := range xs {
		if !(x > 0) {
			return RatioAgreement{}, &InputError{Func: fn, Arg: "xs", Index: i, Value: text(x), Err: needs(positive)}
		}
		if !(ys[i] > 0) {
			return RatioAgreement{}, &InputError{Func: fn, Arg: "ys", Index: i, Value: text(ys[i]), Err: needs(positive)}
		}
		logs[i] = logRatio(x, ys[i])
		noise = max(noise, roundingIn(logs[i]))
	}
	d, err := describeTo(fn, "ln(xs/ys)", logs, noise)
	if err != nil {
		return RatioAgreement{}, err
	}
	a, err := limitsOfAgreement(fn, d.Summary, o)
	if err != nil {
		return RatioAgreement{}, err
	}
	r := RatioAgreement{N: d.N, Ratio: math.Exp(a.Mean), CI: a.CI.exp(), Limits: a.Limits.exp(), LowerCI: a.LowerCI.exp(), UpperCI: a.UpperCI.exp(), Tolerance: a.Tolerance.exp(), Log: a}
	if !areFinite(r.Ratio, r.CI.Hi, r.Limits.Hi, r.LowerCI.Hi, r.UpperCI.Hi, r.Tolerance.Hi) {
		return RatioAgreement{}, Refuse(fn, "xs, ys", "", ErrOverflow)
	}
	if r.Ratio == 0 {
		return RatioAgreement{}, Refuse(fn, "ys/xs", "", ErrOverflow)
	}
	return r, nil
}

// logRatio returns ln(x/y), with its digits also where x is next to y.
func logRatio(x, y float64) float64 {
	if y/2 <= x && x <= 2*y {
		return math.Log1p((x - y) / y)
	}
	return math.Log(x) - math.Log(y)
}

func (i Interval) exp() Interval {
	return Interval{Lo: math.Exp(i.Lo), Hi: math.Exp(i.Hi), Level: i.Level}
}
