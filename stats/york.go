package stats

import (
	"errors"
	"fmt"
	"math"
)

// ErrNotConverged is the reason an iteration was given up.
var ErrNotConverged = errors.New("the iteration did not settle")

// PointErrors says how the errors given for each point are meant. The zero value is
// neither and is refused.
type PointErrors int

// The meanings of errors per point.
const (
	// AbsoluteErrors are standard deviations. The scatter is not used, and intervals
	// take normal quantiles; P says whether the scatter agrees.
	AbsoluteErrors PointErrors = iota + 1
	// RelativeErrors are right among each other only. The scatter sets their common
	// scale √(S/(n-2)), and intervals take t(n-2).
	RelativeErrors
)

// String returns "absolute" or "relative".
func (e PointErrors) String() string {
	switch e {
	case AbsoluteErrors:
		return "absolute"
	case RelativeErrors:
		return "relative"
	}
	return fmt.Sprintf("PointErrors(%d)", int(e))
}

// YorkOptions sets how [FitYork] works. All fields are required.
type YorkOptions struct {
	Errors PointErrors
	Level  float64
}

// YorkFit is a line through points with an error each in x and in y.
type YorkFit struct {
	N                    int
	Intercept, Slope     Coefficient
	InterceptCI, SlopeCI Interval
	Covariance           float64 // of intercept and slope
	S                    float64 // Σ w(y-b₀-b₁x)², about N-2 where the errors given are right
	DF                   float64 // N-2
	P                    float64 // of S, from the upper tail of chi-square: that the errors given explain the scatter
	Errors               PointErrors
	Iterations           int
	Warnings             []Warning
}

// FitYork fits y = b₀ + b₁x where each point has its own standard deviation of
// error in x and in y, such as 5 readings here and 2 there: the line that minimizes
//
//	S = Σ wᵢ(yᵢ-b₀-b₁xᵢ)²,   wᵢ = 1/(σyᵢ² + b₁²·σxᵢ²)
//
// by the iteration of York, until the slope moves by less than 1e-14 of itself. It is the
// most likely line if errors are normal and independent. Where errors are as large as the
// spread of the points S may have several minima: the iteration starts from the least
// squares slope and from four others, steep and flat, up and down, and the least is taken.
// A point on the line to the rounding of its coordinates adds nothing to S. xs, ys,
// errorsX and errorsY hold n ≥ 3 finite values each; an error may be 0, but not both of a
// point. Nothing is changed. Data whose errors are as large as their spread may favour no
// slope; after 1000 steps that is [ErrNotConverged].
//
// Standard errors are those at the adjusted points, exact as errors grow small; they
// are multiplied by √(S/(n-2)) for [RelativeErrors]. With true values over a range of
// some 17 errors the slope's interval of a nominal 95 % held 95 % in simulation at n = 3,
// 5, 10 and 30, with either kind.
//
// Errors are [*InputError] around [ErrLength], [ErrTooFew], [ErrNotFinite],
// [ErrLevel], [ErrParameter], [ErrNoSpread], [ErrNoSlope], [ErrNotConverged],
// [ErrOverflow] or [ErrUnderflow].
//
// Source: D. York, N. M. Evensen, M. López Martínez and J. De Basabe Delgado, Unified
// equations for the slope, intercept, and standard errors of the best straight line,
// American Journal of Physics 72 (2004) 367-375.
func FitYork(xs, ys, errorsX, errorsY []float64, o YorkOptions) (YorkFit, error) {
	const fn = "stats.FitYork"
	if err := checkYork(fn, xs, ys, errorsX, errorsY, o); err != nil {
		return YorkFit{}, err
	}
	start, err := fitLine(fn, xs, ys, pairMean(xs), pairMean(ys), 2)
	if err != nil {
		return YorkFit{}, err
	}
	scale := math.Sqrt(start.Regression.SS+start.Residual.SS) / math.Sqrt(start.SXX) // of y over that of x
	step := newYorkStep(xs, ys, errorsX, errorsY)
	slope, iterations, reason := step.settle(start.Slope.Value, scale)
	least := step.sum(slope)
	for _, from := range [...]float64{scale, -scale, 8 * scale, -8 * scale} {
		other, k, err := step.settle(from, scale)
		if sum := step.sum(other); err == nil && (reason != nil || sum < least*(1-1e-9)) {
			slope, iterations, reason, least = other, k, nil, sum
		}
	}
	if reason == nil && step.sum(1e9*scale) < least*(1-1e-9) { // S is least at the vertical, and this is a saddle
		reason = ErrNoSlope
	}
	if reason != nil {
		return YorkFit{}, Refuse(fn, "xs, ys", "", reason)
	}
	return step.fit(fn, slope, iterations, o)
}

