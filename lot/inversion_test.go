package lot

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/densilot/densilot/stats"
)

// With one limit and no measurement error the probability of a better sample is a
// tail of the noncentral t distribution, whatever the likeliest spread. A second limit
// out of reach changes nothing.
func TestInversionIsNoncentralT(t *testing.T) {
	for _, n := range []int{3, 4, 5, 10, 50, 400} {
		d, err := stats.NewNoncentralT(float64(n - 1))
		if err != nil {
			t.Fatal(err)
		}
		root := math.Sqrt(float64(n))
		for _, q := range []float64{-3, -0.5, 0, 0.7, 1.5, 3, 8, 30} {
			for _, score := range []float64{-2, 0, 0.5, 1.3, 2.5, 4} {
				want, err := d.Survival(q*root, score*root)
				for _, upper := range []float64{math.Inf(1), 4000} {
					v := newInversion(equalResults(n), q, upper, 1, MeasurementError{})
					if atLeast, _ := v.tails(score); err != nil || math.Abs(atLeast-want) > 1e-6 {
						t.Errorf("n = %d, Q = %v, score %v: %v, want %v, %v", n, q, score, atLeast, want, err)
					}
				}
			}
		}
	}
}

// Where the common error is all there is, the probability is that of Student's t, with
// the degrees of freedom that the error has, to the stated share of it.
func TestInversionBecomesStudent(t *testing.T) {
	for _, df := range []float64{1, 2, 4, 9, 30, math.Inf(1)} {
		for _, away := range []float64{-1, 0.5, 1.8, 3} {
			want := normalBelow(-away)
			if !math.IsInf(df, 1) {
				student, err := stats.NewStudentT(df)
				if err != nil {
					t.Fatal(err)
				}
				if want, err = student.Survival(away); err != nil {
					t.Fatal(err)
				}
			}
			e := MeasurementError{Common: []Component{{StdErr: 500, DF: df}}}
			v := newInversion(equalResults(40), 500*away, math.Inf(1), 1, e)
			if got, _ := v.tails(0); math.Abs(got-want) > 0.015*want {
				t.Errorf("%v degrees of freedom at %v: %v, want %v", df, away, got, want)
			}
		}
	}
}

// simplePopulations are those of one quality between limits at 0 and 2·half, by
// bisection with erfc alone.
type simplePopulation struct{ mean, spread float64 }

func simplePopulations(within, half float64) (all []simplePopulation) {
	beyond := func(mean, spread float64) float64 {
		return 0.5 * (math.Erfc(mean/spread/math.Sqrt2) + math.Erfc((2*half-mean)/spread/math.Sqrt2))
	}
	for i := range 3000 {
		spread := 4 * half * math.Exp(-float64(i)/400)
		if beyond(half, spread) > 1-within {
			continue
		}
		lo, hi := -10*spread, half
		for range 60 {
			if middle := lo/2 + hi/2; beyond(middle, spread) > 1-within {
				lo = middle
			} else {
				hi = middle
			}
		}
		all = append(all, simplePopulation{hi, spread})
	}
	return all
}

// simpleRoot is the signed root of the deviance as its definition has it, and the
// likeliest population.
func simpleRoot(all []simplePopulation, n, d, s, common, noise float64) (root float64, best simplePopulation) {
	deviance := func(total float64) float64 { return (n - 1) * (s*s/total - 1 - math.Log(s*s/total)) }
	least := math.Inf(1)
	worse := true
	own := math.Sqrt(max(0, s*s-noise*noise))
	for _, p := range all {
		total := p.spread*p.spread + noise*noise
		if x := deviance(total) + (d-p.mean)*(d-p.mean)/(total/n+common*common); x < least {
			best, least = p, x
		}
		if p.spread >= own && d > p.mean {
			worse = false // so far: the last of them has the nearest spread
		} else if p.spread >= own {
			worse = true
		}
	}
	root = math.Sqrt(max(0, least-deviance(max(s*s, noise*noise))))
	if worse {
		return -root, best
	}
	return root, best
}

