package stats

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestNoncentralTDensityIsTheSlope compares with a central difference of the
// tails whose own error is below 1e-7 at this step.
func TestNoncentralTDensityIsTheSlope(t *testing.T) {
	const h = 1e-4
	for _, df := range []float64{1, 2.5, 4, 29, 400} {
		d := newNoncentralT(df)
		for _, ncp := range []float64{-3, 0, 1.5, 6} {
			for _, x := range []float64{-2, -0.1, 0, 0.5, 2, 7} {
				below, _ := d.tails(x-h, ncp)
				above, _ := d.tails(x+h, ncp)
				slope, got := (above-below)/(2*h), d.density(x, ncp)
				if !(math.Abs(got-slope) <= 1e-7*(slope+1e-4)) {
					t.Errorf("df = %g, ncp = %g, t = %g: density %g, slope %g", df, ncp, x, got, slope)
				}
			}
		}
	}
}

// TestNoncentralTDensityOfDistant holds the two forms of the density together on
// both sides of the switch.
func TestNoncentralTDensityOfDistant(t *testing.T) {
	for _, df := range []float64{1, 4, 29} {
		d := newNoncentralT(df)
		for _, x := range []float64{200, 400, 900} {
			near, far := d.integral(density, x, 400), d.distantDensity(x, 400)
			if !(math.Abs(near-far) <= 1e-12*far) {
				t.Errorf("df = %g, t = %g: %g and %g", df, x, near, far)
			}
		}
	}
}

func TestNoncentralTWithoutNoncentralityIsStudents(t *testing.T) {
	for _, df := range []float64{0.5, 1, 2, 3.25, 8, 29, 31, 250, 1000} {
		n, s := newNoncentralT(df), newStudentT(df)
		for _, x := range []float64{-30, -4, -1, -1e-3, 0, 0.5, 2, 11} {
			lower, upper := n.tails(x, 0)
			for _, c := range [][2]float64{{lower, s.survival(-x)}, {upper, s.survival(x)}} {
				if !(math.Abs(c[0]-c[1]) <= 2e-13*c[1]) {
					t.Errorf("df = %g, t = %g: %g and %g", df, x, c[0], c[1])
				}
			}
		}
	}
}

func TestNoncentralTQuantilesInvert(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		df, ncp := math.Exp(r.Float64()*7), 20*r.NormFloat64()
		p := math.Exp(-40 * r.Float64())
		d := newNoncentralT(df)
		x, err := d.Quantile(p, ncp)
		if err != nil {
			continue // p near 1 and few degrees of freedom
		}
		lower, _ := d.tails(x, ncp)
		// t in float64 cannot do better than its own rounding.
		allowed := 1e-12 + 0x1p-51*math.Abs(x)*d.density(x, ncp)/p
		if !(math.Abs(lower-p) <= allowed*p) {
			t.Errorf("df = %g, ncp = %g: P(T ≤ quantile(%g)) = %g", df, ncp, p, lower)
		}
		back, err := d.NCP(p, x)
		if err != nil || !(math.Abs(back-ncp) <= 1e-11*(1+math.Abs(ncp))) {
			t.Errorf("df = %g, t = %g: noncentrality %g, want %g (%v)", df, x, back, ncp, err)
		}
	}
}

// TestTailsAreMonotone walks each distribution across the switches between its
// forms.
func TestTailsAreMonotone(t *testing.T) {
	for _, a := range []float64{0.3, 0.5, 1, 1.5, 4.25, 9.99, 10, 14.5, 15, 15.5, 60, 1000} {
		b := newSymmetricBeta(a)
		last := -1.0
		for u := -1.0; u <= 1; u += 0x1p-10 {
			p := b.below(u)
			if p < last*(1-1e-15) {
				t.Fatalf("a = %g: CDF falls at u = %g from %g to %g", a, u, last, p)
			}
			last = p
		}
	}
	for _, df := range []float64{2, 3, 7.5, 60, 301} {
		d := newNoncentralT(df)
		last := -1.0
		for x := -20.0; x <= 60; x += 0.125 {
			p, _ := d.tails(x, 3)
			if p < last*(1-1e-12) {
				t.Fatalf("df = %g: CDF falls at t = %g from %g to %g", df, x, last, p)
			}
			last = p
		}
	}
}

