package stats

import (
	"fmt"
	"math"
	"slices"
)

// TheilSenOptions sets how [FitTheilSen] works. Both fields are required.
type TheilSenOptions struct {
	Level  float64
	Method RankMethod
}

// TheilSenFit is a line through the middle of the slopes of all pairs of points.
type TheilSenFit struct {
	N         int
	Pairs     int64 // pairs of points with unequal x, which have a slope
	Slope     float64
	SlopeCI   ConfidenceSet // its Level is the confidence attained
	LowerRank int64         // place of the lower limit among the sorted slopes, counted from 1; the upper limit is as far from the end
	Intercept float64
	Method    RankMethod
	Warnings  []Warning
}

// FitTheilSen fits a line that a few wild points hardly move: its slope is the median of
// the slopes of all pairs of points,
//
//	b = median (yⱼ-yᵢ)/(xⱼ-xᵢ),   a = median (yᵢ - b·xᵢ)
//
// over the N* pairs with xᵢ ≠ xⱼ. Of an even number the median is the mean of the two
// middle ones. The slope is to the last bit what sorting the quotients of float64
// arithmetic gives, on every processor and in any order of the points. Up to 29 % of the
// points may be wild without carrying it away.
//
// The limits of the slope are the slopes at place r from either end, after Kendall's sum
// S of the signs of all pairs of x and y - b·x:
//
//	RankExact    the largest r with 1 - 2·P(S ≥ N*-2r+2) at least Level
//	RankNormal   r = ⌊(N* - z·σ)/2⌋,  z(1-α/2),  σ² = (n(n-1)(2n+5) - Σt(t-1)(2t+5))/18
//
// where t points have one x. The distribution is that given the x with their ties; equal
// residuals, as of rounded y, make either interval wider than need be. With few points
// the level attained by RankExact, in SlopeCI.Level, is above Level. Where r would be 0,
// SlopeCI is [Everything] and Warnings holds [WarnUnbounded].
//
// Coverage of a nominal 95 % by simulation, normal errors, x evenly spaced or in twos:
//
//	n               3       5       10     30
//	exact, even     100 %   98 %    95 %   95 %
//	normal, even    100 %   100 %   97 %   95 %
//	exact, twos     100 %   100 %   97 %   95 %
//	normal, twos    100 %   100 %   97 %   95 %
//
// It assumes that the errors lie in y alone, are independent and come from one continuous
// distribution. xs and ys hold n ≥ 3 finite values, the x not all equal; neither is
// changed. No interval of the intercept is given, because none without further
// assumptions holds its level.
//
// Time is O(n log n) and memory O(n): some 10 ms at n = 5000, where sorting all slopes takes
// more than a hundred times as long, and half a second at 1e5. Time goes also into each
// pair whose slope agrees to the last digits with one of the three wanted, some 3 ns; on
// an exact line these are all n²/2.
//
// Errors are [*InputError] around [ErrLength], [ErrTooFew], [ErrNotFinite], [ErrNoSpread],
// [ErrLevel], [ErrParameter] (the method, or more than 50 points for RankExact) or
// [ErrOverflow] (also of a difference of two x or two y).
//
// Source: P. K. Sen, Estimates of the regression coefficient based on Kendall's tau,
// Journal of the American Statistical Association 63 (1968) 1379-1389. The intercept is
// that of M. Hollander, D. A. Wolfe and E. Chicken, Nonparametric Statistical Methods,
// 3rd edition, Wiley 2014, section 9.4 (from memory).
func FitTheilSen(xs, ys []float64, o TheilSenOptions) (TheilSenFit, error) {
	const fn = "stats.FitTheilSen"
	if err := o.check(fn, len(xs)); err != nil {
		return TheilSenFit{}, err
	}
	s, err := slopesOf(fn, xs, ys)
	if err != nil {
		return TheilSenFit{}, err
	}
	if s.total.data == 0 {
		return TheilSenFit{}, Refuse(fn, "xs", "", ErrNoSpread)
	}
	f := TheilSenFit{N: len(xs), Pairs: s.total.data, Method: o.Method}
	f.Slope = middleOf(f.Pairs, func(place int64) float64 { return s.nth(place - 1) })
	f.limits(s, tieSizes(xs), o)
	if areFinite(f.Slope) {
		f.Intercept = medianOffset(xs, ys, f.Slope)
	}
	if !areFinite(f.Slope, f.Intercept, f.SlopeCI.Lo, f.SlopeCI.Hi) {
		return TheilSenFit{}, Refuse(fn, "ys", "", ErrOverflow)
	}
	return f, nil
}

