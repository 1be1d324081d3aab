package lot

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/densilot/densilot/units"
)

// 100 digits of π, from the Python package mpmath 1.2.1: mp.dps = 110; print(pi).
const piDigits = "3.141592653589793238462643383279502884197169399375105820974944592307816406286208998628034825342117068"

func TestPi(t *testing.T) {
	want, _ := new(big.Rat).SetString(piDigits)
	got := new(big.Rat).SetFrac(pi(512), new(big.Int).Lsh(one, 512))
	if d := new(big.Rat).Sub(got, want); d.Abs(d).Cmp(big.NewRat(1, 1).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(98), nil))) > 0 {
		t.Errorf("π is off by %s", d.FloatString(110))
	}
}

// At n = 3 the estimate is 1/2 + asin(y)/π, which is exact at the angles of 30, 45
// and 60 degrees; the decision at such a point is a tie and must be seen as one.
func TestExactAngles(t *testing.T) {
	for _, tt := range []struct {
		square *big.Rat
		sign   int
		want   *big.Rat
	}{
		{big.NewRat(1, 4), 1, big.NewRat(2, 3)},
		{big.NewRat(1, 2), 1, big.NewRat(3, 4)},
		{big.NewRat(3, 4), 1, big.NewRat(5, 6)},
		{big.NewRat(1, 2), -1, big.NewRat(1, 4)},
		{big.NewRat(0, 1), 0, big.NewRat(1, 2)},
		{big.NewRat(1, 1), 1, big.NewRat(1, 1)},
		{big.NewRat(2, 1), -1, big.NewRat(0, 1)},
	} {
		f := fractionBelow(root{tt.sign, tt.square}, 3)
		if got := f.compare(tt.want); got != 0 {
			t.Errorf("y² = %v: compares %d with %v", tt.square, got, tt.want)
		}
	}
	// 75 % to whole tens of a percent is a tie: 70 or 80, whichever is even.
	f := fractionBelow(root{1, big.NewRat(1, 2)}, 3)
	percent := f.linear(new(big.Rat), big.NewRat(100, 1))
	for _, tt := range []struct {
		m    units.RoundingMethod
		want int64
	}{{units.HalfEven, 80}, {units.HalfUp, 80}} {
		if got := percent.round(units.Rounding{Method: tt.m, Places: -1}); got.Cmp(big.NewRat(tt.want, 1)) != 0 {
			t.Errorf("%v: %v, want %d", tt.m, got, tt.want)
		}
	}
	quarter := fractionBelow(root{-1, big.NewRat(1, 2)}, 3).linear(new(big.Rat), big.NewRat(100, 1))
	if got := quarter.round(units.Rounding{Method: units.HalfEven, Places: -1}); got.Cmp(big.NewRat(20, 1)) != 0 {
		t.Errorf("25 half-even to tens: %v, want 20", got)
	}
	if got := quarter.round(units.Rounding{Method: units.HalfUp, Places: -1}); got.Cmp(big.NewRat(30, 1)) != 0 {
		t.Errorf("25 half-up to tens: %v, want 30", got)
	}
}

