package stats

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// normalTail returns P(Z > x) of the standard normal distribution to full
// relative accuracy. erfc is asked at a rounded x/√2, which matters far out; the
// difference of the squares puts it right.
func normalTail(x float64) float64 {
	switch {
	case x < -8.5:
		return 1
	case x > 39:
		return 0
	}
	y := x / math.Sqrt2
	if x < 1 {
		return 0.5 * math.Erfc(y)
	}
	square, half := float64(y*y), float64(0.5*x*x)
	miss := (square - half) + (math.FMA(y, y, -square) - math.FMA(0.5*x, x, -half))
	return 0.5 * math.Erfc(y) * (1 + miss)
}

// normalDensity returns e^(-x²/2)/√(2π), with the rounding of x² put right.
func normalDensity(x float64) float64 {
	if math.Abs(x) > 40 {
		return 0
	}
	half := float64(0.5 * x * x)
	rest := math.FMA(0.5*x, x, -half)
	return math.Exp(-half) * (1 - rest) / (math.Sqrt2 * math.SqrtPi)
}

// normalQuantile returns the z with P(Z ≤ z) = p for p in (0, 1).
func normalQuantile(p float64) float64 { return mathext.NormalQuantile(p) }

// hazard returns φ(x)/Φ(x) to a few percent below 0 and fully above, which is
// enough to find where an integrand is large.
func hazard(x float64) float64 {
	if x < 0 {
		return 0.25 * (math.Sqrt(x*x+8) - 3*x)
	}
	return normalDensity(x) / normalTail(-x)
}