func (f *TheilSenFit) limits(s *slopes, ties []int, o TheilSenOptions) {
	f.SlopeCI = ConfidenceSet{Shape: Everything, Interval: Interval{Level: o.Level}}
	if o.Method == RankExact {
		f.LowerRank, f.SlopeCI.Level = exactRank(ties, o.Level)
	} else {
		f.LowerRank = normalRank(float64(f.Pairs), kendallDeviation(ties), o.Level, math.Floor)
	}
	if f.LowerRank < 1 {
		f.SlopeCI.Level = o.Level
		f.Warnings = []Warning{unboundedSlopes(f.N)}
		return
	}
	f.SlopeCI.Shape = Between
	f.SlopeCI.Lo, f.SlopeCI.Hi = s.nth(f.LowerRank-1), s.nth(f.Pairs-f.LowerRank)
}

// normalRank returns the place of the lower of two limits of the median of so many
// slopes, rounded as told, or 0 where there is none.
func normalRank(pairs, deviation, level float64, round func(float64) float64) int64 {
	return int64(max(0, round((pairs-float64(normalScore(1-(1-level)/2, (1-level)/2)*deviation))/2)))
}

func unboundedSlopes(n int) Warning {
	return Warning{Code: WarnUnbounded, Text: fmt.Sprintf("%d points exclude no slope at this level; more points would help", n)}
}

func (o TheilSenOptions) check(fn string, n int) error {
	if o.Method != RankExact && o.Method != RankNormal {
		return outOfRange(fn, "o.Method", o.Method.String(), "RankExact or RankNormal")
	}
	if o.Method == RankExact && n > mostExactRanks {
		return outOfRange(fn, "o.Method", fmt.Sprintf("%v for %d points, at most %d", o.Method, n, mostExactRanks), "RankNormal")
	}
	return checkFraction(fn, "o.Level", o.Level)
}

// slopesOf checks points and orders them.
func slopesOf(fn string, xs, ys []float64) (*slopes, error) {
	if err := checkPoints(fn, xs, ys, 3); err != nil {
		return nil, err
	}
	s := newSlopes(xs, ys)
	if first, last := s.points[0], s.points[len(s.points)-1]; !isFinite(last.x - first.x) {
		return nil, Refuse(fn, "xs", "", ErrOverflow)
	}
	if !isFinite(slices.Max(ys) - slices.Min(ys)) {
		return nil, Refuse(fn, "ys", "", ErrOverflow)
	}
	return s, nil
}

// middleOf returns the median of n values of which at gives that at each place, counted
// from 1.
func middleOf(n int64, at func(place int64) float64) float64 {
	if n%2 == 1 {
		return at((n + 1) / 2)
	}
	return interpolate(at(n/2), at(n/2+1), 0.5)
}

// medianOffset returns the median of y - b·x.
func medianOffset(xs, ys []float64, b float64) float64 {
	offsets := make([]float64, len(xs))
	for i, x := range xs {
		offsets[i] = ys[i] - float64(b*x)
	}
	lower, fraction := Quantile7.position(len(offsets), 0.5)
	low, high := neighbours(offsets, lower)
	return interpolate(low, high, fraction)
}
