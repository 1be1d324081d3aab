package stats

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// BootstrapMethod says how [Bootstrap] turns replicates into an interval. The
// zero value is no method and is refused.
type BootstrapMethod int

// The methods.
const (
	BootstrapPercentile BootstrapMethod = iota + 1 // quantiles of the replicates
	BootstrapBCa                                   // the same, corrected for bias and acceleration
)

// String returns "percentile" or "BCa".
func (m BootstrapMethod) String() string {
	switch m {
	case BootstrapPercentile:
		return "percentile"
	case BootstrapBCa:
		return "BCa"
	}
	return fmt.Sprintf("BootstrapMethod(%d)", int(m))
}

// BootstrapOptions sets how [Bootstrap] works. Only Workers has a default.
type BootstrapOptions struct {
	Replicates int             // samples drawn: at least 2/(1-Level) - 1, at most 100 million; 2000 serves most purposes
	Level      float64         // confidence of the interval, in (0, 1)
	Method     BootstrapMethod // of the interval
	Seed       uint64          // any number; the same one gives the same result
	Workers    int             // goroutines, without influence on the result; 0 means GOMAXPROCS
}

// BootstrapResult is a statistic with what its replicates say about it.
type BootstrapResult struct {
	N              int
	Value          float64 // the statistic of the sample itself
	StdErr         float64 // standard deviation of the replicates, divisor Replicates-1
	Bias           float64 // mean of the replicates minus Value
	CI             Interval
	BiasCorrection float64 // z₀ of BCa, else 0
	Acceleration   float64 // a of BCa, else 0
	Options        BootstrapOptions
	Warnings       []Warning
}

// WarnReplicates is the code of the warning that an interval asks for quantiles
// outside what the replicates can show.
const WarnReplicates WarningCode = "replicates"

// ErrOneSided is the reason a BCa interval is refused that has no finite bias
// correction.
var ErrOneSided = errors.New("all replicates lie on one side of the statistic")

const (
	mostReplicates = 100_000_000
	fewToResample  = 20 // below it, intervals are noticeably narrower than their level
)

// Bootstrap estimates how uncertain a statistic of xs is that has no formula of
// its own, by computing it again on samples drawn from xs with replacement. With
// θ̂ the statistic of xs and θ* its replicates, the percentile interval reaches
// from the α/2 to the 1-α/2 quantile of θ* ([Quantile6]); BCa takes instead the
// quantiles
//
//	Φ(z₀ + (z₀+z)/(1-a(z₀+z))),   z = Φ⁻¹(α/2) and Φ⁻¹(1-α/2)
//
// where z₀ is Φ⁻¹ of the share of θ* below θ̂, ties counted by half, and a is
// -1/6 of the skewness over √n of the values the statistic takes when one value
// of xs is left out.
//
// xs holds n ≥ 2 finite values, which are independent draws from one population,
// and is not changed. statistic gets a sample of n values, or n-1 where BCa
// leaves one out, in a slice that it may reorder but not keep; it is called from
// several goroutines at once. With few values the intervals are too narrow,
// which Warnings says ([WarnSmallN]); for a mean [MeanInterval] is better.
//
// Replicate i draws from its own stream, PCG-DXSM started from Seed and i, so
// the result is the same on every machine and for any number of workers.
//
// The first error of statistic, by number of the replicate, is returned inside an
// [*InputError], as is a value that is not finite. A panic in statistic goes on
// in the goroutine of the caller. An error of ctx is returned as it is, wrapped.
// Other errors are [*InputError] around [ErrTooFew], [ErrNotFinite],
// [ErrLevel], [ErrParameter], [ErrOneSided] or [ErrOverflow].
//
// Source: B. Efron, Better bootstrap confidence intervals, Journal of the
// American Statistical Association 82 (1987) 171-185; B. Efron and R. J.
// Tibshirani, An Introduction to the Bootstrap, Chapman & Hall 1993, chapters 13
// and 14.
func Bootstrap(ctx context.Context, xs []float64, statistic func(sample []float64) (float64, error), o BootstrapOptions) (BootstrapResult, error) {
	const fn = "stats.Bootstrap"
	if err := checkBootstrap(fn, ctx, xs, statistic, o); err != nil {
		return BootstrapResult{}, err
	}
	e := evaluation{fn: fn, statistic: statistic, length: len(xs), workers: o.Workers}
	if e.workers == 0 {
		e.workers = runtime.GOMAXPROCS(0)
	}
	value, err := e.run(ctx, "statistic of xs", 1, func(_ int, sample []float64) []float64 {
		copy(sample, xs)
		return sample
	})
	if err != nil {
		return BootstrapResult{}, err
	}
	replicates, err := e.run(ctx, "statistic of replicate", o.Replicates, func(i int, sample []float64) []float64 {
		resample(sample, xs, o.Seed, i)
		return sample
	})
	if err != nil {
		return BootstrapResult{}, err
	}
	r := BootstrapResult{N: len(xs), Value: value[0], Options: o}
	if err := r.describe(fn, replicates); err != nil {
		return BootstrapResult{}, err
	}
	if o.Method == BootstrapBCa && r.StdErr > 0 {
		if err := r.correct(ctx, &e, xs, replicates); err != nil {
			return BootstrapResult{}, err
		}
	}
	r.interval(replicates)
	return r, nil
}

