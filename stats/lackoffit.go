package stats

import (
	"cmp"
	"math"
	"slices"
)

// LackOfFitResult is the split of a line's residual into what a bent curve would explain
// and what repeated measurements show by themselves.
type LackOfFitResult struct {
	Fit       LineFit
	Levels    int            // different values of x
	Lack      VarianceSource // of the level means about the line
	PureError VarianceSource // of the values about their level means
	F         float64        // Lack.MS/PureError.MS
	P         float64        // of F, from the upper tail: that the line is straight
	Warnings  []Warning
}

// LackOfFit fits a line by [FitLine] and tests by the repeated values of x
// whether it is straight:
//
//	SS pure error = ΣΣ (yᵢⱼ-ȳᵢ)²,        N-k degrees of freedom
//	SS lack       = Σ nᵢ(ȳᵢ-b₀-b₁xᵢ)²,   k-2 degrees of freedom
//
// over the k different values of x, equal to the bit, of which there are at least
// 3. xs and ys hold finite values, more than k of them, and are not changed. P is exact
// for independent normal errors of one spread in y alone. Measuring the same core
// twice in one setting is no repetition: pure error is then too small.
//
// Where repetitions have no spread, F is math.MaxFloat64, P is 0 and Warnings holds
// [WarnNoResidual]; where the level means lie on the line as well, to the rounding of the
// points, F is 0 and P 1.
//
// Errors are those of FitLine; [ErrTooFew] also for too few levels or no repetition.
//
// Source: N. R. Draper and H. Smith, Applied Regression Analysis, 3rd edition,
// Wiley 1998, section 2.1.
func LackOfFit(xs, ys []float64) (LackOfFitResult, error) {
	const fn = "stats.LackOfFit"
	if err := checkPoints(fn, xs, ys, 3); err != nil {
		return LackOfFitResult{}, err
	}
	return lackOfFit(fn, xs, ys, pairMean(xs), pairMean(ys), 2)
}

// LackOfFitThroughOrigin is [LackOfFit] for [FitLineThroughOrigin]; the
// lack of fit has k-1 degrees of freedom, k ≥ 2. Its errors are those of LackOfFit.
func LackOfFitThroughOrigin(xs, ys []float64) (LackOfFitResult, error) {
	const fn = "stats.LackOfFitThroughOrigin"
	if err := checkPoints(fn, xs, ys, 2); err != nil {
		return LackOfFitResult{}, err
	}
	return lackOfFit(fn, xs, ys, pair{}, pair{}, 1)
}

func lackOfFit(fn string, xs, ys []float64, centreX, centreY pair, parameters int) (LackOfFitResult, error) {
	fit, err := fitLine(fn, xs, ys, centreX, centreY, parameters)
	if err != nil {
		return LackOfFitResult{}, err
	}
	levels := groupByX(xs, ys)
	switch k := len(levels); {
	case k <= parameters:
		return LackOfFitResult{}, tooFew(fn, "xs, different values", k, parameters+1)
	case k == len(xs):
		return LackOfFitResult{}, tooFew(fn, "xs, repeated values", 0, 1)
	}
	var lack, pure pair
	for _, level := range levels {
		mean := pairMean(level.ys)
		dx := pair{hi: level.x}.sub(centreX)
		off := mean.sub(centreY).sub(dx.mulFloat(fit.Slope.Value))
		if math.Abs(off.value()) > fit.rounding() {
			lack = lack.add(off.mul(off).mulFloat(float64(len(level.ys))))
		}
		pure = pure.add(squaresAboutMean(level.ys, mean))
	}
	return newLackOfFit(fit, lack, pure, len(levels), parameters), nil
}

func newLackOfFit(fit LineFit, lack, pure pair, levels, parameters int) LackOfFitResult {
	r := LackOfFitResult{Fit: fit, Levels: levels, P: 1}
	r.Lack = newVarianceSource(lack, levels-parameters)
	r.PureError = newVarianceSource(pure, fit.N-levels)
	if pure.hi == 0 {
		r.Warnings = []Warning{{Code: WarnNoResidual, Text: "repeated values of x have no spread in y, so F has no finite value"}}
	}
	if lack.hi == 0 {
		return r
	}
	r.P = 0
	var finite bool
	if r.F, finite = varianceRatio(lack, pure, r.Lack.DF, r.PureError.DF); finite {
		r.P = fTail(r.F, r.Lack.DF, r.PureError.DF)
	}
	return r
}

type xLevel struct {
	x  float64
	ys []float64
}

// groupByX collects the ys of each different x, in the order of x.
func groupByX(xs, ys []float64) []xLevel {
	order := make([]int, len(xs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(xs[a], xs[b]) })
	var levels []xLevel
	previous := math.NaN()
	for _, i := range order {
		if xs[i] != previous {
			levels = append(levels, xLevel{x: xs[i]})
			previous = xs[i]
		}
		last := &levels[len(levels)-1]
		last.ys = append(last.ys, ys[i])
	}
	return levels
}
