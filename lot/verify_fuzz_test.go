package lot_test

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// checkFinite fails for NaN or an infinity anywhere in a result without error.
func checkFinite(t *testing.T, v reflect.Value) {
	t.Helper()
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%v in a result without error", x)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			checkFinite(t, v.Field(i))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			checkFinite(t, v.Elem())
		}
	}
}

// verifyAnything runs both comparisons on whatever it is given.
func verifyAnything(t *testing.T, xs, ys []float64, terms lot.VerificationTerms, margins stats.Margins) {
	t.Helper()
	keptX, keptY := slices.Clone(xs), slices.Clone(ys)
	v, err := lot.Verify(xs, ys, terms)
	if err == nil {
		checkFinite(t, reflect.ValueOf(v))
		_ = v.String()
		if (v.T == nil) != (v.Finding == lot.EqualWithoutSpread || v.Finding == lot.UnequalWithoutSpread) || v.T != nil && !(v.T.P > 0 && v.T.P <= 1) {
			t.Fatalf("%v with %+v", v.Finding, v.T)
		}
		if _, err := lot.VerifyFamily([]lot.Verification{v}, 0.05); err != nil {
			t.Fatal(err)
		}
	}
	e, err := lot.VerifyEquivalence(xs, ys, margins, terms)
	if err == nil {
		checkFinite(t, reflect.ValueOf(e))
		_ = e.String()
	}
	same := func(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }
	if !slices.EqualFunc(xs, keptX, same) || !slices.EqualFunc(ys, keptY, same) {
		t.Fatal("inputs changed")
	}
}

// Short samples with a hard number in them, against plain ones and themselves, in
// both kinds and on either side.
func TestVerifyTakesAnything(t *testing.T) {
	hard := []float64{math.NaN(), math.Inf(-1), 1e308, 5e-324, math.Copysign(0, -1), math.Nextafter(93.1, 94)}
	plain := [][]float64{nil, {93.1}, {93.1, 93.1}, {93.1, 92.7, 93.4}}
	samples := slices.Clone(plain)
	for _, x := range hard {
		samples = append(samples, []float64{x}, []float64{x, x}, []float64{x, 93.1}, []float64{93, 93.1, x})
	}
	wide := stats.Margins{Lower: -100, Upper: 100}
	for _, xs := range samples {
		for _, ys := range append(slices.Clone(plain), xs) {
			for _, terms := range []lot.VerificationTerms{independent(50), split(50)} {
				verifyAnything(t, xs, ys, terms, wide)
				verifyAnything(t, ys, xs, terms, wide)
			}
		}
	}
}

func FuzzVerify(f *testing.F) {
	f.Add(93.1, 92.8, 93.4, 91.0, 94.0, 0.05, 0.05, 0.5, 0.9, byte(0))
	f.Add(92.1, 92.1, 92.1, 92.1, 92.1, 0.01, 0.01, 1e-3, 0.5, byte(5))
	f.Add(1e308, -1e308, 0.0, 1e-320, 5.0, 0.999, 0.4, 1e300, 0.999, byte(2))
	f.Fuzz(func(t *testing.T, a, b, c, x, y, varianceAlpha, meanAlpha, difference, power float64, shape byte) {
		terms := lot.VerificationTerms{Characteristic: "c", Unit: "u", Kind: lot.SampleKind(1 + shape%2), VarianceAlpha: varianceAlpha, MeanAlpha: meanAlpha, Difference: difference, Power: power}
		if terms.Kind == lot.SplitSamples {
			terms.VarianceAlpha = 0
		}
		xs, ys := []float64{a, b, c}, []float64{x, y, a}
		n := int(shape/2) % 4
		verifyAnything(t, xs[:3-n%2], ys[:3-n/2], terms, stats.Margins{Lower: -math.Abs(2 * difference), Upper: 2 * math.Abs(difference)})
	})
}