// Values with 40 digits from mpmath 1.2.1, betainc(a, a, 0, (1+y)/2, regularized=True),
// with y the root of the fraction.
func TestFractionBelow(t *testing.T) {
	for _, tt := range []struct {
		n      int
		square *big.Rat
		want   string
	}{
		{3, big.NewRat(1, 9), "0.6081734479693927298291444407775690886834"},
		{3, big.NewRat(9, 25), "0.7048327646991334516491978475505189480977"},
		{3, big.NewRat(2, 7), "0.6795085179856880485706377007722716219696"},
		{3, big.NewRat(99, 100), "0.9681157195707400760415838394226089304127"},
		{4, big.NewRat(1, 9), "0.6666666666666666666666666666666666666667"},
		{4, big.NewRat(9, 25), "0.8"},
		{4, big.NewRat(2, 7), "0.767261241912424384684553480879753521554"},
		{4, big.NewRat(99, 100), "0.9974937185533099773672399105006030025891"},
		{5, big.NewRat(1, 9), "0.7082085942090711820019443508894291534239"},
		{5, big.NewRat(9, 25), "0.8576215100673529739873262603881327356508"},
		{5, big.NewRat(2, 7), "0.82330626685565100581700207260869001826"},
		{5, big.NewRat(99, 100), "0.9997871533567110537290163739536125098648"},
		{6, big.NewRat(1, 9), "0.7407407407407407407407407407407407407407"},
		{6, big.NewRat(9, 25), "0.896"},
		{6, big.NewRat(2, 7), "0.8627116854525759506433225811939512078233"},
		{6, big.NewRat(99, 100), "0.999981187146076527254076110053106017602"},
		{7, big.NewRat(1, 9), "0.7674886808696213758821220754001610436405"},
		{7, big.NewRat(9, 25), "0.9228113747577933035182610498655146183401"},
		{7, big.NewRat(2, 7), "0.8917813853651571759343184401498416355411"},
		{7, big.NewRat(99, 100), "0.9999982962486175269135992575171525337278"},
		{9, big.NewRat(1, 9), "0.8096434091615681804191373461633481655723"},
		{9, big.NewRat(9, 25), "0.9561885854792987522380996620779341422771"},
		{9, big.NewRat(2, 7), "0.9309100245134464160013563644590711311304"},
		{9, big.NewRat(99, 100), "0.9999999853917527786990759205856608539187"},
		{12, big.NewRat(1, 9), "0.8551541939744957577605039882131788853325"},
		{12, big.NewRat(9, 25), "0.98041856"},
		{12, big.NewRat(2, 7), "0.9633059826146298171910687152942137566498"},
		{12, big.NewRat(99, 100), "0.9999999999876437109568022781757684519281"},
		{31, big.NewRat(1, 9), "0.9665585546026612196968902679390756351149"},
		{31, big.NewRat(9, 25), "0.9998200251187483634462818806879642260306"},
		{31, big.NewRat(2, 7), "0.9990248006177384238083772979820542270819"},
		{31, big.NewRat(99, 100), "0.9999999999999999999999999999992620806662"},
		{100, big.NewRat(1, 9), "0.9996491191146401445406274010979762532247"},
		{100, big.NewRat(9, 25), "0.9999999999790373732901704940367277105289"},
		{100, big.NewRat(2, 7), "0.9999999949220626582538806508956442792413"},
		{100, big.NewRat(99, 100), "1.0"},
		{101, big.NewRat(1, 9), "0.9996706584544836663032354670814394435496"},
		{101, big.NewRat(9, 25), "0.999999999983311667707105976822417942191"},
		{101, big.NewRat(2, 7), "0.9999999957290311869758622723713329398495"},
		{101, big.NewRat(99, 100), "1.0"},
	} {
		want, _ := new(big.Rat).SetString(tt.want)
		got := near(fractionBelow(root{1, tt.square}, tt.n), 128)
		if d := new(big.Rat).Sub(got, want); d.Abs(d).Cmp(new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(37), nil))) > 0 {
			t.Errorf("n = %d, y² = %v: %s, want %s", tt.n, tt.square, got.FloatString(40), tt.want)
		}
		mirror := near(fractionBelow(root{-1, tt.square}, tt.n), 128)
		if s := mirror.Add(mirror, got); s.Sub(s, big.NewRat(1, 1)).Abs(s).Cmp(new(big.Rat).SetFrac(one, new(big.Int).Lsh(one, 120))) > 0 {
			t.Errorf("n = %d, y² = %v: the tails do not add up to 1", tt.n, tt.square)
		}
	}
}

// near returns the number within 2^-bits.
func near(r real, bits uint) *big.Rat {
	return new(big.Rat).SetFrac(r.scaled(bits), new(big.Int).Lsh(one, bits))
}

// The defining property, at squares, next to them and at numbers of every size.
func TestFloorSqrt(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 52))
	check := func(x *big.Int) {
		y := floorSqrt(x)
		next := new(big.Int).Add(y, one)
		if new(big.Int).Mul(y, y).Cmp(x) > 0 || next.Mul(next, next).Cmp(x) <= 0 {
			t.Errorf("√%v = %v", x, y)
		}
	}
	for i := range 3000 {
		x := new(big.Int).SetUint64(rng.Uint64())
		x.Lsh(x, uint(i/5)).Add(x, new(big.Int).SetUint64(rng.Uint64()))
		check(x)
		square := x.Mul(x, x)
		check(square)
		check(new(big.Int).Sub(square, one))
	}
	for n := range uint(700) {
		check(new(big.Int).Lsh(one, n))
		check(new(big.Int).Sub(new(big.Int).Lsh(one, n), one))
	}
	check(new(big.Int))
}

// √(7/3)·10^-k is as good a float64 as √(7/3), to 30 places.
func TestSmallRootsKeepTheirDigits(t *testing.T) {
	for k := range 28 {
		square := new(big.Rat).SetFrac(big.NewInt(7), new(big.Int).Mul(big.NewInt(3), tenTo(2*k)))
		want := math.Sqrt(7.0/3) / math.Pow10(k)
		for _, sign := range []int{1, -1} {
			if got := (root{sign, square}).real().float() * float64(sign); !(math.Abs(got-want) <= 4e-16*want) {
				t.Errorf("√(7/3)·1e-%d with sign %d: %v, want %v", k, sign, got, want)
			}
		}
	}
}
