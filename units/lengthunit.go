package units

// LengthUnit is a unit of length. The zero value is no unit.
type LengthUnit uint8

// The units of length; inch and foot are the international ones, 25.4 mm and
// 0.3048 m exactly (NIST SP 811, appendix B).
const (
	Metre LengthUnit = iota + 1
	Millimetre
	Foot
	Inch
)

var lengthDimension = newDimension(
	scale{name: "m", factor: rat(1, 1)},
	scale{name: "mm", factor: rat(1, 1000)},
	scale{name: "ft", factor: rat(3048, 10000)},
	scale{name: "in", factor: rat(254, 10000)},
)

func (u LengthUnit) dimension() *dimension { return lengthDimension }

// Of makes a length of x in unit u. NaN, an infinity or an unknown unit make one
// that is not given.
func (u LengthUnit) Of(x float64) Length { return Length{of(x, u)} }

// String returns the name of the unit, "" for no unit.
func (u LengthUnit) String() string { return u.dimension().name(uint8(u)) }

// ParseLengthUnit looks a unit up by its name or a usual spelling, for programs
// that learn their unit from a file. The error wraps [ErrUnit] and lists the
// names.
func ParseLengthUnit(name string) (LengthUnit, error) {
	return parseUnit[LengthUnit]("units.ParseLengthUnit", name)
}

// MarshalText returns the name, such as "ft", so that JSON and files hold the
// name and not a number; empty for no unit. The error is nil.
func (u LengthUnit) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText reads what [ParseLengthUnit] reads, with its errors; empty text means no unit.
func (u *LengthUnit) UnmarshalText(text []byte) error {
	return unmarshalUnit(u, "units.LengthUnit.UnmarshalText", text)
}
