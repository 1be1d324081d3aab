package examples_test

import (
	"errors"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/units"
)

var unitsFunctions = []any{
	units.ExactText, units.NewWaterByContract, units.ParseDecimal, units.ParseDensity, units.ParseDensityDifference,
	units.ParseDensityUnit, units.ParseLength, units.ParseLengthUnit, units.ParseMass, units.ParseMassUnit, units.ParseRounding,
	units.ParseSpecificGravity, units.ParseStation, units.ParseTemperature, units.ParseTemperatureDifference,
	units.ParseTemperatureUnit, units.ParseWaterConvention, units.SpecificGravityOf, units.WaterAt,
}

func unitsValues(t *testing.T) []any {
	water := units.LbPerFt3.Of(62.3)
	return []any{
		sweptDensity, water, units.LbPerFt3.Difference(0.5), units.LbPerFt3, units.KgPerM3, units.DensityUnit(0),
		units.Foot.Of(12), units.Foot, units.Millimetre.Of(63), units.Millimetre.Of(12.5),
		units.Gram.Of(1250.5), units.Gram.Of(1523.9), units.Gram.Of(1205.6), units.Gram,
		units.Fahrenheit.Of(285), units.Fahrenheit.Of(77), units.Fahrenheit, units.Fahrenheit.Difference(9),
		units.Station100Ft.Of(1234.5), units.Station1000M.Of(-50), units.Station100Ft, units.Station100M, units.StationSystem(0),
		sweptGmm, units.SpecificGravityOf(2.368), units.SpecificGravityOf(2.637),
		half, absolute, units.HalfEven, units.Step{}, units.Water62_245, units.WaterConvention(0),
		must(units.WaterAt(units.Fahrenheit.Of(77)))(t), must(units.NewWaterByContract(water, "item 12"))(t),
		units.ParseError{}, units.ParseError{Err: errors.New("x")},
		decimal.Decimal{}, hundred, decimal.RequireFromString("92.45"), decimal.RequireFromString("0.022"),
		decimal.New(1, 400), decimal.New(-3, -30),
	}
}
