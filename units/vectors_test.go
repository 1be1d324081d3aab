package units_test

import (
	"fmt"
	"hash/fnv"
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/units"
)

// A hundred thousand numbers, half of them ties or nearly so, rounded half-even and
// half-up, hash to the value that Python's decimal module gives. The test runs on
// every processor, so all of them round alike. The same in Python 3:
//
//	from decimal import *
//	getcontext().prec = 400
//	def twelve(d):
//	    return d if d == 0 else d.quantize(Decimal(1).scaleb(d.adjusted() - 11), ROUND_HALF_EVEN)
//	state, h, mask = 1, 14695981039346656037, (1 << 64) - 1
//	for i in range(100000):
//	    state = (state * 6364136223846793005 + 1442695040888963407) & mask
//	    n, div, places = state >> 44, 10.0 ** (i % 7), i % 5 - 1
//	    x = (n - 524288) / div + (0.1 if i % 3 == 0 else 0.0)
//	    for mode in (ROUND_HALF_EVEN, ROUND_HALF_UP):
//	        r = twelve(Decimal(repr(x))).quantize(Decimal(1).scaleb(-places), mode) + 0
//	        text = format(r, 'f') if places >= 0 else str(int(r))
//	        for b in ((text.lstrip('-') if r == 0 else text) + '\n').encode():
//	            h = ((h ^ b) * 1099511628211) & mask
//	print(hex(h))
func TestRoundingIsTheSameEverywhere(t *testing.T) {
	const want = 0x9b499a202cdd5308 // printed by the script above, Python 3.11
	sum, state := fnv.New64a(), uint64(1)
	for i := range 100_000 {
		state = state*6364136223846793005 + 1442695040888963407
		x := (float64(state>>44) - 524288) / math.Pow10(i%7)
		if i%3 == 0 {
			x += 0.1
		}
		places := i%5 - 1
		for _, m := range []units.RoundingMethod{units.HalfEven, units.HalfUp} {
			r, err := units.Rounding{Method: m, Places: places}.Float(x)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintln(sum, r.StringFixed(int32(max(0, places))))
		}
	}
	if got := sum.Sum64(); got != want {
		t.Errorf("hash %#x, want %#x", got, uint64(want))
	}
}

// Twelve digits at a power of ten: a neighbour of 10^k is 10^k, and the last number
// below it with 12 digits stays as it is.
func TestTwelveDigitsAtPowersOfTen(t *testing.T) {
	absolute := units.Rounding{Method: units.Absolute}
	for k := -300; k <= 300; k++ {
		ten := decimal.New(1, int32(k))
		x, _ := ten.Float64()
		for _, near := range []float64{math.Nextafter(x, 0), x, math.Nextafter(x, 2*x)} {
			if got, err := absolute.Float(near); err != nil || !got.Equal(ten) {
				t.Errorf("%v = %v, %v; want 1e%d", near, got, err, k)
			}
		}
		below := decimal.New(999_999_999_999, int32(k-12))
		y, _ := below.Float64()
		if got, err := absolute.Float(y); err != nil || !got.Equal(below) {
			t.Errorf("%v = %v, %v; want %v", y, got, err, below)
		}
	}
}

// The CIPM formula in exact fractions, Python 3:
//
//	from fractions import Fraction as F
//	c = F("26.2"); rho = F("999.97495")*(1 - (c - F("3.983035"))**2*(c + F("301.797"))/(F("522528.9")*(c + F("69.34881"))))
func TestWaterAgainstFractions(t *testing.T) {
	for _, tt := range []struct {
		t    units.Temperature
		want float64
	}{
		{units.Celsius.Of(0), 999.842825622},
		{units.Celsius.Of(4), 999.974947704},
		{units.Celsius.Of(10), 999.702701629},
		{units.Celsius.Of(15), 999.102571718},
		{units.Fahrenheit.Of(60), 999.016991476},
		{units.Celsius.Of(20), 998.206745560},
		{units.Fahrenheit.Of(68), 998.206745560},
		{units.Celsius.Of(20.1), 998.186043290},
		{units.Celsius.Of(22), 997.772976938},
		{units.Fahrenheit.Of(75), 997.326158190},
		{units.Celsius.Of(25), 997.047021672},
		{units.Celsius.Of(26), 996.785737873},
		{units.Celsius.Of(26.2), 996.732353900},
		{units.Fahrenheit.Of(80), 996.606345123},
		{units.Celsius.Of(30), 995.648797184},
		{units.Celsius.Of(35), 994.032601489},
		{units.Celsius.Of(40), 992.215209132},
		{units.Kelvin.Of(313.15), 992.215209132},
	} {
		w, err := units.WaterAt(tt.t)
		if err != nil {
			t.Fatal(err)
		}
		// recorded to 6 decimals: half a unit of the last, and the 9 digits of want
		if got := w.Density().In(units.KgPerM3); math.Abs(got-tt.want) > 0.5005e-6 {
			t.Errorf("water at %v = %.6f, want %.9f", tt.t, got, tt.want)
		}
	}
}
