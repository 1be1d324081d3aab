package shift

import (
	"errors"
	"strconv"
	"strings"
	"unicode"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

var errPositive = errors.New("must be more than 0")

// word returns a text that must not be empty and can be printed.
func (c cell) word() (string, error) {
	if c.text == "" {
		return "", c.fail(units.ErrNotGiven)
	}
	if strings.ContainsFunc(c.text, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return "", c.failf("%q %w", c.text, density.ErrText)
	}
	return c.text, nil
}

func (c cell) decimal() (decimal.Decimal, error) {
	d, err := units.ParseDecimal(c.text)
	if err != nil {
		return d, c.fail(err)
	}
	return d, nil
}

// fraction returns a number between 0 and 1, both excluded.
func (c cell) fraction() (float64, error) {
	d, err := c.decimal()
	if err != nil {
		return 0, err
	}
	if d.Sign() <= 0 || d.Cmp(decimal.NewFromInt(1)) >= 0 {
		return 0, c.failf("%s is not a fraction between 0 and 1", c.text)
	}
	return d.InexactFloat64(), nil
}

func (c cell) count() (int, error) {
	n, err := strconv.Atoi(c.text)
	if err != nil || n < 1 || strconv.Itoa(n) != c.text {
		return 0, c.failf("%q is not a whole number from 1", c.text)
	}
	return n, nil
}

func (c cell) date() (density.Date, error) {
	d, err := density.ParseDate(c.text)
	if err != nil {
		return d, c.failf("%q is not a date like 2026-05-12", c.text)
	}
	return d, nil
}

// gravity returns a specific gravity above 0.
func (c cell) gravity() (units.SpecificGravity, error) {
	g, err := units.ParseSpecificGravity(c.text)
	if err == nil && g.Float64() <= 0 {
		err = errPositive
	}
	if err != nil {
		return g, c.fail(err)
	}
	return g, nil
}

// density returns the number in c in the unit in another cell, above 0. What is
// wrong is said of the cell that is wrong.
func (c cell) density(unit cell) (units.Density, error) {
	if _, err := c.decimal(); err != nil {
		return units.Density{}, err
	}
	if _, err := units.ParseDensityUnit(unit.text); err != nil {
		return units.Density{}, unit.fail(err)
	}
	d, err := units.ParseDensity(c.text + " " + unit.text)
	if err == nil && d.In(d.Unit()) <= 0 {
		err = errPositive
	}
	if err != nil {
		return d, c.fail(err)
	}
	return d, nil
}

func (c cell) difference(unit cell) (units.DensityDifference, error) {
	d, err := c.density(unit)
	if err != nil {
		return units.DensityDifference{}, err
	}
	return d.Unit().Difference(d.In(d.Unit())), nil
}

func (c cell) temperature(unit cell) (units.Temperature, error) {
	if _, err := c.decimal(); err != nil {
		return units.Temperature{}, err
	}
	u, err := units.ParseTemperatureUnit(unit.text)
	if err != nil {
		return units.Temperature{}, unit.fail(err)
	}
	t, err := units.ParseTemperature(c.text + " " + u.String())
	if err != nil {
		return t, c.fail(err)
	}
	return t, nil
}

// reading returns a reading in the unit of the contract.
func (r row) reading(unit units.DensityUnit) (density.Reading, error) {
	d, err := r["reading"].density(r["unit"])
	if err == nil {
		err = r["unit"].check(d.Unit(), unit)
	}
	return density.Uncorrected(d), err
}

// check refuses a unit that is not that of the contract.
func (c cell) check(have, want units.DensityUnit) error {
	if have == want {
		return nil
	}
	return c.failf("%v, but the water density of the contract is in %v; use one unit throughout", have, want)
}

// rounding reads a place such as 0.01, or "none" for the absolute method.
func (c cell) rounding(m units.RoundingMethod) (units.Rounding, error) {
	if c.text == "none" {
		return units.Rounding{Method: units.Absolute}, nil
	}
	for places := 0; places <= 9; places++ {
		if c.text == decimal.New(1, int32(-places)).String() {
			return units.Rounding{Method: m, Places: places}, nil
		}
	}
	return units.Rounding{}, c.failf("%q is not a place like 0.01, nor none", c.text)
}
