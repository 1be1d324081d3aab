package stats

import (
	"fmt"
	"math"
)

// WarnExtrapolation is the code of the warning that a fit is used where it has no
// data.
const WarnExtrapolation WarningCode = "extrapolation"

// Prediction is what a fit says at one place.
type Prediction struct {
	Value            float64
	StdErr           float64 // of Value, the place of the line
	PredictionStdErr float64 // of one new observation about Value
	DF               float64 // of the residual
	CI               Interval
	PI               Interval // for one new observation
	Warnings         []Warning
}

// Predict returns the fitted y at x with the confidence interval of the line and
// the prediction interval of one new y there:
//
//	b₀ + b₁x ± t(1-α/2; ν)·s·√h,   h = 1/n + (x-x̄)²/Σ(x-x̄)²
//
// and the same with √(1+h); for a line through the origin h = x²/Σx². Each
// interval is for this x alone and exact under the assumptions of [FitLine] with
// normal errors. An x outside the data is warned of with [WarnExtrapolation].
//
// Errors are [*InputError] around [ErrTooFew] (a zero LineFit), [ErrNotFinite],
// [ErrLevel], [ErrParameter] or [ErrOverflow].
//
// Source: N. R. Draper and H. Smith, Applied Regression Analysis, 3rd edition,
// Wiley 1998, section 3.1.
func (f LineFit) Predict(x, level float64) (Prediction, error) {
	const fn = "stats.LineFit.Predict"
	if err := f.check(fn); err != nil {
		return Prediction{}, err
	}
	if !isFinite(x) {
		return Prediction{}, Refuse(fn, "x", text(x), ErrNotFinite)
	}
	p, err := predict(fn, f.At(x), f.ResidualSD, f.leverageRoot(x), f.Residual.DF, level)
	if err != nil {
		return Prediction{}, err
	}
	if x < f.MinX || x > f.MaxX {
		p.Warnings = []Warning{{Code: WarnExtrapolation, Text: fmt.Sprintf("the data lie between %v and %v", f.MinX, f.MaxX), Where: text(x)}}
	}
	return p, nil
}

// Predict is [LineFit.Predict] for a fit of several coefficients. terms holds the
// value of each predictor at the place in question in the order of Coefficients:
// first 1 where there is an intercept; 1, x, x² and so on for a polynomial. h is
// termsᵀ·Covariance·terms/s², formed in twice the precision from the rounded
// Covariance, so for a polynomial of high degree it keeps only what that has.
// There is no warning of extrapolation: the fit does not know its data.
//
// Errors are those of LineFit.Predict, or around [ErrLength] where terms are not as many as
// the coefficients.
func (f LinearFit) Predict(terms []float64, level float64) (Prediction, error) {
	const fn = "stats.LinearFit.Predict"
	if len(terms) != len(f.Coefficients) || len(terms) != len(f.Covariance) {
		return Prediction{}, Refuse(fn, "terms", fmt.Sprintf("%d values for %d coefficients", len(terms), len(f.Coefficients)), ErrLength)
	}
	if err := checkFinite(fn, "terms", terms); err != nil {
		return Prediction{}, err
	}
	var value, variance pair
	for i, term := range terms {
		if len(f.Covariance[i]) != len(terms) {
			return Prediction{}, Refuse(fn, "f.Covariance", "", ErrLength)
		}
		value = value.add(twoProduct(term, f.Coefficients[i].Value))
		for k, other := range terms {
			variance = variance.add(twoProduct(term, other).mulFloat(f.Covariance[i][k]))
		}
	}
	root := 0.0
	if f.ResidualSD > 0 {
		root = variance.sqrt().value() / f.ResidualSD
	}
	return predict(fn, value.value(), f.ResidualSD, root, f.Residual.DF, level)
}

// leverageRoot returns √h.
func (f LineFit) leverageRoot(x float64) float64 {
	far := (x - f.MeanX) / math.Sqrt(f.SXX)
	if f.throughOrigin() {
		return math.Abs(far)
	}
	return math.Hypot(1/math.Sqrt(float64(f.N)), far)
}

func predict(fn string, value, sd, leverageRoot float64, df int, level float64) (Prediction, error) {
	if df < 1 {
		return Prediction{}, tooFew(fn, "f.Residual.DF", df, 1)
	}
	if err := checkFraction(fn, "level", level); err != nil {
		return Prediction{}, err
	}
	p := Prediction{Value: value, DF: float64(df), StdErr: sd * leverageRoot, PredictionStdErr: sd * math.Hypot(1, leverageRoot)}
	p.CI = tInterval(Coefficient{value, p.StdErr}, p.DF, level)
	p.PI = tInterval(Coefficient{value, p.PredictionStdErr}, p.DF, level)
	if !areFinite(p.Value, p.StdErr, p.PredictionStdErr, p.CI.Lo, p.CI.Hi, p.PI.Lo, p.PI.Hi) {
		return Prediction{}, Refuse(fn, "f", "", ErrOverflow)
	}
	return p, nil
}

// check refuses a line that no fit can have returned.
func (f LineFit) check(fn string) error {
	if err := checkCoefficient(fn, f.Slope, f.Residual.DF); err != nil {
		return err
	}
	switch {
	case !areFinite(f.Intercept.Value, f.ResidualSD, f.MeanX, f.SXX):
		return Refuse(fn, "f", "", ErrNotFinite)
	case f.N < 2:
		return tooFew(fn, "f.N", f.N, 2)
	case !(f.SXX > 0) || f.ResidualSD < 0:
		return outOfRange(fn, "f", "", "SXX above 0 and ResidualSD at least 0, as a fit has them")
	}
	return nil
}
