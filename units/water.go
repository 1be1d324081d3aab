package units

import (
	"fmt"
	"strconv"
)

// Water is a density of water with a name, which turns a specific gravity into a
// density. The conventions in use are not equal: between 62.4 and 62.245 lb/ft³
// lie 0.23 percentage points of compaction. Name one, and use the same one for
// cores, Gmm and the offset of a gauge.
//
// Water is implemented by [WaterConvention], [WaterAtTemperature] and
// [WaterByContract].
type Water interface {
	Density() Density
	String() string
	water()
}

// WaterConvention is one of the rounded densities that procedures and contracts
// name. The zero value names none.
type WaterConvention uint8

// The conventions. Where each comes from is from memory of the procedures; the
// contract decides.
const (
	Water62_4   WaterConvention = iota + 1 // 62.4 lb/ft3, common practice
	Water62_245                            // 62.245 lb/ft3 at 25 °C, AASHTO T 209 and ASTM D2041 practice
	Water62_24                             // 62.24 lb/ft3 at 25 °C, ASTM D2726 practice
	Water1000                              // 1000 kg/m3, specific gravity read as g/cm³
	Water997_1                             // 997.1 kg/m3 at 25 °C, AASHTO T 209 and ASTM D2041 practice
	Water997_0                             // 997.0 kg/m3 at 25 °C, ASTM D2726 practice
)

func (w WaterConvention) water() {}

// Density returns the density of water by this convention; not given if w names
// none.
func (w WaterConvention) Density() Density {
	switch w {
	case Water62_4:
		return LbPerFt3.Of(62.4)
	case Water62_245:
		return LbPerFt3.Of(62.245)
	case Water62_24:
		return LbPerFt3.Of(62.24)
	case Water1000:
		return KgPerM3.Of(1000)
	case Water997_1:
		return KgPerM3.Of(997.1)
	case Water997_0:
		return KgPerM3.Of(997)
	}
	return Density{}
}

// String returns the density, such as "62.245 lb/ft3", or a mark of no name.
func (w WaterConvention) String() string {
	if d := w.Density(); !d.IsZero() {
		return d.String()
	}
	return "WaterConvention(" + strconv.Itoa(int(w)) + ")"
}

// ParseWaterConvention finds the convention of a density, such as
// "62.245 lb/ft3". The unit counts: 997.1 kg/m3 and 62.245 lb/ft3 are different
// conventions.
//
// Errors are [*ParseError] as of [ParseDensity], or around [ErrRange] for a
// density that no convention names.
func ParseWaterConvention(text string) (WaterConvention, error) {
	return parseWaterConvention("units.ParseWaterConvention", text)
}

// MarshalText returns the density; empty if w names none. The error is nil.
func (w WaterConvention) MarshalText() ([]byte, error) { return w.Density().MarshalText() }

// UnmarshalText reads what [ParseWaterConvention] reads, with its errors; empty text names none.
func (w *WaterConvention) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*w = 0
		return nil
	}
	parsed, err := parseWaterConvention("units.WaterConvention.UnmarshalText", string(text))
	if err == nil {
		*w = parsed
	}
	return err
}

func parseWaterConvention(fn, text string) (WaterConvention, error) {
	q, err := parse[DensityUnit](fn, text)
	if err != nil {
		return 0, err
	}
	var names string
	for w := Water62_4; w <= Water997_0; w++ {
		if w.Density() == (Density{q}) {
			return w, nil
		}
		names += ", " + w.String()
	}
	return 0, &ParseError{Func: fn, Text: text, Err: ErrRange, Need: "one of " + names[2:]}
}

// WaterAtTemperature is the density of pure, air-free water at one temperature
// and 101.325 kPa; make one with [WaterAt]. The zero value has no temperature.
type WaterAtTemperature struct {
	t Temperature
	d Density
}

func (w WaterAtTemperature) water() {}

// Density returns the density in kg/m3; not given for the zero value.
func (w WaterAtTemperature) Density() Density { return w.d }

// Temperature returns the temperature w was made for.
func (w WaterAtTemperature) Temperature() Temperature { return w.t }

// String names the formula and the temperature.
func (w WaterAtTemperature) String() string {
	return fmt.Sprintf("CIPM water at %v, %v", w.t, w.d)
}

// WaterAt returns the density of water at t by the CIPM formula
//
//	ρ = a₅·(1 - (t+a₁)²·(t+a₂)/(a₃·(t+a₄)))   kg/m³, t in °C
//
// recorded to 6 decimals of a kg/m³. It holds from 0 to 40 °C, where its own
// uncertainty is below 0.001 kg/m³; elsewhere the error wraps [ErrRange], and
// [ErrNotGiven] where t is not given.
//
// Source: Tanaka, Girard, Davis, Peuto and Bignell, Metrologia 38 (2001) 301.
func WaterAt(t Temperature) (WaterAtTemperature, error) {
	if t.IsZero() {
		return WaterAtTemperature{}, fmt.Errorf("units.WaterAt: t: %w", ErrNotGiven)
	}
	c := t.In(Celsius)
	if c < 0 || c > 40 {
		return WaterAtTemperature{}, fmt.Errorf("units.WaterAt: t = %v: %w; need 0 to 40 °C", t, ErrRange)
	}
	const a1, a2, a3, a4, a5 = -3.983035, 301.797, 522528.9, 69.34881, 999.97495
	rho := a5 * (1 - (c+a1)*(c+a1)*(c+a2)/(a3*(c+a4)))
	recorded, err := Rounding{HalfEven, 6}.Float(rho)
	if err != nil {
		return WaterAtTemperature{}, err
	}
	return WaterAtTemperature{t: t, d: KgPerM3.Of(recorded.InexactFloat64())}, nil
}

// WaterByContract is a density of water that a contract states and that is none of
// the conventions, such as 62.3 lb/ft3; make one with [NewWaterByContract]. The
// zero value states none.
type WaterByContract struct {
	d      Density
	source string
}

func (w WaterByContract) water() {}

// Density returns the density as stated; not given for the zero value.
func (w WaterByContract) Density() Density { return w.d }

// String returns the density and who states it.
func (w WaterByContract) String() string {
	if w.d.IsZero() {
		return ""
	}
	return w.d.String() + " (" + w.source + ")"
}

// NewWaterByContract takes over a density of water with who states it. Liquid water
// at ordinary pressure has 950 to 1001 kg/m3 (0 to 100 °C); a density beyond that
// is a mistake and the error wraps [ErrRange]. It wraps [ErrNotGiven] where the
// density or the source is missing.
func NewWaterByContract(d Density, source string) (WaterByContract, error) {
	const fn = "units.NewWaterByContract"
	if d.IsZero() || source == "" {
		return WaterByContract{}, fmt.Errorf("%s: d = %v, source = %q: %w", fn, d, source, ErrNotGiven)
	}
	if x := d.In(KgPerM3); x < 950 || x > 1001 {
		return WaterByContract{}, fmt.Errorf("%s: d = %v: %w; water has 950 to 1001 kg/m3", fn, d, ErrRange)
	}
	return WaterByContract{d, source}, nil
}
