package stats

import (
	"fmt"
	"math"
)

// PassingBablokOptions sets how [FitPassingBablok] works. Level is required.
type PassingBablokOptions struct {
	Level float64
}

// PassingBablokFit is a line through points whose x and y both have errors, by ranks.
type PassingBablokFit struct {
	N           int
	Slopes      int64 // pairs of points counted, N* below
	Shift       int64 // K, slopes below -1
	MinusOne    int64 // pairs left out because their slope is -1
	Slope       float64
	SlopeCI     ConfidenceSet
	LowerRank   int64 // place of the lower limit before the shift, counted from 1
	UpperRank   int64
	Intercept   float64
	InterceptCI ConfidenceSet // between, or everything where SlopeCI has no finite ends
	Linearity   LinearityTest
	Warnings    []Warning
}

// FitPassingBablok fits a line to two methods of measuring that both have errors, without
// a ratio of these and hardly moved by wild points. The slope is the shifted median of
// the slopes of all pairs of points, the intercept follows from it:
//
//	b = S((N*+1)/2 + K), or (S(N*/2 + K) + S(N*/2 + 1 + K))/2 for even N*
//	a = median (yᵢ - b·xᵢ)
//
// with S(1) ≤ … ≤ S(N*) the slopes (yⱼ-yᵢ)/(xⱼ-xᵢ) as float64 arithmetic gives them, K
// the number of them below -1, and the rules of 1983 for the rest:
//
//   - a slope of exactly -1 is left out, and so is a pair of equal points; a slope is -1 to
//     the rounding of the coordinates, since that of recorded decimals may miss it in float64;
//   - a pair with equal x and unequal y counts as a slope above every number (as one below
//     every number it would count in K, with the same result);
//   - the limits of the slope are S(M₁+K) and S(N*-M₁+1+K), M₁ = (N*-C)/2 rounded to the
//     nearest whole number, halves up, with C = z(1-α/2)·√(n(n-1)(2n+5)/18), without
//     correction for ties;
//   - the limits of the intercept are the medians of yᵢ - b·xᵢ with the limits of b.
//
// Places beyond S(N*) go on with S(1): slopes from -1 up to the vertical and on from below
// to -1 turn once round. Where the upper limit comes to lie there SlopeCI is [Outside];
// where M₁ would be 0 it is [Everything]; Warnings then holds [WarnUnbounded].
//
// It assumes a linear relation that rises, errors of x and y in the ratio 1 to b, and
// continuous values. Exchanging x and y inverts the slope (for even N* the inverse lies
// between the two middle slopes). Coverage of a nominal 95 % by simulation, slope 1,
// equal normal errors in x and y, true values evenly over a range of 17 times (small) or
// 5 times (large) the standard deviation of an error:
//
//	n                        3       5      10     30
//	slope, small errors      100 %   98 %   95 %   95 %
//	slope, large errors      100 %   98 %   95 %   95 %
//	intercept, small errors  100 %   98 %   95 %   95 %
//	intercept, large errors  100 %   99 %   95 %   95 %
//
// xs and ys hold n ≥ 3 finite values each and are not changed. Time and memory are
// those of [FitTheilSen].
//
// Errors are [*InputError] around [ErrLength], [ErrTooFew], [ErrNotFinite], [ErrLevel],
// [ErrOverflow] (also of a difference of two x or two y) or [ErrNoSlope] where the shifted
// median is vertical, -1 or below it; y that fall with x are to be given with the other
// sign.
//
// Source: H. Passing and W. Bablok, A new biometrical procedure for testing the equality
// of measurements from two different analytical methods, Journal of Clinical Chemistry
// and Clinical Biochemistry 21 (1983) 709-720 (from memory, as restated in the R packages
// MethComp and mcr; mcr rounds M₁ up).
func FitPassingBablok(xs, ys []float64, o PassingBablokOptions) (PassingBablokFit, error) {
	const fn = "stats.FitPassingBablok"
	s, err := slopesOf(fn, xs, ys)
	if err != nil {
		return PassingBablokFit{}, err
	}
	if err := checkFraction(fn, "o.Level", o.Level); err != nil {
		return PassingBablokFit{}, err
	}
	t := newTurnedSlopes(s)
	f := PassingBablokFit{N: len(xs), Slopes: t.counted(), Shift: t.below, MinusOne: t.equal}
	if f.Slopes == 0 || f.Slopes/2+1 > t.above {
		return PassingBablokFit{}, Refuse(fn, "xs, ys", "", fmt.Errorf("%w: the shifted median of their slopes is vertical, -1 or below", ErrNoSlope))
	}
	f.Slope = middleOf(f.Slopes, t.at)
	f.slopeLimits(t, o.Level)
	if areFinite(f.Slope, f.SlopeCI.Lo, f.SlopeCI.Hi) {
		f.intercepts(xs, ys)
	}
	if !areFinite(f.Slope, f.SlopeCI.Lo, f.SlopeCI.Hi, f.Intercept, f.InterceptCI.Lo, f.InterceptCI.Hi) {
		return PassingBablokFit{}, Refuse(fn, "ys", "", ErrOverflow)
	}
	f.Linearity = newLinearityTest(xs, ys, f.Slope, f.Intercept)
	return f, nil
}

