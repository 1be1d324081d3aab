package units_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/densilot/densilot/units"
)

// The notation by its definition: the whole number is cut before its last two
// digits, or three.
func TestStationNotation(t *testing.T) {
	for _, tt := range []struct {
		system units.StationSystem
		x      float64
		want   string
	}{
		{units.Station100Ft, 1234.5, "12+34.5 ft"},
		{units.Station100Ft, 0, "0+00 ft"},
		{units.Station100Ft, 5.25, "0+05.25 ft"},
		{units.Station100Ft, 99.999999, "0+99.999999 ft"},
		{units.Station100Ft, 100, "1+00 ft"},
		{units.Station100Ft, -50, "-0+50 ft"},
		{units.Station100Ft, -1234.5, "-12+34.5 ft"},
		{units.Station100Ft, 0.1 + 0.2, "0+00.3 ft"},
		{units.Station100Ft, -1e-9, "0+00 ft"},
		{units.Station100M, 1234.5, "12+34.5 m"},
		{units.Station1000M, 12345.6, "12+345.6 m"},
		{units.Station1000M, 7, "0+007 m"},
		{units.Station100Ft, 999999999.999999, "9999999+99.999999 ft"},
	} {
		s := tt.system.Of(tt.x)
		if got := s.String(); got != tt.want {
			t.Errorf("%v of %v = %q, want %q", tt.system, tt.x, got, tt.want)
		}
		if back, err := units.ParseStation(tt.want); err != nil || back != s {
			t.Errorf("%q read back as %v, %v", tt.want, back, err)
		}
		if back, err := tt.system.Parse(s.Notation()); err != nil || back != s {
			t.Errorf("%q read back as %v, %v", s.Notation(), back, err)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), 1e9, -1e9, 999999999.9999999} { // the last is recorded to 6 decimals
		if s := units.Station100Ft.Of(x); !s.IsZero() || s.String() != "" || s.Notation() != "" {
			t.Errorf("station of %v = %q, want none", x, s)
		}
	}
}

func TestParseStationIsStrict(t *testing.T) {
	for _, tt := range []struct {
		text string
		want error
	}{
		{"", units.ErrNotGiven},
		{" ", units.ErrNotGiven},
		{"12+34.5", units.ErrUnit},      // feet or metres
		{"12+345.6 ft", units.ErrUnit},  // no stations of 1000 ft
		{"12+3456 m", units.ErrUnit},    // neither two digits nor three
		{"12+4.5 ft", units.ErrUnit},    // one digit, where two are meant
		{"12+34.5 yd", units.ErrUnit},   //
		{"12+34,5 ft", units.ErrSyntax}, // a decimal comma
		{"12+34.5\u00a0ft", units.ErrSyntax},
		{"1234.5 ft", units.ErrSyntax},
		{"+34.5 ft", units.ErrSyntax},
		{"12+34. ft", units.ErrSyntax},
		{"12+ ft", units.ErrSyntax},
		{"12++34 ft", units.ErrSyntax},
		{"12-34 ft", units.ErrSyntax},
		{"--12+34 ft", units.ErrSyntax},
		{"12+-34 ft", units.ErrSyntax},
		{"1.2+34 ft", units.ErrSyntax},
		{"ft", units.ErrSyntax},
		{"12+34.1234567 ft", units.ErrDigits},
		{"10000000+00 ft", units.ErrRange},
		{"1234567890123456789012345678901+00 ft", units.ErrDigits},
	} {
		s, err := units.ParseStation(tt.text)
		var pe *units.ParseError
		if !errors.Is(err, tt.want) || !errors.As(err, &pe) || !s.IsZero() {
			t.Errorf("ParseStation(%q) = %v, %v; want %v", tt.text, s, err, tt.want)
		}
	}
	for text, want := range map[string]error{"12+345": units.ErrSyntax, "12+34.5 m": units.ErrUnit, "": units.ErrNotGiven, "12+34.5 ft ft": units.ErrUnit} {
		if s, err := units.Station100Ft.Parse(text); !errors.Is(err, want) {
			t.Errorf("stations of 100 ft: %q = %v, %v; want %v", text, s, err, want)
		}
	}
	if _, err := units.StationSystem(0).Parse("12+34"); !errors.Is(err, units.ErrUnit) {
		t.Errorf("no system: %v", err)
	}
	if _, err := units.Station100Ft.Parse("12+34,5"); !errors.Is(err, units.ErrSyntax) {
		t.Errorf("a decimal comma: %v", err)
	}
}