// mostYorkSteps is far more than data take that favour a slope: of 40 000 sets of 3 to 6
// points in whole numbers below 6 with errors from 0 to 3, 1220 did not settle in it and
// 1300 took over 100.
const mostYorkSteps = 1000

// yorkStep holds the points as offsets from their plain means, so that a large common
// part does not blur the steps.
type yorkStep struct {
	xs, ys, errorsX, errorsY []float64
	originX, originY         float64
}

func newYorkStep(xs, ys, errorsX, errorsY []float64) yorkStep {
	s := yorkStep{originX: pairMean(xs).hi, originY: pairMean(ys).hi, errorsX: errorsX, errorsY: errorsY}
	for i, x := range xs {
		s.xs = append(s.xs, x-s.originX)
		s.ys = append(s.ys, ys[i]-s.originY)
	}
	return s
}

// settle goes on from a slope until it stays, in so many steps.
func (s yorkStep) settle(slope, scale float64) (settled float64, steps int, err error) {
	for k := 1; k <= mostYorkSteps; k++ {
		next := s.slope(slope)
		if !isFinite(next) {
			return 0, k, ErrNoSlope
		}
		moved := math.Abs(next - slope)
		slope = next
		if moved <= 1e-14*(math.Abs(slope)+1e-3*scale) {
			return slope, k, nil
		}
	}
	return slope, mostYorkSteps, ErrNotConverged
}

// sum returns S at a slope.
func (s yorkStep) sum(slope float64) (sum float64) {
	meanX, meanY, _ := s.centres(slope)
	for i, x := range s.xs {
		sum += s.weight(i, slope) * square((s.ys[i]-meanY)-slope*(x-meanX))
	}
	return sum
}

// centres returns the weighted means at a slope and the sum of weights.
func (s yorkStep) centres(slope float64) (meanX, meanY, total float64) {
	for i, x := range s.xs {
		w := s.weight(i, slope)
		total += w
		meanX += (x - meanX) * w / total
		meanY += (s.ys[i] - meanY) * w / total
	}
	return meanX, meanY, total
}

func (s yorkStep) weight(i int, slope float64) float64 {
	return 1 / (square(s.errorsY[i]) + square(slope*s.errorsX[i]))
}

// adjusted returns the offset of the most likely true x of point i from the centre,
// given its own offsets from there.
func (s yorkStep) adjusted(i int, slope, dx, dy float64) float64 {
	return s.weight(i, slope) * (square(s.errorsY[i])*dx + slope*square(s.errorsX[i])*dy)
}

// slope returns Σ wβ(y-ȳ)/Σ wβ(x-x̄), β the adjusted offsets.
func (s yorkStep) slope(slope float64) float64 {
	meanX, meanY, _ := s.centres(slope)
	var above, below float64
	for i, x := range s.xs {
		dx, dy := x-meanX, s.ys[i]-meanY
		wb := s.weight(i, slope) * s.adjusted(i, slope, dx, dy)
		above += wb * dy
		below += wb * dx
	}
	return above / below
}

// rounding returns how far the rounding of its coordinates may put point i off the line.
func (s yorkStep) rounding(i int, slope float64) float64 {
	x, y := s.xs[i]+s.originX, s.ys[i]+s.originY
	return roundings * roundingIn(max(math.Abs(y), math.Abs(slope*x)))
}