// turnedSlopes are slopes in the order of the turn from -1 up to the vertical, and from
// below every number on to -1.
type turnedSlopes struct {
	*slopes
	below, equal int64 // slopes below -1, and of -1
	above        int64 // and above
}

func newTurnedSlopes(s *slopes) turnedSlopes {
	below, equal := s.aboutMinusOne()
	return turnedSlopes{s, below, equal, s.total.data - below - equal}
}

// counted returns N*.
func (t turnedSlopes) counted() int64 { return t.above + t.vertical + t.below }

// at returns the slope at a place of the turn, counted from 1. The vertical is infinite.
func (t turnedSlopes) at(place int64) float64 {
	switch {
	case place <= t.above:
		return t.nth(t.below + t.equal + place - 1)
	case place <= t.above+t.vertical:
		return math.Inf(1)
	}
	return t.nth(place - t.above - t.vertical - 1)
}

func (f *PassingBablokFit) slopeLimits(t turnedSlopes, level float64) {
	f.SlopeCI = ConfidenceSet{Shape: Everything, Interval: Interval{Level: level}}
	untied := make([]int, f.N)
	for i := range untied {
		untied[i] = 1
	}
	f.LowerRank = normalRank(float64(f.Slopes), kendallDeviation(untied), level, func(x float64) float64 { return math.Floor(x + 0.5) })
	if f.LowerRank < 1 {
		f.Warnings = []Warning{unboundedSlopes(f.N)}
		return
	}
	f.UpperRank = f.Slopes - f.LowerRank + 1
	f.SlopeCI.Shape, f.SlopeCI.Lo, f.SlopeCI.Hi = Between, t.at(f.LowerRank), t.at(f.UpperRank)
	if f.UpperRank > t.above {
		f.SlopeCI.Shape, f.SlopeCI.Lo, f.SlopeCI.Hi = Outside, max(-math.MaxFloat64, -math.Abs(f.SlopeCI.Hi)), f.SlopeCI.Lo
		f.Warnings = []Warning{{Code: WarnUnbounded, Text: "the upper limit of the slope is vertical or beyond; more points or a wider range would help"}}
	}
}

func (f *PassingBablokFit) intercepts(xs, ys []float64) {
	f.Intercept = medianOffset(xs, ys, f.Slope)
	f.InterceptCI = ConfidenceSet{Shape: Everything, Interval: Interval{Level: f.SlopeCI.Level}}
	if f.SlopeCI.Shape == Between {
		a, b := medianOffset(xs, ys, f.SlopeCI.Hi), medianOffset(xs, ys, f.SlopeCI.Lo)
		f.InterceptCI.Shape, f.InterceptCI.Lo, f.InterceptCI.Hi = Between, min(a, b), max(a, b)
	}
}
