package units

// MassUnit is a unit of mass. The zero value is no unit.
type MassUnit uint8

// The units of mass; the pound is 0.45359237 kg exactly (NIST SP 811,
// appendix B). "ton" alone is ambiguous and not read.
const (
	Gram MassUnit = iota + 1
	Kilogram
	MetricTon // 1000 kg, the tonne
	Pound
	ShortTon // 2000 lb
)

var massDimension = newDimension(
	scale{name: "g", factor: rat(1, 1000)},
	scale{name: "kg", factor: rat(1, 1)},
	scale{name: "t", spellings: []string{"tonne", "metric ton"}, factor: rat(1000, 1)},
	scale{name: "lb", factor: rat(45359237, 100000000)},
	scale{name: "short ton", factor: rat(90718474, 100000)},
)

func (u MassUnit) dimension() *dimension { return massDimension }

// Of makes a mass of x in unit u. NaN, an infinity or an unknown unit make one
// that is not given.
func (u MassUnit) Of(x float64) Mass { return Mass{of(x, u)} }

// String returns the name of the unit, "" for no unit.
func (u MassUnit) String() string { return u.dimension().name(uint8(u)) }

// ParseMassUnit looks a unit up by its name or a usual spelling, for programs
// that learn their unit from a file. The error wraps [ErrUnit] and lists the
// names.
func ParseMassUnit(name string) (MassUnit, error) {
	return parseUnit[MassUnit]("units.ParseMassUnit", name)
}

// MarshalText returns the name, such as "kg", so that JSON and files hold the
// name and not a number; empty for no unit. The error is nil.
func (u MassUnit) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText reads what [ParseMassUnit] reads, with its errors; empty text means no unit.
func (u *MassUnit) UnmarshalText(text []byte) error {
	return unmarshalUnit(u, "units.MassUnit.UnmarshalText", text)
}
