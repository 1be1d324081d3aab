package stats

import "math"

// ReplicateRatio is the ratio of two error variances, estimated from repeated
// measurements.
type ReplicateRatio struct {
	SDX, SDY          float64 // of a single measurement, pooled over the locations
	DFX, DFY          float64
	VarYOverVarX      float64  // of single measurements
	CI                Interval // of VarYOverVarX
	VarYOverVarXMeans float64  // of the means of the locations
}

// NewReplicateRatio estimates the ratio of the error variances from the scatter
// within locations: xs[i] holds the x measured at location i, ys[i] the y, in any
// number; only locations with two or more add to a scatter, and at least one does
// for x and for y. With s² = ΣΣ(xᵢⱼ-x̄ᵢ)²/Σ(nᵢ-1) of each, the ratio and its interval
// from the F distribution are
//
//	s²(y)/s²(x),   s²(y)/s²(x) / F(1-α/2; νy, νx),   s²(y)/s²(x) · F(1-α/2; νx, νy)
//
// exact for independent normal errors. The ratio for the means of the locations is
// that times the mean of 1/nᵢ for y over the mean of 1/nᵢ for x. Repeated readings
// without lifting the gauge show less than the error of a reading.
//
// Errors are [*InputError] around [ErrLength], [ErrTooFew], [ErrNotFinite],
// [ErrLevel], [ErrNoSpread] where either has no scatter, [ErrOverflow] or
// [ErrUnderflow].
//
// Source: the interval of [EqualVariances], with variances pooled over the locations.
func NewReplicateRatio(xs, ys [][]float64, level float64) (ReplicateRatio, error) {
	return newReplicateRatio("stats.NewReplicateRatio", xs, ys, level)
}

func newReplicateRatio(fn string, xs, ys [][]float64, level float64) (ReplicateRatio, error) {
	if len(xs) != len(ys) {
		return ReplicateRatio{}, Refuse(fn, "ys", text(float64(len(ys)))+" locations for "+text(float64(len(xs))), ErrLength)
	}
	if err := checkFraction(fn, "level", level); err != nil {
		return ReplicateRatio{}, err
	}
	x, err := pooledWithin(fn, "xs", xs)
	if err != nil {
		return ReplicateRatio{}, err
	}
	y, err := pooledWithin(fn, "ys", ys)
	if err != nil {
		return ReplicateRatio{}, err
	}
	r := ReplicateRatio{SDX: math.Sqrt(x.variance), SDY: math.Sqrt(y.variance), DFX: x.df, DFY: y.df, VarYOverVarX: y.variance / x.variance}
	alpha := 1 - level
	f := FDistribution{df1: y.df, df2: x.df}
	r.CI = Interval{Lo: r.VarYOverVarX / f.quantile(1-alpha/2, alpha/2), Hi: r.VarYOverVarX / f.quantile(alpha/2, 1-alpha/2), Level: level}
	r.VarYOverVarXMeans = r.VarYOverVarX * y.share / x.share
	if !areFinite(r.VarYOverVarX, r.VarYOverVarXMeans, r.CI.Lo, r.CI.Hi) || r.VarYOverVarXMeans == 0 {
		return ReplicateRatio{}, Refuse(fn, "ys", "", ErrOverflow)
	}
	return r, nil
}

// pooledWithin returns the scatter within groups where there is some.
func pooledWithin(fn, arg string, groups [][]float64) (replicates, error) {
	r, err := newReplicates(fn, arg, groups, 0)
	switch {
	case err != nil:
		return r, err
	case r.df == 0:
		return r, tooFew(fn, arg+", repeated measurements", 0, 1)
	case r.variance == 0:
		return r, Refuse(fn, arg, "", ErrNoSpread)
	}
	return r, nil
}

// ReplicatedDemingFit is a [DemingFit] to the means of locations with the ratio it
// took from the scatter within them.
type ReplicatedDemingFit struct {
	DemingFit
	Ratio ReplicateRatio
}

// FitDemingReplicates fits a line to the means of locations where both x and y were
// measured more than once, with the ratio of [NewReplicateRatio] for the means. The
// intervals take the ratio as known; where it rests on few degrees of freedom (see
// Ratio.CI) fit again with the ends of its interval to see what it moves. Every
// location is to have the same number of x, and the same number of y, since a mean
// of more readings has less error; otherwise ([ErrLength]) use [FitYork].
//
// Other errors are those of [FitDeming] and NewReplicateRatio.
//
// Source: K. Linnet, Estimation of the linear relationship between the measurements
// of two methods with proportional errors, Statistics in Medicine 9 (1990) 1463-1473.
func FitDemingReplicates(xs, ys [][]float64, level float64, method DemingMethod) (ReplicatedDemingFit, error) {
	const fn = "stats.FitDemingReplicates"
	if err := method.check(fn, "method"); err != nil {
		return ReplicatedDemingFit{}, err
	}
	ratio, err := newReplicateRatio(fn, xs, ys, level)
	if err != nil {
		return ReplicatedDemingFit{}, err
	}
	meansX, err := equalGroupMeans(fn, "xs", xs)
	if err != nil {
		return ReplicatedDemingFit{}, err
	}
	meansY, err := equalGroupMeans(fn, "ys", ys)
	if err != nil {
		return ReplicatedDemingFit{}, err
	}
	fit, err := fitDeming(fn, meansX, meansY, DemingOptions{VarYOverVarX: ratio.VarYOverVarXMeans, Level: level, Method: method})
	if err != nil {
		return ReplicatedDemingFit{}, err
	}
	return ReplicatedDemingFit{DemingFit: fit, Ratio: ratio}, nil
}

func equalGroupMeans(fn, arg string, groups [][]float64) ([]float64, error) {
	means := make([]float64, len(groups))
	for i, group := range groups {
		if len(group) != len(groups[0]) {
			return nil, &InputError{Func: fn, Arg: arg, Index: i, Err: ErrLength}
		}
		means[i] = pairMean(group).hi
	}
	return means, nil
}
