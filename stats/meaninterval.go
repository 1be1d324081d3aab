package stats

import (
	"fmt"
	"math"
)

// Estimate is a mean with its t interval and what decides how far to trust it.
type Estimate struct {
	Summary
	StdErr   float64 // StdDev/√N
	DF       float64 // degrees of freedom, N-1
	CI       Interval
	Warnings []Warning
}

// MeanInterval returns the mean of xs and its two-sided Student t interval
//
//	x̄ ± t(1-α/2; n-1) · s/√n,   α = 1 - level
//
// where s has divisor n-1. xs holds n ≥ 2 finite values in any order and is not
// changed; the result has the unit of xs. level is a fraction in (0, 1).
//
// It assumes independent draws from a normal population; values read at one
// place are not independent, so average them first. If all values are equal the
// interval has no width and Warnings holds [WarnConstant].
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrLevel] or
// [ErrOverflow].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2, confidence
// limits for the mean.
func MeanInterval(xs []float64, level float64) (Estimate, error) {
	const fn = "stats.MeanInterval"
	s, err := summarize(fn, "xs", xs)
	if err != nil {
		return Estimate{}, err
	}
	return meanInterval(fn, s, level)
}

// MeanIntervalOf is [MeanInterval] for a caller who holds only n, x̄ and s.
// StdDev must be at least 0.
//
// Errors are those of [MeanInterval], or around [ErrParameter] for a standard
// deviation below 0.
func MeanIntervalOf(s Summary, level float64) (Estimate, error) {
	const fn = "stats.MeanIntervalOf"
	if err := s.check(fn, "s", 2); err != nil {
		return Estimate{}, err
	}
	return meanInterval(fn, s, level)
}

func meanInterval(fn string, s Summary, level float64) (Estimate, error) {
	if err := checkFraction(fn, "level", level); err != nil {
		return Estimate{}, err
	}
	e := Estimate{Summary: s, StdErr: s.StdDev / math.Sqrt(float64(s.N)), DF: float64(s.N - 1)}
	half := newStudentT(e.DF).upperQuantile((1-level)/2) * e.StdErr
	e.CI = Interval{Lo: s.Mean - half, Hi: s.Mean + half, Level: level}
	if !isFinite(e.CI.Lo) || !isFinite(e.CI.Hi) {
		return Estimate{}, Refuse(fn, "level", text(level), ErrOverflow)
	}
	if s.StdDev == 0 {
		e.Warnings = append(e.Warnings, Warning{Code: WarnConstant,
			Text: fmt.Sprintf("all %d values are equal, so the interval has no width; check that they are separate measurements", s.N)})
	}
	return e, nil
}
