package stats

import (
	"errors"
	"math"
)

// ErrNoSlope is the reason data are refused that favour no direction, or the
// vertical one, which has no slope.
var ErrNoSlope = errors.New("the data determine no slope")

// PairSummary is what a straight line needs of n points.
type PairSummary struct {
	N             int
	MeanX, MeanY  float64
	SXX, SYY, SXY float64 // Σ(x-x̄)², Σ(y-ȳ)², Σ(x-x̄)(y-ȳ)
}

// SummarizePairs returns the means and the sums of squares and products of n ≥ 2
// points. xs and ys hold finite values and are not changed. The deviations are
// taken from the rounded means and corrected for their rounding (with twice the
// precision where they are small beside the means), so equal values have exactly none. SXX and SYY have a
// relative error of a few units in the last place, SXY one of that size relative to
// √(SXX·SYY). Nothing is allocated. Cost: some 50 ns for ten points.
//
// Errors are [*InputError] around [ErrLength], [ErrTooFew], [ErrNotFinite],
// [ErrOverflow] or [ErrUnderflow].
func SummarizePairs(xs, ys []float64) (PairSummary, error) {
	return summarizePairs("stats.SummarizePairs", xs, ys)
}

func summarizePairs(fn string, xs, ys []float64) (PairSummary, error) {
	if len(xs) == len(ys) && len(xs) >= 2 {
		s := sumPairs(xs, ys)
		if s.isFinite() && hasSpread(s.SXX, s.MeanX) && hasSpread(s.SYY, s.MeanY) {
			return s, nil
		}
	}
	if err := checkPoints(fn, xs, ys, 2); err != nil {
		return PairSummary{}, err
	}
	return summarizeHardPairs(fn, xs, ys)
}

// hasSpread reports whether a sum of squares is surely more than rounding.
func hasSpread(ss, mean float64) bool { return ss > safeSquare && ss > square(0x1p-40*mean) }

// summarizeHardPairs sorts out values that are equal, nearly equal or near the ends
// of the float64 range.
func summarizeHardPairs(fn string, xs, ys []float64) (PairSummary, error) {
	meanX, meanY := pairMean(xs), pairMean(ys)
	var sxx, syy, sxy pair
	for i, x := range xs {
		dx, dy := pair{hi: x}.sub(meanX), pair{hi: ys[i]}.sub(meanY)
		sxx, syy, sxy = sxx.add(dx.mul(dx)), syy.add(dy.mul(dy)), sxy.add(dx.mul(dy))
	}
	if err := checkSpread(fn, "xs", xs, meanX, sxx); err != nil && !isNoSpread(err) {
		return PairSummary{}, err
	}
	if err := checkSpread(fn, "ys", ys, meanY, syy); err != nil && !isNoSpread(err) {
		return PairSummary{}, err
	}
	return PairSummary{N: len(xs), MeanX: meanX.hi, MeanY: meanY.hi, SXX: sxx.value(), SYY: syy.value(), SXY: sxy.value()}, nil
}

// sumPairs adds in float64: deviations leave nothing to cancel but the rounding of
// the means, which the sums of deviations take off.
func sumPairs(xs, ys []float64) PairSummary {
	n := float64(len(xs))
	ys = ys[:len(xs)] // told to the compiler, which then checks no index
	var sumX, sumY float64
	for i, x := range xs {
		sumX += x
		sumY += ys[i]
	}
	s := PairSummary{N: len(xs), MeanX: sumX / n, MeanY: sumY / n}
	var restX, restY float64
	for i, x := range xs {
		dx, dy := x-s.MeanX, ys[i]-s.MeanY
		restX += dx
		restY += dy
		s.SXX += dx * dx
		s.SYY += dy * dy
		s.SXY += dx * dy
	}
	meanRestX, meanRestY := restX/n, restY/n
	s.SXX = max(0, s.SXX-restX*meanRestX)
	s.SYY = max(0, s.SYY-restY*meanRestY)
	s.SXY -= restX * meanRestY
	s.MeanX += meanRestX
	s.MeanY += meanRestY
	return s
}