func checkBootstrap(fn string, ctx context.Context, xs []float64, statistic func([]float64) (float64, error), o BootstrapOptions) error {
	if len(xs) < 2 {
		return tooFew(fn, "xs", len(xs), 2)
	}
	if err := checkFinite(fn, "xs", xs); err != nil {
		return err
	}
	if err := checkFraction(fn, "o.Level", o.Level); err != nil {
		return err
	}
	need := math.Ceil(2/(1-o.Level)-1e-9) - 1
	switch {
	case float64(o.Replicates) < need:
		return Refuse(fn, "o.Replicates", text(float64(o.Replicates)), fmt.Errorf("%w (level %v needs %v)", ErrTooFew, o.Level, need))
	case o.Replicates > mostReplicates:
		return outOfRange(fn, "o.Replicates", text(float64(o.Replicates)), "at most 100 million")
	case o.Method != BootstrapPercentile && o.Method != BootstrapBCa:
		return outOfRange(fn, "o.Method", o.Method.String(), "BootstrapPercentile or BootstrapBCa")
	case o.Workers < 0:
		return outOfRange(fn, "o.Workers", text(float64(o.Workers)), "0 or more")
	case statistic == nil:
		return outOfRange(fn, "statistic", "nil", "a function")
	case ctx == nil:
		return outOfRange(fn, "ctx", "nil", "a context")
	}
	return nil
}

// describe fills in standard error and bias and sorts the replicates.
func (r *BootstrapResult) describe(fn string, replicates []float64) error {
	s, err := summarize(fn, "replicates", replicates)
	if err != nil {
		return err
	}
	r.StdErr, r.Bias = s.StdDev, s.Mean-r.Value
	if !isFinite(r.Bias) {
		return Refuse(fn, "replicates", "", ErrOverflow)
	}
	slices.Sort(replicates)
	if r.StdErr == 0 {
		r.Warnings = append(r.Warnings, Warning{Code: WarnConstant, Text: "all replicates are equal, so the interval has no width"})
	}
	if r.N < fewToResample {
		r.Warnings = append(r.Warnings, Warning{Code: WarnSmallN, Text: fmt.Sprintf(
			"%d values show little of the tails of their population, so the interval is too narrow for its level; %d values would be better", r.N, fewToResample)})
	}
	return nil
}

// correct finds z₀ and a of a BCa interval.
func (r *BootstrapResult) correct(ctx context.Context, e *evaluation, xs, sorted []float64) error {
	below, _ := slices.BinarySearch(sorted, r.Value)
	equal := count(sorted[below:], r.Value)
	share := (float64(below) + float64(equal)/2) / float64(len(sorted))
	if share == 0 || share == 1 {
		return Refuse(e.fn, "statistic", "", ErrOneSided)
	}
	r.BiasCorrection = distuv.UnitNormal.Quantile(share)
	leftOut, err := e.run(ctx, "statistic without value", len(xs), func(i int, sample []float64) []float64 {
		return append(append(sample[:0], xs[:i]...), xs[i+1:]...)
	})
	if err != nil {
		return err
	}
	var a Accumulator
	a.AddSlice(leftOut)
	skewness, err := a.SkewnessMoment()
	if err != nil && !isNoSpread(err) {
		return Refuse(e.fn, "statistic without value", "", errors.Unwrap(err))
	}
	r.Acceleration = -skewness / (6 * math.Sqrt(float64(r.N)))
	return nil
}

// interval takes the quantiles of the sorted replicates.
func (r *BootstrapResult) interval(sorted []float64) {
	lower := (1 - r.Options.Level) / 2
	r.CI = Interval{Lo: r.limit(sorted, lower), Hi: r.limit(sorted, 1-lower), Level: r.Options.Level}
}

// limit returns the replicate that bounds the interval at p.
func (r *BootstrapResult) limit(sorted []float64, p float64) float64 {
	if r.Options.Method == BootstrapBCa && r.StdErr > 0 {
		p = r.corrected(p)
	}
	n := len(sorted)
	if h := float64(p * float64(n+1)); h < 1-1e-9 || h > float64(n)+1e-9 {
		r.Warnings = append(r.Warnings, Warning{Code: WarnReplicates, Text: fmt.Sprintf(
			"a limit lies at the fraction %.2g of the replicates, outside what %d of them show; draw more", p, n)})
	}
	lower, fraction := Quantile6.position(n, p)
	return interpolate(sorted[min(max(lower, 0), n-1)], sorted[min(max(lower+1, 0), n-1)], fraction)
}

// corrected returns the fraction that BCa takes instead of p. Where the
// acceleration is so large that 1-a(z₀+z) is not positive, the limit is beyond
// all replicates.
func (r *BootstrapResult) corrected(p float64) float64 {
	z := r.BiasCorrection + distuv.UnitNormal.Quantile(p)
	scale := 1 - float64(r.Acceleration*z)
	if scale <= 0 {
		return math.Round(distuv.UnitNormal.CDF(z))
	}
	return distuv.UnitNormal.CDF(r.BiasCorrection + z/scale)
}
