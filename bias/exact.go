package bias

import (
	"math"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func refuseID(fn, arg, id, value string, err error) error {
	return &stats.InputError{Func: fn, Arg: arg, Index: -1, ID: id, Value: value, Err: err}
}

// isFinite reports whether no result has overflowed.
func isFinite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

func float(x *big.Rat) float64 {
	f, _ := x.Float64()
	return f
}

// root returns √x, also where x itself is beyond a float64.
func root(x *big.Rat) float64 {
	if x.Sign() <= 0 {
		return 0
	}
	f := new(big.Float).SetPrec(100).SetRat(x)
	y, _ := f.Sqrt(f).Float64()
	return y
}

// signed writes x with a blank and its sign before it, for a sum.
func signed(x *big.Rat) string {
	if x.Sign() < 0 {
		return " - " + units.ExactText(new(big.Rat).Neg(x))
	}
	return " + " + units.ExactText(x)
}
