package stats

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// SpreadModel says how the scatter of differences depends on the size of what is
// measured. The zero value is no model and is refused.
type SpreadModel int

// The models of the scatter of differences about their line.
const (
	SpreadConstant SpreadModel = iota + 1 // the same for every size
	SpreadLinear                          // a straight line over the size
)

// String returns "constant" or "linear".
func (m SpreadModel) String() string {
	switch m {
	case SpreadConstant:
		return "constant"
	case SpreadLinear:
		return "linear"
	}
	return fmt.Sprintf("SpreadModel(%d)", int(m))
}

// RegressionAgreementOptions sets how [RegressionLimits] works. All fields are required.
type RegressionAgreementOptions struct {
	Level    float64 // confidence of every interval
	Coverage float64 // part of the differences between the limits, usually 0.95
	Spread   SpreadModel
}

// RegressionAgreement says how the difference of two methods of measuring depends on the
// size of what is measured, which is taken as the mean of both.
type RegressionAgreement struct {
	N           int
	Bias        LineFit         // of the differences x - y over the means
	BiasSlope   CoefficientTest // against 0: P is that of no proportional bias
	Spread      LineFit         // of the sizes of the residuals over the means
	SpreadSlope CoefficientTest // against 0: P is that of a constant spread
	Options     RegressionAgreementOptions
}

// AgreementAt is what a [RegressionAgreement] says at one size.
type AgreementAt struct {
	Size     float64
	Bias     float64  // mean difference x - y
	CI       Interval // of Bias
	StdDev   float64  // of the differences
	Limits   Interval // of agreement; Level is the coverage
	LowerCI  Interval // of the true lower limit; none (zero) for SpreadLinear
	UpperCI  Interval
	Warnings []Warning
}

// RegressionLimits fits the differences d = xs[i] - ys[i] over the means
// m = (xs[i]+ys[i])/2 by a line, and the sizes of its residuals r by another,
//
//	d̂ = b₀ + b₁m,   |r| = c₀ + c₁m
//
// for methods that differ more, or scatter more, on larger things. BiasSlope tests for a
// proportional bias; [RegressionAgreement.At] gives the limits at a size:
//
//	SpreadConstant   d̂ ± z·s,   s the standard deviation of the residuals
//	SpreadLinear     d̂ ± z·√(π/2)·(c₀+c₁m)
//
// A slope b₁ also comes about where the two methods agree but one has the larger error:
// the slope says how the differences are to be predicted from the mean, not which method
// is wrong. To compare the methods themselves use [FitDeming] or [FitPassingBablok].
//
// The limits are estimates of where a part Coverage lies; from few things they come out
// too near, for which their intervals stand. Share of new differences at 4 between limits
// of 95 %, by simulation, sizes evenly from 0 to 10 (linear: a spread of 0.2 + 0.2·size):
//
//	n         3      5      10     30
//	constant  66 %   83 %   90 %   94 %
//	linear    62 %   81 %   89 %   93 %
//
// It assumes independent normal differences about the line. xs and ys hold n ≥ 3 finite
// values each, the means not all equal; neither is changed. Differences that agree to the
// rounding of their values count as equal, and residuals no larger than that as 0.
//
// Errors are [*InputError] around [ErrLength], [ErrTooFew], [ErrNotFinite], [ErrLevel],
// [ErrParameter], [ErrNoSpread], [ErrOverflow] or [ErrUnderflow].
//
// Source: J. M. Bland and D. G. Altman, Measuring agreement in method comparison studies,
// Statistical Methods in Medical Research 8 (1999) 135-160, section 3.2.
func RegressionLimits(xs, ys []float64, o RegressionAgreementOptions) (RegressionAgreement, error) {
	const fn = "stats.RegressionLimits"
	if err := o.check(fn); err != nil {
		return RegressionAgreement{}, err
	}
	if err := checkPoints(fn, xs, ys, 3); err != nil {
		return RegressionAgreement{}, err
	}
	differences, means, noise := make([]float64, len(xs)), make([]float64, len(xs)), 0.0
	for i, x := range xs {
		differences[i], means[i] = x-ys[i], x/2+ys[i]/2
		noise = max(noise, roundingIn(x), roundingIn(ys[i]))
	}
	if !areFinite(differences...) {
		return RegressionAgreement{}, Refuse(fn, "xs-ys", "", ErrOverflow)
	}
	differences, means = equalToRounding(differences, noise), equalToRounding(means, noise)
	a := RegressionAgreement{N: len(xs), Options: o}
	var err error
	if a.Bias, a.BiasSlope, err = lineOverSize(fn, means, differences, o.Level); err != nil {
		return RegressionAgreement{}, err
	}
	a.Spread, a.SpreadSlope, err = lineOverSize(fn, means, a.Bias.residualSizes(means, differences, noise), o.Level)
	if err != nil {
		return RegressionAgreement{}, err
	}
	return a, nil
}

