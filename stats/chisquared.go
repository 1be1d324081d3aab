package stats

import "math"

// ChiSquared is the chi-square distribution with ν degrees of freedom, any
// positive real number up to 1e10: ν·s²/σ² of a normal sample has it with ν = n-1.
//
// Both tails keep their relative accuracy for degrees of freedom to 1000: 2e-14
// above 1e-15, 2e-13 down to 1e-300. A tail costs some 0.2 µs, more as the square
// root of ν; a quantile some six times that. Nothing is allocated.
//
// The zero value has no degrees of freedom and its methods return
// [ErrParameter]; make one with [NewChiSquared].
//
// Source: NIST Digital Library of Mathematical Functions, 8.7.1 and 8.9.2, with
// the power in front taken from its value at the mean.
type ChiSquared struct{ df float64 }

// NewChiSquared returns the distribution with df degrees of freedom, which must
// be at least 1e-3 and at most 1e10; otherwise the error wraps [ErrParameter].
func NewChiSquared(df float64) (ChiSquared, error) {
	if !(df >= 1e-3 && df <= mostTailDF) {
		return ChiSquared{}, outOfRange("stats.NewChiSquared", "df", text(df), "1e-3 to 1e10")
	}
	return newChiSquared(df), nil
}

func newChiSquared(df float64) ChiSquared { return ChiSquared{df: df} }

// CDF returns P(X ≤ x). NaN is refused with [ErrNotFinite]; x below 0 gives 0
// and +Inf gives 1.
func (d ChiSquared) CDF(x float64) (float64, error) {
	if err := d.check("stats.ChiSquared.CDF", x); err != nil {
		return 0, err
	}
	lower, _ := d.tails(x)
	return lower, nil
}

// Survival returns P(X > x), under the rules and with the errors of [ChiSquared.CDF].
func (d ChiSquared) Survival(x float64) (float64, error) {
	if err := d.check("stats.ChiSquared.Survival", x); err != nil {
		return 0, err
	}
	_, upper := d.tails(x)
	return upper, nil
}

// Quantile returns the x with P(X ≤ x) = p, for p in (0, 1); otherwise the error
// wraps [ErrLevel]. With few degrees of freedom an x below the float64 range is 0.
func (d ChiSquared) Quantile(p float64) (float64, error) {
	return d.checkedQuantile("stats.ChiSquared.Quantile", "p", p, p, 1-p)
}

// UpperQuantile returns the x with P(X > x) = q, under the rules and with the errors of
// [ChiSquared.Quantile].
func (d ChiSquared) UpperQuantile(q float64) (float64, error) {
	return d.checkedQuantile("stats.ChiSquared.UpperQuantile", "q", q, 1-q, q)
}

func (d ChiSquared) checkedQuantile(fn, arg string, p, lower, upper float64) (float64, error) {
	if d.df == 0 {
		return 0, outOfRange(fn, "d", "", "one made with NewChiSquared")
	}
	if err := checkFraction(fn, arg, p); err != nil {
		return 0, err
	}
	return d.quantile(lower, upper), nil
}

func (d ChiSquared) check(fn string, x float64) error {
	if d.df == 0 {
		return outOfRange(fn, "d", "", "one made with NewChiSquared")
	}
	if math.IsNaN(x) {
		return Refuse(fn, "x", text(x), ErrNotFinite)
	}
	return nil
}

// tails returns both tails, each to full relative accuracy where it is the
// smaller.
func (d ChiSquared) tails(x float64) (lower, upper float64) {
	a, h := 0.5*d.df, 0.5*x
	switch {
	case !(h > 0):
		return 0, 1
	case math.IsInf(h, 1):
		return 1, 0
	case h < a+1:
		lower = min(1, gammaSeries(a, h))
		return lower, 1 - lower
	}
	upper = min(1, gammaFraction(a, h))
	return 1 - upper, upper
}

// quantile searches in ln x from the cube of a normal variable (Wilson and
// Hilferty).
func (d ChiSquared) quantile(lower, upper float64) float64 {
	z := normalScore(lower, upper)
	spread := 2 / (9 * d.df)
	start := math.Log(d.df) + 3*math.Log(max(1-spread+z*math.Sqrt(spread), 0.01))
	return math.Exp(tailRoot(func(lnX float64) tailPlace {
		x := math.Exp(lnX)
		l, u := d.tails(x)
		return tailPlace{lower: l, upper: u, slope: gammaPower(0.5*d.df, 0.5*x), bend: 0.5 * (d.df - x)}
	}, lower, upper, start, 0.1*math.Sqrt(spread)))
}

// gammaPower returns x^a·e^-x/Γ(a) as its value at x = a times e^D,
// D = a·(ln λ - (λ-1)), λ = x/a, with that value from Stirling's formula.
func gammaPower(a, x float64) float64 {
	exponent := float64(a*lnExcess((x-a)/a, x/a)) - stirlingRemainder(a)
	return math.Sqrt(a/(2*math.Pi)) * math.Exp(exponent)
}

// gammaSeries returns P(a, x) = x^a·e^-x/Γ(a+1) · Σ x^k/(a+1)_k.
func gammaSeries(a, x float64) float64 {
	sum, term := 1.0, 1.0
	for k := 1.0; term > 1e-17*sum; k++ {
		term *= x / (a + k)
		sum += term
	}
	return gammaPower(a, x) / a * sum
}

// gammaFraction returns Q(a, x), x ≥ a+1, by its continued fraction, evaluated
// forward (Lentz).
func gammaFraction(a, x float64) float64 {
	power := gammaPower(a, x)
	if power == 0 {
		return 0
	}
	b := x + 1 - a
	c, d := math.Inf(1), 1/b
	h := d
	for k := 1.0; k < mostFractionTerms; k++ {
		even := -k * (k - a)
		b += 2
		d = 1 / (float64(even*d) + b)
		c = b + even/c
		change := c * d
		h *= change
		if math.Abs(change-1) < fractionSettled {
			break
		}
	}
	return power * h
}