// With two limits and errors of known size the probability is the share of a grid over
// the quantiles of mean and spread whose samples have no lesser root.
func TestTailsByGrid(t *testing.T) {
	for _, tt := range []struct{ n, d, half, within, common, noise float64 }{
		{5, 1.5, 2, 0.7, 0, 0}, {5, 1.9, 2, 0.98, 0, 0}, {3, 1.2, 1.6, 0.5, 0.4, 0.6}, {10, 0.4, 2, 0.8, 0.3, 0}, {4, 1, 1.5, 0.9, 0, 1.3},
	} {
		all := simplePopulations(tt.within, tt.half)
		seen, best := simpleRoot(all, tt.n, tt.d, 1, tt.common, tt.noise)
		spreads, err := stats.NewChiSquared(tt.n - 1)
		if err != nil {
			t.Fatal(err)
		}
		total := best.spread*best.spread + tt.noise*tt.noise
		const count = 40
		better := 0.0
		for i := range count {
			square, err := spreads.Quantile((float64(i) + 0.5) / count)
			if err != nil {
				t.Fatal(err)
			}
			s := math.Sqrt(total * square / (tt.n - 1))
			for j := range count {
				m := best.mean + math.Sqrt(total/tt.n+tt.common*tt.common)*normalScore((float64(j)+0.5)/count)
				if root, _ := simpleRoot(all, tt.n, min(m, 2*tt.half-m), s, tt.common, tt.noise); root >= seen {
					better += 1.0 / count / count
				}
			}
		}
		certain := func(x float64) Component { return Component{StdErr: x, DF: math.Inf(1)} }
		v := newInversion(equalResults(int(tt.n)), tt.d, 2*tt.half-tt.d, 1, MeasurementError{Common: []Component{certain(tt.common)}, Repeatability: certain(tt.noise)})
		if got, _ := v.tails(normalScore(tt.within)); math.Abs(got-better) > 0.01 || better < 0.02 || better > 0.98 {
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

// The table of means agrees with the search for each.
func TestQualityCurve(t *testing.T) {
	for _, within := range []float64{1e-4, 0.1, 0.5, 0.9, 0.999, 1 - 1e-9} {
		b := band{1.7}
		q := b.quality(math.Log1p(-within), math.Log(within))
		c := b.curve(q)
		for x := 0.0; x < 12; x += 0.037 {
			spread := q.widest * math.Exp(-x)
			if got, want := c.mean(spread), b.position(q, spread); math.Abs(got-want) > 1e-5*spread {
				t.Errorf("%v within, spread %v: %v, want %v", within, spread, got, want)
			}
		}
	}
}

// No other population of the same quality makes the sample likelier.
func TestLikeliest(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		width := 0.5 + 8*rng.Float64()
		b := band{width}
		within := 0.02 + 0.97*rng.Float64()
		curve := b.curve(b.quality(math.Log1p(-within), math.Log(within)))
		c := claim{&curve, width, equalResults(3 + rng.IntN(12)), rng.Float64(), 1.5 * rng.Float64()}
		d, s := width*(1.2*rng.Float64()-0.2), 0.1+rng.Float64()
		best := c.deviance(c.likeliest(d, s), d, s)
		lo, hi := c.ends(s)
		for w := max(lo, -30); w < hi; w += 0.01 {
			if x := c.deviance(w, d, s); x < best-1e-7 {
				t.Fatalf("%v within, %+v, d %v, s %v: deviance %v at %v, least found %v", within, c, d, s, x, w, best)
			}
		}
	}
}

// Every sample of a contour has its root.
func TestContour(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	compared := 0
	for range 400 {
		b := band{0.5 + 4*rng.Float64()}
		within := 0.02 + 0.97*rng.Float64()
		curve := b.curve(b.quality(math.Log1p(-within), math.Log(within)))
		c := claim{&curve, b.half, equalResults(3 + rng.IntN(12)), rng.Float64(), 1.5 * rng.Float64() * float64(rng.IntN(2))}
		root, s := 2*rng.NormFloat64(), 0.1+2*rng.Float64()
		edge := c.contour(root)
		if d := edge.inner(s); d < b.half {
			compared++
			if got, _ := c.signedRoot(d, s); math.Abs(got-root) > 1e-4 {
				t.Errorf("%v within, %+v, s %v: the contour of %v at %v has %v", within, c, s, root, d, got)
			}
		}
	}
	if compared < 100 {
		t.Errorf("only %d compared", compared)
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

// Bounds with two limits by lot/testdata/interval.R, which has the definition in R's own
// functions, to the digits it is sure of. With a common error in doubt the nodes that
// stand for it are good to 1.5 percent of a tail.
func TestBoundsByOtherMeans(t *testing.T) {
	inf := math.Inf(1)
	five := Weighing{Results: 5, DF: 4}
	for _, tt := range []struct {
		half, d, s  float64
		size        Weighing
		tail        float64
		common      Component
		noise       float64
		lo, hi, tol float64
	}{
		{2.5, 1.16, math.Sqrt(0.893), five, 0.05, Component{}, 0, 57.33117, 98.55953, 1e-4},
		{1.6, 1.2, 1, Weighing{3, 2}, 0.05, Component{}, 0, 41.85252, 99.36415, 1e-4},
		{1.5, 1.5, 1, Weighing{10, 9}, 0.05, Component{}, 0, 67.49079, 96.71117, 1e-4},
		{2, -1.5, 1, Weighing{4, 3}, 0.05, Component{}, 0, 0.3542485, 44.0682280, 1e-4},
		{2.5, 1.16, math.Sqrt(0.893), five, 0.005, Component{}, 0, 37.15409, 99.74731, 1e-4},
		{2.5, 1.16, math.Sqrt(0.893), five, 0.05, Component{StdErr: 0.24, DF: inf}, 0.32, 56.34462, 99.53898, 5e-4},
		{2.5, 1.16, math.Sqrt(0.893), five, 0.05, Component{StdErr: 0.24, DF: 9}, 0, 55.86765, 99.08050, 5e-3},
		{2, 1.5, 1, Weighing{3.2, 30.25 / 9.25}, 0.05, Component{}, 0, 57.96801, 99.75654, 1e-4}, // weights 1, 1, 1, 1, 4
	} {
		v := newInversion(tt.size, tt.d, 2*tt.half-tt.d, tt.s, MeasurementError{Common: []Component{tt.common}, Repeatability: Component{StdErr: tt.noise, DF: inf}})
		lo, hi := v.bounds(tt.tail)
		if math.Abs(percentBelow(lo)-tt.lo) > tt.tol || math.Abs(percentBelow(hi)-tt.hi) > tt.tol {
			t.Errorf("%+v: %.5f to %.5f", tt, percentBelow(lo), percentBelow(hi))
		}
	}
}

// By the same script, of samples that vary less than they repeat.
func TestTailsByOtherMeans(t *testing.T) {
	for _, tt := range []struct{ within, half, d, s, common, noise, n, want float64 }{
		{0.6, 2.5, 1.16, math.Sqrt(0.893), 0.24, 1.2, 5, 0.04301696},
		{0.95, 2.5, 1.16, math.Sqrt(0.893), 0.24, 1.2, 5, 0.1959458},
		{0.9, 1.5, 1, 0.5, 0, 1.3, 4, 0.07677768},
	} {
		certain := func(x float64) Component { return Component{StdErr: x, DF: math.Inf(1)} }
		v := newInversion(equalResults(int(tt.n)), tt.d, 2*tt.half-tt.d, tt.s, MeasurementError{Common: []Component{certain(tt.common)}, Repeatability: certain(tt.noise)})
		if got, _ := v.tails(normalScore(tt.within)); math.Abs(got-tt.want) > 1e-5 {
			t.Errorf("%+v: %v", tt, got)
		}
	}
}
