package density

import (
	"errors"
	"fmt"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Reasons a density or a specific gravity is refused, to be found with errors.Is. A
// value that is missing wraps [units.ErrNotGiven].
var (
	ErrNotPositive  = errors.New("must be more than 0")
	ErrUnitMismatch = errors.New("units differ; convert one with To, or use the water density of the same system")
	ErrScope        = errors.New("outside the scope of the correction")
	ErrNoSource     = errors.New("needs its source")
	ErrKind         = errors.New("wrong kind of reference density")
	ErrModel        = errors.New("wrong model of correction")
)

// Codes of the warnings that functions of this package give.
const (
	WarnAboveHundred stats.WarningCode = "above-100-percent" // denser than the maximum theoretical density
	WarnNoMatTemp    stats.WarningCode = "mat-temperature"   // a pass without a mat temperature
	WarnDip          stats.WarningCode = "dip"               // density fell and came back
	WarnOverRolled   stats.WarningCode = "break-over"        // density fell and stayed down
)

// outOfRange builds the error for an argument that would have to be another.
func outOfRange(fn, arg, value, need string) error { return stats.Refuse(fn, arg, value, needs(need)) }

// needs is the reason [units.ErrRange] with what would have been taken.
func needs(what string) error { return fmt.Errorf("%w; need %s", units.ErrRange, what) }

// placed is an error about a part of a record without the function, for the error about
// the record; any other as it is.
func placed(err error) error {
	var e *stats.InputError
	if !errors.As(err, &e) {
		return err
	}
	return fmt.Errorf("%s: %w", e.Place(), e.Err)
}

// What several functions need.
const (
	zeroOrMore = "0 or more"
	percentFit = "a density and a reference whose ratio a float64 can hold"
)

// check refuses a density that is missing or not positive.
func check(fn, arg string, index int, d units.Density) error {
	switch {
	case d.IsZero():
		return &stats.InputError{Func: fn, Arg: arg, Index: index, Err: units.ErrNotGiven}
	case d.In(d.Unit()) <= 0:
		return &stats.InputError{Func: fn, Arg: arg, Index: index, Value: d.String(), Err: ErrNotPositive}
	}
	return nil
}

// checkUnit refuses a density in another unit than the one in use.
func checkUnit(fn, arg string, index int, d units.Density, want units.DensityUnit) error {
	if d.Unit() == want {
		return nil
	}
	return &stats.InputError{Func: fn, Arg: arg, Index: index, Value: d.String(),
		Err: fmt.Errorf("%w (the rest is in %v)", ErrUnitMismatch, want)}
}

// checkTemperature refuses what is below absolute zero, such as the -999 that a
// logger writes where it measured nothing. Not given is not refused.
func checkTemperature(fn, arg string, t units.Temperature) error {
	if t.IsZero() || t.Compare(units.Kelvin.Of(0)) >= 0 {
		return nil
	}
	return outOfRange(fn, arg, t.String(), "absolute zero or more; leave out what was not measured")
}

// MeanOf returns the exact mean of readings in the unit they share, for callers
// that go on in exact arithmetic.
//
// Errors are [*stats.InputError] around [stats.ErrTooFew], [units.ErrNotGiven],
// [ErrNotPositive] or [ErrUnitMismatch].
func MeanOf(readings []Reading) (*big.Rat, units.DensityUnit, error) {
	return meanOf("density.MeanOf", "readings", readings)
}

func meanOf(fn, arg string, readings []Reading) (*big.Rat, units.DensityUnit, error) {
	if len(readings) == 0 {
		return nil, 0, stats.Refuse(fn, arg, "", fmt.Errorf("%w (have 0, need 1)", stats.ErrTooFew))
	}
	unit := readings[0].d.Unit()
	sum := new(big.Rat)
	for i, r := range readings {
		if err := check(fn, arg, i, r.d); err != nil {
			return nil, 0, err
		}
		if err := checkUnit(fn, arg, i, r.d, unit); err != nil {
			return nil, 0, err
		}
		sum.Add(sum, r.d.Exact(unit))
	}
	return sum.Quo(sum, new(big.Rat).SetInt64(int64(len(readings)))), unit, nil
}

// resultOf records a density that was computed: it must be more than 0 and fit a
// number.
func resultOf(fn, arg string, x *big.Rat, u units.DensityUnit) (units.Density, error) {
	d := record(x, u)
	if d.IsZero() {
		return units.Density{}, outOfRange(fn, arg, "", "one that a float64 can hold")
	}
	return d, check(fn, arg, -1, d)
}

// record takes an exact number to the nearest quantity.
func record(x *big.Rat, u units.DensityUnit) units.Density {
	f, _ := x.Float64()
	return u.Of(f)
}
