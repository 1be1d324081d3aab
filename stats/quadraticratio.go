package stats

import (
	"math"
	"math/cmplx"
)

// ratioTail returns P(Σλz²/Σz² < r), or > r if upper, for independent standard normal
// z and the given λ, of which at least one lies on either side of r: the exact null
// distribution of the statistics of serial correlation. Where none does the answer is
// 0 or 1.
//
// With μ = ±(λ-r) it is P(Σμz² > 0), which the inversion of the moment generating
// function M(s) = Π(1-2μs)^(-1/2) gives as the integral of M(s)/s over the line
// Re s = c, divided by 2πi, for any c between 0 and the first pole. On the line through the
// saddle point the integrand is largest at the real axis and hardly turns, so that
// nothing cancels and small tails keep their digits; with s = c + i·a·sinh(v), a the
// distance to the nearer singularity, it falls off exponentially in v and the
// trapezoid rule converges geometrically.
//
// Source: J. P. Imhof, Computing the distribution of quadratic forms in normal
// variables, Biometrika 48 (1961) 419-426, for the inversion; S. O. Rice, Distribution
// of quadratic forms in normal random variables, SIAM Journal on Scientific and
// Statistical Computing 1 (1980) 438-448, for the line through the saddle point.
func ratioTail(lambda []float64, r float64, upper bool) float64 {
	mu := make([]float64, len(lambda))
	var lowest, highest float64
	for i, l := range lambda {
		mu[i] = r - l
		if upper {
			mu[i] = l - r
		}
		lowest, highest = min(lowest, mu[i]), max(highest, mu[i])
	}
	switch {
	case highest <= 0:
		return 0
	case lowest >= 0:
		return 1
	}
	for i := range mu {
		mu[i] /= 2 * highest // so that the first pole is at 1
	}
	c := ratioSaddle(mu)
	return min(1, ratioIntegral(mu, c))
}

// ratioSaddle returns the c in (0, 1) where Σ -½·ln(1-2μc) - ln c is least, by
// bisection of its rising derivative.
func ratioSaddle(mu []float64) float64 {
	lo, hi := 0.0, 1.0
	for range 60 { // a near miss moves the line only, not the integral
		c := 0.5 * (lo + hi)
		slope := -1 / c
		for _, m := range mu {
			slope += m / (1 - 2*m*c)
		}
		if slope > 0 {
			hi = c
		} else {
			lo = c
		}
	}
	return 0.5 * (lo + hi)
}

func ratioIntegral(mu []float64, c float64) float64 {
	a := min(c, 1-c)
	curvature := 1 / (c * c) // of the exponent at the saddle, the width of its peak
	for _, m := range mu {
		curvature += 2 * square(m/(1-2*m*c))
	}
	step := min(0.2, 0.5/(a*math.Sqrt(curvature)))
	sum := 0.5 * real(ratioIntegrand(mu, complex(c, 0)))
	for k := 1; k < mostRatioNodes; k++ {
		v := float64(k) * step
		term := ratioIntegrand(mu, complex(c, a*math.Sinh(v))) * complex(math.Cosh(v), 0)
		sum += real(term)
		if cmplx.Abs(term) < 1e-17*sum {
			break
		}
	}
	return sum * step * a / math.Pi
}

// mostRatioNodes is far beyond what the slowest integrand, of two z, takes.
const mostRatioNodes = 20000

// ratioIntegrand returns Π(1-2μs)^(-1/2)/s. Each factor has a positive real part, so
// the principal roots join smoothly; their logarithms add without overflow.
func ratioIntegrand(mu []float64, s complex128) complex128 {
	sum := cmplx.Log(s)
	for _, m := range mu {
		sum += 0.5 * cmplx.Log(1-complex(2*m, 0)*s)
	}
	return cmplx.Exp(-sum)
}
