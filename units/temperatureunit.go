package units

// TemperatureUnit is a unit of temperature and of temperature differences. The
// zero value is no unit.
type TemperatureUnit uint8

// The units of temperature, exact by definition.
const (
	Celsius TemperatureUnit = iota + 1
	Fahrenheit
	Kelvin
)

var temperatureDimension = newDimension(
	scale{name: "°C", spellings: []string{"C", "degC"}, factor: rat(1, 1)},
	scale{name: "°F", spellings: []string{"F", "degF"}, factor: rat(5, 9), zero: rat(-32, 1)},
	scale{name: "K", factor: rat(1, 1), zero: rat(-27315, 100)},
)

func (u TemperatureUnit) dimension() *dimension { return temperatureDimension }

// Of makes a temperature of x in unit u. NaN, an infinity or an unknown unit make one
// that is not given.
func (u TemperatureUnit) Of(x float64) Temperature { return Temperature{of(x, u)} }

// Difference makes a difference of two temperatures of x in unit u; not given where Of
// would not be.
func (u TemperatureUnit) Difference(x float64) TemperatureDifference {
	return TemperatureDifference{of(x, u)}
}

// String returns the name of the unit, "" for no unit.
func (u TemperatureUnit) String() string { return u.dimension().name(uint8(u)) }

// ParseTemperatureUnit looks a unit up by its name or a usual spelling, for programs
// that learn their unit from a file. The error wraps [ErrUnit] and lists the
// names.
func ParseTemperatureUnit(name string) (TemperatureUnit, error) {
	return parseUnit[TemperatureUnit]("units.ParseTemperatureUnit", name)
}

// MarshalText returns the name, such as "°F", so that JSON and files hold the
// name and not a number; empty for no unit. The error is nil.
func (u TemperatureUnit) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText reads what [ParseTemperatureUnit] reads, with its errors; empty text means no unit.
func (u *TemperatureUnit) UnmarshalText(text []byte) error {
	return unmarshalUnit(u, "units.TemperatureUnit.UnmarshalText", text)
}
