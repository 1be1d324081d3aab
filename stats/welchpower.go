package stats

import "math"

// reject returns the probability that the test of a plan rejects, from that with a
// critical value c of (true difference + error)/s and a standard error s with df
// degrees of freedom; tail is the one-sided significance.
//
// For Welch both depend on how the two sample variances share their sum. With
// χ1², χ2² their chi-squares, ν1 and ν2 degrees of freedom, ν = ν1+ν2, the share
// B = χ1²/(χ1²+χ2²) is beta and independent of the sum, and given B
//
//	s² = (χ1²+χ2²)·h(B),   h(B) = a·B/ν1 + b·(1-B)/ν2
//
// where a and b are the true variances of the means, so that the test is one with ν
// degrees of freedom and critical value t(1-tail; Satterthwaite at B)·√(ν·h/(a+b)).
// In θ, B = sin²θ, the density is sin^(ν1-1)·cos^(ν2-1), without singularity.
func (p MeansPlan) reject(tail float64, power func(critical, df float64) float64) float64 {
	stdErr, df := p.spread()
	if p.Design != DesignWelch {
		return power(newStudentT(df).upperQuantile(tail), df)
	}
	df1, df2 := float64(p.N1-1), float64(p.N2-1)
	df = df1 + df2
	first := p.StdDev1 / math.Sqrt(float64(p.N1)) / stdErr
	second := p.StdDev2 / math.Sqrt(float64(p.N2)) / stdErr
	share := func(theta float64) float64 {
		a, b := first*math.Sin(theta), second*math.Cos(theta)
		a, b = a*a/df1, b*b/df2
		h := a + b
		satterthwaite := h / (a/h*a/df1 + b/h*b/df2)
		return power(newStudentT(satterthwaite).upperQuantile(tail)*math.Sqrt(df*h), df)
	}
	middle := math.Atan2(math.Sqrt(df1), math.Sqrt(df2))
	density := func(theta float64) float64 {
		sine, cosine := math.Sin(theta)/math.Sin(middle), math.Cos(theta)/math.Cos(middle)
		return math.Exp((df1-1)*math.Log(sine) + (df2-1)*math.Log(cosine))
	}
	reach := chiReach / math.Sqrt(2*df)
	lo, hi := max(0, middle-reach), min(math.Pi/2, middle+reach)
	return integral(func(theta float64) float64 { return density(theta) * share(theta) }, lo, hi) / integral(density, lo, hi)
}
