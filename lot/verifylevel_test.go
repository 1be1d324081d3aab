package lot

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The level of F then t where contractor (10 results) and agency (5) have one mean,
// at 5 % each. Wanted are shares of a simulation in R 4.2.2 of 200000 draws,
// set.seed(1), with x and y rows of matrix(rnorm(200000*n), 200000), vx and vy their
// variances:
//
//	p <- ifelse(2*pmin(pf(vx/vy, 9, 4), 1-pf(vx/vy, 9, 4)) <= .05, welch, pooled)
//	mean(p <= .05)
//
// and four standard errors of both simulations are allowed.
func TestLevelOfFThenT(t *testing.T) {
	const trials = 40000
	rng := rand.New(rand.NewPCG(73, 74))
	for _, tt := range []struct{ agencyStdDev, want float64 }{{1, 0.049785}, {3, 0.08496}} {
		rejected := 0
		x, y := make([]float64, 10), make([]float64, 5)
		for range trials {
			for i := range x {
				x[i] = rng.NormFloat64()
			}
			for i := range y {
				y[i] = tt.agencyStdDev * rng.NormFloat64()
			}
			v := Verification{Terms: VerificationTerms{Kind: IndependentSamples, VarianceAlpha: 0.05, MeanAlpha: 0.05}}
			if err := v.compare(x, y); err != nil {
				t.Fatal(err)
			}
			if v.Finding == DifferenceShown {
				rejected++
			}
		}
		got := float64(rejected) / trials
		allowed := 4 * math.Sqrt(tt.want*(1-tt.want)*(1.0/trials+1.0/200000))
		if math.Abs(got-tt.want) > allowed {
			t.Errorf("standard deviation %g: rejected %.4f, want %.4f ± %.4f", tt.agencyStdDev, got, tt.want, allowed)
		}
	}
}