// fit completes the result at the slope that settled.
func (s yorkStep) fit(fn string, slope float64, iterations int, o YorkOptions) (YorkFit, error) {
	f := YorkFit{N: len(s.xs), DF: float64(len(s.xs) - 2), Errors: o.Errors, Iterations: iterations}
	meanX, meanY, total := s.centres(slope)
	var meanAdjusted, spread float64
	for i, x := range s.xs {
		w := s.weight(i, slope)
		dx, dy := x-meanX, s.ys[i]-meanY
		meanAdjusted += w * s.adjusted(i, slope, dx, dy) / total
		if off := dy - slope*dx; math.Abs(off) > s.rounding(i, slope) {
			f.S += w * square(off)
		}
	}
	for i, x := range s.xs {
		b := s.adjusted(i, slope, x-meanX, s.ys[i]-meanY)
		spread += s.weight(i, slope) * square(b-meanAdjusted)
	}
	meanX, meanY = meanX+s.originX, meanY+s.originY
	centre := meanX + meanAdjusted
	f.Slope = Coefficient{Value: slope, StdErr: 1 / math.Sqrt(spread)}
	f.Intercept = Coefficient{Value: meanY - slope*meanX, StdErr: math.Hypot(1/math.Sqrt(total), centre*f.Slope.StdErr)}
	f.Covariance = -centre * square(f.Slope.StdErr)
	_, f.P = newChiSquared(f.DF).tails(f.S)
	return f.withIntervals(fn, o)
}

func (f YorkFit) withIntervals(fn string, o YorkOptions) (YorkFit, error) {
	quantile := -normalQuantile((1 - o.Level) / 2)
	if o.Errors == RelativeErrors {
		inflation := math.Sqrt(f.S / f.DF)
		f.Slope.StdErr *= inflation
		f.Intercept.StdErr *= inflation
		f.Covariance *= f.S / f.DF
		quantile = newStudentT(f.DF).upperQuantile((1 - o.Level) / 2)
	}
	interval := func(c Coefficient) Interval {
		return Interval{Lo: c.Value - quantile*c.StdErr, Hi: c.Value + quantile*c.StdErr, Level: o.Level}
	}
	f.InterceptCI, f.SlopeCI = interval(f.Intercept), interval(f.Slope)
	if !areFinite(f.S, f.Covariance, f.InterceptCI.Lo, f.InterceptCI.Hi, f.SlopeCI.Lo, f.SlopeCI.Hi) {
		return YorkFit{}, Refuse(fn, "xs, ys", "", ErrOverflow)
	}
	if f.S == 0 {
		f.Warnings = []Warning{{Code: WarnNoResidual, Text: "the points lie on one line, so they leave no scatter to judge it by"}}
	}
	return f, nil
}

func checkYork(fn string, xs, ys, errorsX, errorsY []float64, o YorkOptions) error {
	if err := checkPoints(fn, xs, ys, 3); err != nil {
		return err
	}
	for _, e := range []struct {
		arg    string
		values []float64
	}{{"errorsX", errorsX}, {"errorsY", errorsY}} {
		if len(e.values) != len(xs) {
			return Refuse(fn, e.arg, fmt.Sprintf("%d values for %d", len(e.values), len(xs)), ErrLength)
		}
		if err := checkFinite(fn, e.arg, e.values); err != nil {
			return err
		}
	}
	for i, ex := range errorsX {
		if ex < 0 {
			return &InputError{Func: fn, Arg: "errorsX", Index: i, Value: text(ex), Err: needs("0 or more")}
		}
		if ey := errorsY[i]; ey < 0 || ex == 0 && ey == 0 {
			return &InputError{Func: fn, Arg: "errorsY", Index: i, Value: text(ey), Err: needs("0 or more, and more than 0 where the error of x is 0")}
		}
	}
	if o.Errors != AbsoluteErrors && o.Errors != RelativeErrors {
		return outOfRange(fn, "o.Errors", o.Errors.String(), "AbsoluteErrors or RelativeErrors")
	}
	return checkFraction(fn, "o.Level", o.Level)
}