func TestSymmetricBetaExactValues(t *testing.T) {
	for _, a := range []float64{0.01, 0.5, 1, 1.5, 7, 12.5, 15, 15.5, 99, 1e5, 1e20, 1e300} {
		b := newSymmetricBeta(a)
		for _, c := range []struct{ u, want float64 }{{0, 0.5}, {-1, 0}, {1, 1}, {-3, 0}, {math.Inf(1), 1}, {math.Inf(-1), 0}} {
			if got, err := b.CDF(c.u); err != nil || got != c.want {
				t.Errorf("a = %g: CDF(%g) = %v, %v, want exactly %g", a, c.u, got, err, c.want)
			}
		}
		for _, c := range []struct{ p, want float64 }{{0, -1}, {0.5, 0}, {1, 1}} {
			if got, err := b.Quantile(c.p); err != nil || got != c.want {
				t.Errorf("a = %g: Quantile(%g) = %v, %v, want exactly %g", a, c.p, got, err, c.want)
			}
		}
	}
	linear := newSymmetricBeta(1)
	for u := -1.0; u <= 1; u += 1.0 / 37 {
		if got := linear.below(u); got != 0.5+0.5*u {
			t.Errorf("n = 4: CDF(%g) = %g, want exactly %g", u, got, 0.5+0.5*u)
		}
	}
}

// TestSymmetricBetaNoUnderflow: I_s(15, 15) at s = 1e-21 is about 8e-307 although
// s^15 alone is 1e-315, past the last normal float64.
func TestSymmetricBetaNoUnderflow(t *testing.T) {
	b := newSymmetricBeta(15)
	got := b.tail(1e-21)
	want := 77558760 * 1e-15 * 1e-300 // C(29,14)·s^15 to first order in s
	if !(math.Abs(got-want) <= 1e-14*want) {
		t.Errorf("got %g, want %g", got, want)
	}
}

func TestDistributionsAllocateNothing(t *testing.T) {
	b, st, nct := newSymmetricBeta(1.5), newStudentT(4), newNoncentralT(4)
	fractional := newNoncentralT(4.5)
	for name, f := range map[string]func(){
		"SymmetricBeta":      func() { d, _ := NewSymmetricBeta(1.5); p, _ := d.CDF(0.3); sink += p },
		"Quantile":           func() { p, _ := b.Quantile(0.03); sink += p },
		"StudentT":           func() { p, _ := st.UpperQuantile(0.001); sink += p },
		"NoncentralT":        func() { l, u, _ := nct.Tails(2.7, 1.1); sink += l + u },
		"fractional df":      func() { l, u, _ := fractional.Tails(2.7, 1.1); sink += l + u },
		"noncentral inverse": func() { x, _ := nct.NCP(0.05, 2.7); sink += x },
		"ToleranceOneSided":  func() { k, _ := ToleranceOneSided(5, 0.9, 0.95); sink += k },
		"ToleranceTwoSided":  func() { k, _ := ToleranceTwoSided(5, 0.9, 0.95); sink += k },
		"Grubbs critical":    func() { g, _ := GrubbsCritical(5, TwoSide, 0.05); sink += g },
		"Dixon critical":     func() { r, _ := DixonCritical(5, DixonR10, TwoSide, 0.05); sink += r },
		"chart constants":    func() { c, _ := NewChartConstants(5, 3); sink += c.A2 },
	} {
		if n := testing.AllocsPerRun(20, f); n != 0 {
			t.Errorf("%s: %g allocations", name, n)
		}
	}
}

// TestQuantilesInvert goes from a probability to its quantile and back, down to
// 1e-250, for random degrees of freedom.
func TestQuantilesInvert(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 2000 {
		df, df2 := math.Exp(8*r.Float64()-0.5), math.Exp(7*r.Float64()-0.5)
		p := math.Exp(-575*r.Float64()*r.Float64()) * (1 - 1e-6)
		st, chi, b := newStudentT(df), newChiSquared(df), newSymmetricBeta(df/2)
		f := FDistribution{df1: df, df2: df2}
		for _, c := range []struct {
			name     string
			quantile func(float64) (float64, error)
			tail     func(float64) (float64, error)
			limit    float64 // on how far the rounding of the quantile moves p
		}{
			{"StudentT", st.UpperQuantile, st.Survival, df},
			{"ChiSquared lower", chi.Quantile, chi.CDF, df},
			{"ChiSquared upper", chi.UpperQuantile, chi.Survival, 1400 + df},
			{"F lower", f.Quantile, f.CDF, df},
			{"F upper", f.UpperQuantile, f.Survival, df2},
			{"SymmetricBeta", b.InverseIncomplete, b.Incomplete, df},
		} {
			x, err := c.quantile(p)
			if err != nil || math.Abs(x) < 1e-290 || math.Abs(x) > 1e290 {
				continue
			}
			back, err := c.tail(x)
			// ln p and ln x are rounded on the way, the latter times the slope.
			allowed := 1e-14 + 0x1p-50*math.Abs(math.Log(p)) + 0x1p-53*c.limit*(1+math.Abs(math.Log(math.Abs(x))))
			if err != nil || !(math.Abs(back-p) <= allowed*p) {
				t.Errorf("%s, df = %g (%g), p = %g: quantile %g has %g (%v)", c.name, df, df2, p, x, back, err)
			}
		}
	}
}
