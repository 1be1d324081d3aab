package stats

import "math"

// SlopeP tests the slope against a value, such as 1 for a gauge that needs no more
// than an offset, and returns t and its two-sided p with N-2 degrees of freedom. By
// the angle method
//
//	t = sin(2(θ-θ₀))/(2k),   tan θ = b₁/√λ,   tan θ₀ = value/√λ
//
// with k as in [FitDeming], which is exact; by the jackknife t is
// (b₁-value)/StdErr. A value is in SlopeCI when p is at least 1 - level, except that
// the test by angle can't tell a slope from the one at right angles to it.
//
// Errors are [*InputError] around [ErrTooFew] (a zero DemingFit), [ErrNotFinite] or
// [ErrParameter].
func (f DemingFit) SlopeP(value float64) (t, p float64, err error) {
	const fn = "stats.DemingFit.SlopeP"
	if err := checkCoefficient(fn, f.Slope, f.N-2); err != nil {
		return 0, 0, err
	}
	if err := checkRatio(fn, "f.VarYOverVarX", f.VarYOverVarX); err != nil {
		return 0, 0, err
	}
	if !isFinite(value) {
		return 0, 0, Refuse(fn, "value", text(value), ErrNotFinite)
	}
	off, stdErr := f.Slope.Value-value, f.Slope.StdErr
	if f.Method == DemingAngle {
		root := math.Sqrt(f.VarYOverVarX)
		off = math.Sin(2 * (math.Atan(f.Slope.Value/root) - math.Atan(value/root)))
		stdErr = 2 * f.angleError()
	}
	t, p = tRatio(off, stdErr, float64(f.N-2))
	return t, p, nil
}

// jackknife sets the standard errors √((n-1)/n·Σ(bᵢ-b̄)²) of the fits without point i.
func (f *DemingFit) jackknife(fn string, xs, ys []float64) error {
	n := len(xs)
	intercepts, slopes := make([]float64, n), make([]float64, n)
	restX, restY := append([]float64(nil), xs[1:]...), append([]float64(nil), ys[1:]...)
	for i := range xs {
		s, err := summarizePairs(fn, restX, restY)
		if err != nil {
			return err
		}
		line, err := demingLine(fn, "xs, ys", &s, f.VarYOverVarX)
		if err != nil {
			return &InputError{Func: fn, Arg: "xs, ys without point", Index: i, Err: ErrNoSlope}
		}
		intercepts[i], slopes[i] = line.Intercept, line.Slope
		if i < n-1 {
			restX[i], restY[i] = xs[i], ys[i]
		}
	}
	var err error
	if f.Intercept.StdErr, err = jackknifeStdErr(fn, intercepts); err != nil {
		return err
	}
	f.Slope.StdErr, err = jackknifeStdErr(fn, slopes)
	return err
}

func jackknifeStdErr(fn string, fits []float64) (float64, error) {
	d, err := describe(fn, "xs, ys", fits)
	n := float64(len(fits))
	return d.StdDev * (n - 1) / math.Sqrt(n), err
}