func TestStationArithmetic(t *testing.T) {
	from, to := units.Station100Ft.Of(1234.5), units.Station100Ft.Of(1500.3)
	if got := to.Sub(from); got.String() != "265.8 ft" {
		t.Errorf("%v - %v = %v", to, from, got)
	}
	if got := from.Add(units.Foot.Of(265.8)); got != to {
		t.Errorf("%v + 265.8 ft = %v, want %v", from, got, to)
	}
	// 10 m are 10/0.3048 = 32.8083989… ft, to 6 decimals 32.808399.
	if got := units.Station100Ft.Of(0).Add(units.Metre.Of(10)); got.String() != "0+32.808399 ft" {
		t.Errorf("0+00 ft + 10 m = %v", got)
	}
	if units.Station100M.Of(500).Compare(units.Station1000M.Of(500)) != 0 || units.Station100Ft.Of(1000).Compare(units.Station100M.Of(304.8)) != 0 {
		t.Error("one place in two systems compares as two")
	}
	if !from.Sub(units.Station{}).IsZero() || !from.Add(units.Length{}).IsZero() || !(units.Station{}).Add(units.Foot.Of(1)).IsZero() || !from.Add(units.Metre.Of(1.7e308)).IsZero() {
		t.Error("arithmetic with nothing gave a station")
	}
}

func TestStationFormat(t *testing.T) {
	s := units.Station100Ft.Of(1299.95)
	for _, tt := range []struct{ got, want string }{
		{fmt.Sprintf("%v|%s", s, s), "12+99.95 ft|12+99.95 ft"},
		{fmt.Sprintf("%.0f", s), "13+00 ft"}, // the carry goes over the plus sign
		{fmt.Sprintf("%.3f", s), "12+99.950 ft"},
		{fmt.Sprintf("%13v|%-13v|", s, s), "  12+99.95 ft|12+99.95 ft  |"},
		{fmt.Sprintf("%d", s), "%!d(units.Station=12+99.95 ft)"},
		{fmt.Sprint(units.Station{}), "not given"},
		{units.Station1000M.String() + units.StationSystem(9).String(), "stations of 1000 m"},
	} {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

func FuzzParseStation(f *testing.F) {
	for _, s := range []string{"12+34.5 ft", "-0+50 m", "0+007 m", "1e5+00 ft", "+"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := units.ParseStation(text)
		if (err == nil) == s.IsZero() {
			t.Fatalf("ParseStation(%q) = %v, %v", text, s, err)
		}
		if back, err2 := units.ParseStation(s.String()); err == nil && (err2 != nil || back != s) {
			t.Fatalf("%q → %q → %v, %v", text, s, back, err2)
		}
	})
}

func ExampleParseStation() {
	from, err := units.ParseStation("12+34.5 ft")
	if err != nil {
		fmt.Println(err)
		return
	}
	to := from.Add(units.Foot.Of(500))
	fmt.Println(to, to.Notation(), to.Sub(from))
	_, err = units.ParseStation("12+34.5")
	fmt.Println(err)
	// Output:
	// 17+34.5 ft 17+34.5 500 ft
	// units.ParseStation "12+34.5": unknown unit; need a station like 12+34.5 ft, 12+34.5 m (of 100 m) or 12+345.6 m (of 1000 m)
}

func ExampleStationSystem_Parse() {
	s, err := units.Station1000M.Parse("12+345.6")
	fmt.Println(s, s.Length(), err)
	// Output: 12+345.6 m 12345.6 m <nil>
}
