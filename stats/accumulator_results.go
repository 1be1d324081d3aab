package stats

import "math"

// N returns how many values were taken in.
func (a *Accumulator) N() int { return a.n }

// Err returns the error of the first value that could not be taken in, an
// [*InputError] around [ErrNotFinite] or [ErrOverflow] whose Index is the number
// of values before it, or nil.
func (a *Accumulator) Err() error { return a.err }

// Mean returns the mean of at least one value. The error is that of [Accumulator.Err]
// or [*InputError] around [ErrTooFew].
func (a *Accumulator) Mean() (float64, error) {
	if err := a.need("stats.Accumulator.Mean", 1); err != nil {
		return 0, err
	}
	return a.mean.value(), nil
}

// Description returns n, the mean, the standard deviation (divisor n-1) and the
// extremes of at least two values. Errors are those of [Accumulator.Err], and
// [*InputError] around [ErrTooFew], [ErrOverflow] or [ErrUnderflow].
func (a *Accumulator) Description() (Description, error) {
	const fn = "stats.Accumulator.Description"
	if err := a.need(fn, 2); err != nil {
		return Description{}, err
	}
	m2, err := a.spread(fn)
	if err != nil {
		return Description{}, err
	}
	s := math.Sqrt(m2 / float64(a.n-1))
	return Description{Summary: Summary{N: a.n, Mean: a.mean.value(), StdDev: s}, Min: a.lo, Max: a.hi}, nil
}

// SkewnessMoment returns the moment coefficient of skewness of at least two
// values, not all equal:
//
//	g₁ = m₃/m₂^(3/2),   mₖ = Σ(x-x̄)ᵏ/n
//
// It is 0 for a symmetric sample and positive for a long upper tail. Errors are
// those of [Accumulator.Description] and [ErrNoSpread].
//
// Source: D. N. Joanes and C. A. Gill, Comparing measures of sample skewness and
// kurtosis, The Statistician 47 (1998) 183-189.
func (a *Accumulator) SkewnessMoment() (float64, error) {
	return a.skewness("stats.Accumulator.SkewnessMoment", 2)
}

// SkewnessAdjusted returns the adjusted Fisher-Pearson coefficient of skewness
// of at least three values, not all equal:
//
//	G₁ = g₁·√(n(n-1))/(n-2)
//
// with g₁ as in [Accumulator.SkewnessMoment], whose errors and source it shares.
func (a *Accumulator) SkewnessAdjusted() (float64, error) {
	g, err := a.skewness("stats.Accumulator.SkewnessAdjusted", 3)
	n := float64(a.n)
	if err != nil {
		return 0, err
	}
	return g * math.Sqrt(n*(n-1)) / (n - 2), nil
}

// KurtosisMoment returns the excess kurtosis by moments of at least two values,
// not all equal:
//
//	g₂ = m₄/m₂² - 3,   mₖ = Σ(x-x̄)ᵏ/n
//
// It is near 0 for a normal sample. Errors and source are those of
// [Accumulator.SkewnessMoment].
func (a *Accumulator) KurtosisMoment() (float64, error) {
	return a.kurtosis("stats.Accumulator.KurtosisMoment", 2)
}

// KurtosisAdjusted returns the excess kurtosis of at least four values, not all
// equal, that has no bias in normal samples:
//
//	G₂ = (n-1)/((n-2)(n-3)) · ((n+1)g₂ + 6)
//
// with g₂ as in [Accumulator.KurtosisMoment], whose errors and source it shares.
func (a *Accumulator) KurtosisAdjusted() (float64, error) {
	g, err := a.kurtosis("stats.Accumulator.KurtosisAdjusted", 4)
	n := float64(a.n)
	if err != nil {
		return 0, err
	}
	return (n - 1) / ((n - 2) * (n - 3)) * (float64((n+1)*g) + 6), nil
}

func (a *Accumulator) skewness(fn string, atLeast int) (float64, error) {
	sigma, err := a.sigma(fn, atLeast)
	if err != nil {
		return 0, err
	}
	return a.finite(fn, a.m3/sigma/sigma/sigma/float64(a.n))
}

func (a *Accumulator) kurtosis(fn string, atLeast int) (float64, error) {
	sigma, err := a.sigma(fn, atLeast)
	if err != nil {
		return 0, err
	}
	return a.finite(fn, a.m4/sigma/sigma/sigma/sigma/float64(a.n)-3)
}

// safeFourth is a sum of squares whose own square has lost nothing to underflow.
const safeFourth = 0x1p-450

// sigma returns the standard deviation with divisor n, which is not 0.
func (a *Accumulator) sigma(fn string, atLeast int) (float64, error) {
	if err := a.need(fn, atLeast); err != nil {
		return 0, err
	}
	m2, err := a.spread(fn)
	switch {
	case err != nil:
		return 0, err
	case m2 == 0:
		return 0, Refuse(fn, "values", "", ErrNoSpread)
	case m2 < safeFourth:
		return 0, Refuse(fn, "values", "", ErrUnderflow)
	}
	return math.Sqrt(m2 / float64(a.n)), nil
}

func (a *Accumulator) need(fn string, atLeast int) error {
	if a.err != nil {
		return a.err
	}
	if a.n < atLeast {
		return tooFew(fn, "values", a.n, atLeast)
	}
	return nil
}

// spread returns M2, exactly 0 where all values are equal.
func (a *Accumulator) spread(fn string) (float64, error) {
	m2 := a.m2.value()
	switch {
	case a.lo == a.hi:
		return 0, nil
	case !isFinite(m2):
		return 0, Refuse(fn, "values", "", ErrOverflow)
	case m2 < safeSquare:
		return 0, Refuse(fn, "values", "", ErrUnderflow)
	}
	return m2, nil
}

// finite refuses a ratio whose third or fourth powers went out of range.
func (a *Accumulator) finite(fn string, ratio float64) (float64, error) {
	if !isFinite(ratio) {
		return 0, Refuse(fn, "values", "", ErrOverflow)
	}
	return ratio, nil
}
