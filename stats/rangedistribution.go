package stats

import "math"

// The range of n values from a normal population is n·∫ φ(x)·(Φ(x+w)-Φ(x))^(n-1) dx
// likely to be at most w standard deviations. The integrals of this file are over the
// whole line and of smooth functions that fall off like φ, so that the trapezoid rule
// converges faster than any power of its step.

const (
	rangeStep  = 0.05 // of the mean; narrow enough for any n
	rangeReach = 9.5  // φ beyond is below 1e-20
)

// rangeMean returns the mean d₂ of the range, ∫ 1 - Φ(x)^n - (1-Φ(x))^n dx.
func rangeMean(n int) float64 {
	if n == 2 {
		return 2 / math.Sqrt(math.Pi)
	}
	k := float64(n)
	outside := func(x float64) float64 {
		tail := normalTail(x)
		return -math.Expm1(k*math.Log1p(-tail)) - math.Pow(tail, k)
	}
	sum := 0.5 * outside(0)
	for x := rangeStep; ; x += rangeStep {
		term := outside(x)
		sum += term
		if term <= 1e-18*sum {
			return 2 * rangeStep * sum
		}
	}
}

// rangeStdDev returns the standard deviation d₃ of the range. The squares about the
// mean are integrated themselves, since the difference of E(w²) and d₂² loses digits.
func rangeStdDev(n int) float64 {
	if n == 2 {
		return math.Sqrt(2 - 4/math.Pi)
	}
	mean := rangeMean(n)
	step := 0.1 * min(1, square(3.5/mean)) // of ln w, which varies less for larger n
	return math.Sqrt(step * lineSum(func(lnW float64) float64 {
		w := math.Exp(lnW)
		return w * square(w-mean) * rangeDensity(n, w)
	}, math.Log(mean), step))
}

// rangeDensity returns n(n-1)·∫ φ(x)·φ(x+w)·(Φ(x+w)-Φ(x))^(n-2) dx, about the middle of
// the range, where the integrand is even.
func rangeDensity(n int, w float64) float64 {
	k := float64(n)
	step := 0.1 * min(1, 3/math.Log(k))
	term := func(c float64) float64 {
		inside := math.Log1p(-normalTail(c+0.5*w) - normalTail(0.5*w-c))
		return math.Exp(-c*c - 0.25*w*w + (k-2)*inside)
	}
	peak := term(0)
	sum := 0.5 * peak
	for c := step; c < rangeReach; c += step {
		t := term(c)
		sum += t
		if t <= 1e-18*peak {
			break
		}
	}
	return k * (k - 1) * step * sum / math.Pi
}

// rangeBelow returns P(range ≤ w).
func rangeBelow(n int, w float64) float64 {
	k := float64(n)
	sum := 0.0
	for x := -rangeReach; x <= rangeReach; x += rangeStep {
		sum += normalDensity(x) * math.Pow(normalBetween(x, w), k-1)
	}
	return min(1, k*rangeStep*sum)
}
