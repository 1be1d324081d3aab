package units

// DensityUnit is a unit of density and of density differences. The zero value is
// no unit.
type DensityUnit uint8

// The units of density. Their factors are exact: the pound is 0.45359237 kg, the
// foot 0.3048 m (NIST SP 811, appendix B).
const (
	LbPerFt3 DensityUnit = iota + 1 // pound per cubic foot, also read as "pcf"
	KgPerM3                         // kilogram per cubic metre
	GPerCm3                         // gram per cubic centimetre
)

var densityDimension = newDimension(
	scale{name: "lb/ft3", spellings: []string{"lb/ft³", "lb/ft^3", "pcf"}, factor: rat(28349523125, 1769802912)},
	scale{name: "kg/m3", spellings: []string{"kg/m³", "kg/m^3"}, factor: rat(1, 1)},
	scale{name: "g/cm3", spellings: []string{"g/cm³", "g/cm^3", "Mg/m3", "Mg/m³", "t/m3", "t/m³"}, factor: rat(1000, 1)},
)

func (u DensityUnit) dimension() *dimension { return densityDimension }

// Of makes a density of x in unit u. NaN, an infinity or an unknown unit make one
// that is not given.
func (u DensityUnit) Of(x float64) Density { return Density{of(x, u)} }

// Difference makes a difference of two densities of x in unit u; not given where Of
// would not be.
func (u DensityUnit) Difference(x float64) DensityDifference { return DensityDifference{of(x, u)} }

// String returns the name of the unit, "" for no unit.
func (u DensityUnit) String() string { return u.dimension().name(uint8(u)) }

// ParseDensityUnit looks a unit up by its name or a usual spelling, for programs
// that learn their unit from a file. The error wraps [ErrUnit] and lists the
// names.
func ParseDensityUnit(name string) (DensityUnit, error) {
	return parseUnit[DensityUnit]("units.ParseDensityUnit", name)
}

// MarshalText returns the name, such as "lb/ft3", so that JSON and files hold the
// name and not a number; empty for no unit. The error is nil.
func (u DensityUnit) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText reads what [ParseDensityUnit] reads, with its errors; empty text means no unit.
func (u *DensityUnit) UnmarshalText(text []byte) error {
	return unmarshalUnit(u, "units.DensityUnit.UnmarshalText", text)
}
