package lot

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/densilot/densilot/stats"
)

// With one limit and no measurement error the probability of a better sample is a
// tail of the noncentral t distribution, whatever the order's factor c and the
// likeliest spread.
func TestInversionIsNoncentralT(t *testing.T) {
	for _, n := range []int{3, 4, 5, 10, 50, 400} {
		d, err := stats.NewNoncentralT(float64(n - 1))
		if err != nil {
			t.Fatal(err)
		}
		root := math.Sqrt(float64(n))
		for _, q := range []float64{-3, -0.5, 0, 0.7, 1.5, 3, 8, 30} {
			for _, score := range []float64{-2, 0, 0.5, 1.3, 2.5, 4} {
				v := newInversion(n, q, math.Inf(1), 1, MeasurementError{})
				atLeast, _ := v.tails(score)
				want, err := d.Survival(q*root, score*root)
				if err != nil || math.Abs(atLeast-want) > 5e-7 {
					t.Errorf("n = %d, Q = %v, score %v: %v, want %v, %v", n, q, score, atLeast, want, err)
				}
			}
		}
	}
}

// A common error with a t distribution averages that tail over its quantiles,
// here over ten thousand of them.
func TestInversionAveragesCommonError(t *testing.T) {
	for _, tt := range []struct {
		n                    int
		q, score, stdErr, df float64
	}{{5, 1.5, 0.3, 0.4, 9}, {3, 2, 1.2, 1, 3}, {10, 0.5, 1, 0.2, 30}, {5, 1, 2, 3, 6}, {20, -0.5, 0.5, 1.5, 5}} {
		d, err := stats.NewNoncentralT(float64(tt.n - 1))
		student, err2 := stats.NewStudentT(tt.df)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		const count = 10000
		root, want := math.Sqrt(float64(tt.n)), 0.0
		for k := range count {
			x, err := student.Quantile((float64(k) + 0.5) / count)
			p, err2 := d.Survival((tt.q+tt.stdErr*x)*root, tt.score*root)
			if err != nil || err2 != nil {
				t.Fatal(err, err2)
			}
			want += p / count
		}
		e := MeasurementError{Common: []Component{{StdErr: tt.stdErr, DF: tt.df}}}
		v := newInversion(tt.n, tt.q, math.Inf(1), 1, e)
		if got, _ := v.tails(tt.score); math.Abs(got-want) > 1e-4 {
			t.Errorf("%+v: %v, want %v", tt, got, want)
		}
	}
}

// With two limits the integral is the share of a grid over the quantiles of mean and
// spread whose samples have no more beyond the limits, by erfc alone.
func TestAtLeastByGrid(t *testing.T) {
	for _, tt := range []struct {
		n              int
		d, seen, claim float64
		p              population
	}{
		{5, 1.5, 1, 1.2, population{2, 1.1, 0}}, {3, 2, 0.7, 1.5, population{1.2, 0.8, 0}},
		{10, 1, 1.4, 0, population{2, 1.5, 0.5}}, {4, -0.5, 1, -0.3, population{0.4, 1.6, 1}},
	} {
		v := newInversion(tt.n, tt.d, 4-tt.d, 1, MeasurementError{})
		v.spread = tt.seen
		widening := v.widening(math.Exp(lnUpperTail(tt.claim)))
		seen := v.quality(v.shares(tt.d, widening*tt.seen))
		spreads, err := stats.NewChiSquared(float64(tt.n - 1))
		if err != nil {
			t.Fatal(err)
		}
		const count = 600
		better, most := 0.0, math.Exp(seen.lnBeyond)
		for i := range count {
			square, err := spreads.Quantile((float64(i) + 0.5) / count)
			if err != nil {
				t.Fatal(err)
			}
			s := widening * tt.p.total() * math.Sqrt(square/float64(tt.n-1))
			for j := range count {
				m := tt.p.d + tt.p.total()/math.Sqrt(float64(tt.n))*normalScore((float64(j)+0.5)/count)
				if 0.5*(math.Erfc(m/s/math.Sqrt2)+math.Erfc((4-m)/s/math.Sqrt2)) <= most {
					better += 1.0 / count / count
				}
			}
		}
		if got := v.atLeast(seen, widening, tt.p); math.Abs(got-better) > 1e-3 || better < 0.01 {
			t.Errorf("%+v: %v, by grid %v", tt, got, better)
		}
	}
}

