package stats

import (
	"math"
	"testing"
)

// FuzzSymmetricBeta holds the tables and the expansion to the series of positive
// terms, which takes hundreds of terms for a large shape and shares only the
// power with them.
func FuzzSymmetricBeta(f *testing.F) {
	f.Add(uint16(1), 0.3)
	f.Add(uint16(28), 0.1249999)
	f.Add(uint16(31), 1e-12)
	f.Add(uint16(198), 0.4999)
	f.Add(uint16(1000), 0.48)
	f.Fuzz(func(t *testing.T, twice uint16, s float64) {
		if twice == 0 || twice > 1000 || !(s > 0 && s < 0.5) {
			return
		}
		fast := newSymmetricBeta(float64(twice) / 2)
		slow := fast
		slow.rule = seriesRule
		want := slow.tailAt(pointOfTail(s))
		if want < leastCompared {
			return
		}
		if got := fast.tail(s); !(math.Abs(got-want) <= 6e-15*want) {
			t.Errorf("n = %d, s = %g: %g, want %g", twice+2, s, got, want)
		}
		if place := fast.quantile(want); !(math.Abs(place.s-s) <= 6e-15*s) {
			t.Errorf("n = %d, s = %g: quantile of its tail %g", twice+2, s, place.s)
		}
	})
}

// FuzzNoncentralT holds the finite sums to the quadrature.
func FuzzNoncentralT(f *testing.F) {
	f.Add(uint16(4), 2.7, 3.4)
	f.Add(uint16(1), 40.0, 0.5)
	f.Add(uint16(29), 1.0, 7.0)
	f.Add(uint16(300), 12.0, 10.0)
	f.Add(uint16(7), 0.4, -3.0)
	f.Fuzz(func(t *testing.T, df uint16, x, ncp float64) {
		if df == 0 || df > mostSummed || !(x > 0 && x < 1e6) || !(math.Abs(ncp) < 200) {
			return
		}
		d := newNoncentralT(float64(df))
		lower, upper, ok := d.finiteTails(x, ncp)
		if !ok {
			return
		}
		wantLower, wantUpper := d.integralTails(x, ncp)
		for _, c := range [][2]float64{{lower, wantLower}, {upper, wantUpper}} {
			if c[1] > leastCompared && !(math.Abs(c[0]-c[1]) <= 1e-12*c[1]) {
				t.Errorf("df = %d, t = %g, ncp = %g: sum %g, quadrature %g", df, x, ncp, c[0], c[1])
			}
		}
	})
}
