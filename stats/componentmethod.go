package stats

import (
	"fmt"
	"math"
)

// ComponentMethod names how intervals of variance components are found. The zero
// value is no method and is refused.
type ComponentMethod int

// The methods for intervals of variance components.
const (
	// ModifiedLargeSample is that of Ting and others for a difference of mean squares
	// and of Graybill and Wang for a sum: large-sample limits whose coefficients are
	// chosen to be exact where only one mean square matters. It stays close to its
	// level for any number of groups.
	ModifiedLargeSample ComponentMethod = iota + 1
	// Satterthwaite treats a component as one mean square with degrees of freedom
	// matched to its variance, at least 1. Fair for a sum; for a component that is a
	// difference it undercovers, 74 % instead of 95 % with 3 groups, and an estimate that
	// is not positive has no interval but 0 to 0: use the other.
	Satterthwaite
)

// String returns "modified large sample" or "Satterthwaite".
func (m ComponentMethod) String() string {
	switch m {
	case ModifiedLargeSample:
		return "modified large sample"
	case Satterthwaite:
		return "Satterthwaite"
	}
	return fmt.Sprintf("ComponentMethod(%d)", int(m))
}

// ComponentOptions sets how intervals of variance components are found. Both fields
// are required.
type ComponentOptions struct {
	Level  float64
	Method ComponentMethod
}

func (o ComponentOptions) check(fn string) error {
	if o.Method != ModifiedLargeSample && o.Method != Satterthwaite {
		return outOfRange(fn, "o.Method", o.Method.String(), "ModifiedLargeSample or Satterthwaite")
	}
	return checkFraction(fn, "o.Level", o.Level)
}

// meanSquare is a mean square, or a combination taken for one, with a multiple.
type meanSquare struct{ ms, df, factor float64 }

func (m meanSquare) value() float64 { return m.factor * m.ms }

// low and high are the parts of a mean square by which its own exact limits lie
// below and above it: 1 - ν/χ²(upper α/2), ν/χ²(lower α/2) - 1.
func (m meanSquare) low(alpha float64) float64 {
	return 1 - m.df/newChiSquared(m.df).quantile(1-alpha/2, alpha/2)
}

func (m meanSquare) high(alpha float64) float64 {
	return m.df/newChiSquared(m.df).quantile(alpha/2, 1-alpha/2) - 1
}

// sumInterval returns the limits of Σ fᵢMSᵢ, all factors positive: Graybill and Wang's
// √Σ(gᵢfᵢMSᵢ)² below and √Σ(hᵢfᵢMSᵢ)² above, exact for a single mean square. Squares keep
// the signs of gᵢ and hᵢ: at a low level both limits of a mean square lie above it.
func sumInterval(level float64, parts ...meanSquare) Interval {
	var value, below, above float64
	for _, part := range parts {
		value += part.value()
		below = signedHypot(below, part.low(1-level)*part.value())
		above = signedHypot(above, part.high(1-level)*part.value())
	}
	return Interval{Lo: max(0, value-below), Hi: value + above, Level: level}
}

// signedHypot returns the root of a·|a| + b·|b|, with its sign.
func signedHypot(a, b float64) float64 {
	if math.Signbit(a) == math.Signbit(b) {
		return math.Copysign(math.Hypot(a, b), a)
	}
	sum := a + b
	return math.Copysign(math.Sqrt(math.Abs(sum))*math.Sqrt(math.Abs(a-b)), sum)
}

func signedSquare(x float64) float64 { return float64(x * math.Abs(x)) }

func signedRoot(x float64) float64 { return math.Copysign(math.Sqrt(math.Abs(x)), x) }

// differenceInterval returns the limits of f₁MS₁ - f₂MS₂, which stands for a variance
// and so is not less than 0, by Ting and others:
//
//	below² = (g₁a)² + (h₂b)² + G·a·b,  G = ((F-1)² - (g₁F)² - h₂²)/F at the upper F
//	above² = (h₁a)² + (g₂b)² + H·a·b,  H = ((1-F)² - (h₁F)² - g₂²)/F at the lower F
//
// with a = f₁MS₁, b = f₂MS₂. Squares and roots keep signs, as in [sumInterval], so that the
// interval of a higher level holds that of a lower one down to level 0.
func differenceInterval(level float64, upper, lower meanSquare) Interval {
	alpha := 1 - level
	whole := upper.value() + lower.value() // divided by it no square overflows
	a, b := upper.value()/whole, lower.value()/whole
	g1, h1 := upper.low(alpha), upper.high(alpha)
	g2, h2 := lower.low(alpha), lower.high(alpha)
	f := FDistribution{df1: upper.df, df2: lower.df}
	above, below := f.quantile(1-alpha/2, alpha/2), f.quantile(alpha/2, 1-alpha/2)
	cross := (signedSquare(above-1) - signedSquare(g1*above) - signedSquare(h2)) / above
	underLimit := signedRoot(signedSquare(g1*a) + signedSquare(h2*b) + cross*a*b)
	cross = (signedSquare(1-below) - signedSquare(h1*below) - signedSquare(g2)) / below
	overLimit := signedRoot(signedSquare(h1*a) + signedSquare(g2*b) + cross*a*b)
	return Interval{Lo: whole * max(0, a-b-underLimit), Hi: whole * max(0, a-b+overLimit), Level: level}
}

// satterthwaite returns the degrees of freedom (Σfᵢ·MSᵢ)²/Σ((fᵢ·MSᵢ)²/νᵢ), 0 where
// the sum is not positive.
func satterthwaite(parts ...meanSquare) float64 {
	var value, below float64
	for _, part := range parts {
		value += part.value()
	}
	if !(value > 0) {
		return 0
	}
	for _, part := range parts {
		below += square(part.value()/value) / part.df
	}
	return 1 / below
}

// fewestDF is what the degrees of freedom of a component near 0 count as at least:
// with fewer the interval of chi-square would leave out the estimate itself.
const fewestDF = 1

// satterthwaiteInterval returns ν·v/χ² on both sides, or none of any width where v is
// not positive.
func satterthwaiteInterval(level, variance, df float64) Interval {
	if !(variance > 0) {
		return Interval{Level: level}
	}
	m := meanSquare{ms: variance, df: max(df, fewestDF), factor: 1}
	hi := min(variance*(1+m.high(1-level)), math.MaxFloat64)
	return Interval{Lo: variance * (1 - m.low(1-level)), Hi: hi, Level: level}
}