// The position is where the share is as asked, the middle where none is.
func TestBandPosition(t *testing.T) {
	b := band{1}
	for _, within := range []float64{1e-6, 0.1, 0.5, 0.9, 0.999, 1 - 1e-12} {
		q := b.quality(math.Log1p(-within), math.Log(within))
		if middle := math.Erf(1 / q.widest / math.Sqrt2); math.Abs(middle-within) > 1e-11 {
			t.Errorf("%v: the widest spread has %v in the middle", within, middle)
		}
		for _, ratio := range []float64{0.999, 0.9, 0.5, 0.1, 0.01} {
			spread := ratio * q.widest
			d := b.position(q, spread)
			near, far := d/spread, (2-d)/spread
			beyond := 0.5 * (math.Erfc(near/math.Sqrt2) + math.Erfc(far/math.Sqrt2))
			if math.Abs(beyond/(1-within)-1) > 1e-8 {
				t.Errorf("%v at %v: %v beyond", within, ratio, beyond)
			}
		}
		if d := b.position(q, 2*q.widest); d != 1 {
			t.Errorf("%v: %v", within, d)
		}
	}
}

// ln of the upper tail at 10, 30 and 100 by R 4.2.2,
// pnorm(c(10, 30, 100), lower.tail = FALSE, log.p = TRUE).
func TestUpperTail(t *testing.T) {
	for _, tt := range []struct{ z, want float64 }{{10, -53.2312851505125}, {30, -454.3212439563432}, {100, -5005.5242086942053}} {
		if got := lnUpperTail(tt.z); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("ln tail at %v: %v, want %v", tt.z, got, tt.want)
		}
		if back := upperScore(tt.want); math.Abs(back-tt.z) > 1e-9*tt.z {
			t.Errorf("score of %v: %v, want %v", tt.want, back, tt.z)
		}
	}
}

// No other population of the same quality makes the sample likelier, down to a
// thousandth of the sample's spread: the search ends a little below.
func TestLikeliest(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		width := 0.5 + 8*rng.Float64()
		e := MeasurementError{}
		if rng.IntN(2) == 0 {
			e.Repeatability = Component{StdErr: 0.2 + rng.Float64(), DF: math.Inf(1)}
		}
		v := newInversion(3+rng.IntN(12), width*(rng.Float64()-0.2), width, 1, e)
		mean, noise := v.means[0].at, v.noises[0].at
		within := 0.02 + 0.97*rng.Float64()
		q := v.quality(math.Log1p(-within), math.Log(within))
		best := v.likeliest(q, mean, noise)
		most := v.lnLikelihood(q, mean, noise, math.Log(best.spread))
		for x := math.Log(q.widest); x > math.Log(1e-3); x -= 0.02 {
			if l := v.lnLikelihood(q, mean, noise, x); l > most+1e-4 {
				t.Fatalf("%+v, share %v: ln likelihood %v at %v, and %v at %v", v, within, most, best.spread, l, math.Exp(x))
			}
		}
	}
}

// Gauss and Legendre with 24 nodes are exact to degree 47: ∫ x^46 = 2/47.
func TestLegendreNodes(t *testing.T) {
	weights, power := 0.0, 0.0
	for _, x := range legendreNodes {
		weights += x.weight
		power += x.weight * math.Pow(x.at, 46)
	}
	if math.Abs(weights-2) > 1e-13 || math.Abs(power-2.0/47) > 1e-13 {
		t.Errorf("%v, %v", weights, power)
	}
}

// The nodes of the t distribution have its variance ν/(ν-2) but for what lies
// beyond them, those of the spread 1/w have E w² = 1.
func TestErrorNodes(t *testing.T) {
	for _, df := range []float64{9, 30, math.Inf(1)} {
		variance, square := 0.0, 0.0
		for _, x := range shiftNodes(df, 0.7) {
			variance += x.weight * x.at * x.at
		}
		for _, x := range spreadNodes(df) {
			square += x.weight * x.at * x.at
		}
		want := 1.0
		if !math.IsInf(df, 1) {
			want = df / (df - 2)
		}
		if math.Abs(variance/want-1) > 0.01 || math.Abs(square-1) > 0.01 {
			t.Errorf("ν = %v: variance %v, want %v; E w² %v", df, variance, want, square)
		}
	}
}