// isFinite uses that x-x is 0 for finite x only.
func (s *PairSummary) isFinite() bool {
	return (s.MeanX-s.MeanX)+(s.MeanY-s.MeanY)+(s.SXX-s.SXX)+(s.SYY-s.SYY)+(s.SXY-s.SXY) == 0
}

// Line is y = Intercept + Slope·x.
type Line struct{ Intercept, Slope float64 }

// At returns the y at x; it may overflow for an x far out.
func (l Line) At(x float64) float64 { return l.Intercept + float64(l.Slope*x) }

// DemingLine returns the line that is most likely where both x and y are measured
// with normal error, from the summary of the points:
//
//	b₁ = (q + √(q² + 4λ·Sxy²))/(2·Sxy),   q = Syy - λ·Sxx,   b₀ = ȳ - b₁x̄
//
// varYOverVarX is λ, the error variance of y over the error variance of x, such as
// 0.25 where x is measured with twice the standard deviation of y. Turned round it
// gives another line, so mind the order; λ = 1 is orthogonal regression, and a large
// λ approaches least squares of y on x. The other root is the worst line, at right
// angles where λ = 1. Where Sxy is 0 the line is level if λ·Sxx exceeds Syy.
//
// Nothing is allocated. Cost: some 20 ns.
//
// Errors are [*InputError] around [ErrTooFew] (n below 2), [ErrNotFinite],
// [ErrParameter] (λ or sums that no points can have), [ErrNoSlope] or
// [ErrOverflow].
//
// Source: K. Linnet, Evaluation of regression procedures for methods comparison
// studies, Clinical Chemistry 39 (1993) 424-432.
func DemingLine(s PairSummary, varYOverVarX float64) (Line, error) {
	const fn = "stats.DemingLine"
	if err := s.check(fn); err != nil {
		return Line{}, err
	}
	if err := checkRatio(fn, "varYOverVarX", varYOverVarX); err != nil {
		return Line{}, err
	}
	return demingLine(fn, "s", &s, varYOverVarX)
}

// demingLine takes the form of the root in which nothing cancels.
func demingLine(fn, arg string, s *PairSummary, ratio float64) (Line, error) {
	q, cross := s.SYY-ratio*s.SXX, 2*math.Sqrt(ratio)*s.SXY
	root := math.Hypot(q, cross)
	var slope float64
	switch {
	case q < 0:
		slope = 2 * ratio * s.SXY / (root - q)
	case s.SXY != 0:
		slope = (q + root) / (2 * s.SXY)
	default:
		return Line{}, Refuse(fn, arg, "", ErrNoSlope)
	}
	line := Line{Intercept: s.MeanY - slope*s.MeanX, Slope: slope}
	if !isFinite(line.Intercept) || !isFinite(line.Slope) {
		return Line{}, Refuse(fn, arg, "", ErrOverflow)
	}
	return line, nil
}

// check refuses sums that no points can have.
func (s *PairSummary) check(fn string) error {
	switch {
	case s.N < 2:
		return tooFew(fn, "s.N", s.N, 2)
	case !s.isFinite():
		return Refuse(fn, "s", "", ErrNotFinite)
	case s.SXX < 0 || s.SYY < 0:
		return outOfRange(fn, "s", "", "sums of squares of 0 or more")
	case math.Abs(s.SXY) > (1+1e-9)*math.Sqrt(s.SXX)*math.Sqrt(s.SYY): // beyond rounding
		return outOfRange(fn, "s.SXY", text(s.SXY), "at most √(SXX·SYY), as points have it")
	}
	return nil
}

func checkRatio(fn, arg string, ratio float64) error {
	if !isFinite(ratio) {
		return Refuse(fn, arg, text(ratio), ErrNotFinite)
	}
	if !(ratio > 0) {
		return outOfRange(fn, arg, text(ratio), positive)
	}
	return nil
}