// equalToRounding makes values equal that agree to noise, 0 where they are no larger.
func equalToRounding(xs []float64, noise float64) []float64 {
	if slices.Max(xs)-slices.Min(xs) > noise {
		return xs
	}
	mean := pairMean(xs).hi
	if math.Abs(mean) <= noise {
		mean = 0
	}
	return slices.Repeat([]float64{mean}, len(xs))
}

func lineOverSize(fn string, sizes, values []float64, level float64) (LineFit, CoefficientTest, error) {
	fit, err := fitLine(fn, sizes, values, pairMean(sizes), pairMean(values), 2)
	if err != nil {
		return LineFit{}, CoefficientTest{}, err
	}
	slope, err := coefficientAgainst(fn, fit.Slope, fit.Residual.DF, 0, level)
	return fit, slope, err
}

// residualSizes returns |y - ŷ|, 0 where that is no more than noise.
func (f LineFit) residualSizes(xs, ys []float64, noise float64) []float64 {
	sizes := make([]float64, len(xs))
	meanY := pairMean(ys).hi
	for i, x := range xs {
		if size := math.Abs((ys[i] - meanY) - float64(f.Slope.Value*(x-f.MeanX))); size > noise {
			sizes[i] = size
		}
	}
	return sizes
}

// At returns the mean difference and the limits of agreement at a size m of the mean of
// both methods. The interval of the mean difference is that of [LineFit.Predict]. Those
// of the limits are exact for [SpreadConstant],
//
//	d̂ + t'(α/2 and 1-α/2; n-2, ±z/√h)·s·√h,   h = 1/n + (m-m̄)²/Σ(m-m̄)²
//
// with t' noncentral; for [SpreadLinear] none is known that holds its level, and both
// are left zero. A size outside of the data is warned of with [WarnExtrapolation].
//
// Errors are [*InputError] around [ErrNotFinite], [ErrParameter] (a result of no fit, or a
// size at which the line of the spread is below 0) or [ErrOverflow].
func (a RegressionAgreement) At(size float64) (AgreementAt, error) {
	const fn = "stats.RegressionAgreement.At"
	if err := a.Options.check(fn); err != nil {
		return AgreementAt{}, err
	}
	if !isFinite(size) {
		return AgreementAt{}, Refuse(fn, "size", text(size), ErrNotFinite)
	}
	p, err := a.Bias.Predict(size, a.Options.Level)
	if err != nil {
		return AgreementAt{}, Refuse(fn, "a.Bias", "", errors.Unwrap(err))
	}
	at := AgreementAt{Size: size, Bias: p.Value, CI: p.CI, StdDev: a.Bias.ResidualSD, Warnings: p.Warnings}
	if a.Options.Spread == SpreadLinear {
		at.StdDev = math.Sqrt(math.Pi/2) * a.Spread.At(size)
	}
	if !(at.StdDev >= 0) {
		return AgreementAt{}, Refuse(fn, "size", text(size), fmt.Errorf("%w: the line of the spread is below 0 there", ErrParameter))
	}
	z := middleScore(a.Options.Coverage)
	at.Limits = Interval{Lo: at.Bias - z*at.StdDev, Hi: at.Bias + z*at.StdDev, Level: a.Options.Coverage}
	if err := a.limitIntervals(fn, &at, z, p.StdErr); err != nil {
		return AgreementAt{}, err
	}
	if !areFinite(at.Limits.Lo, at.Limits.Hi, at.LowerCI.Lo, at.LowerCI.Hi, at.UpperCI.Lo, at.UpperCI.Hi) {
		return AgreementAt{}, Refuse(fn, "size", text(size), ErrOverflow)
	}
	return at, nil
}

func (a RegressionAgreement) limitIntervals(fn string, at *AgreementAt, z, stdErr float64) error {
	if a.Options.Spread == SpreadLinear {
		return nil
	}
	near, far, err := noncentralLimits(fn, float64(a.Bias.Residual.DF), z/a.Bias.leverageRoot(at.Size), a.Options.Level)
	at.LowerCI = Interval{Lo: at.Bias - far*stdErr, Hi: at.Bias - near*stdErr, Level: a.Options.Level}
	at.UpperCI = Interval{Lo: at.Bias + near*stdErr, Hi: at.Bias + far*stdErr, Level: a.Options.Level}
	return err
}

func (o RegressionAgreementOptions) check(fn string) error {
	if o.Spread != SpreadConstant && o.Spread != SpreadLinear {
		return outOfRange(fn, "o.Spread", o.Spread.String(), "SpreadConstant or SpreadLinear")
	}
	return checkLimits(fn, o.Level, o.Coverage)
}
