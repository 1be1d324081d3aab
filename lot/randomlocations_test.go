package lot_test

import (
	"encoding/csv"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// samplingTerms is an invented lot.
func samplingTerms() lot.SamplingTerms {
	return lot.SamplingTerms{
		Lot:     "7",
		Along:   lot.Axis{Name: "tonnage", Unit: "t", Rounding: halfEven(1)},
		Sublots: []lot.SublotSize{{ID: "1", Size: d("250")}, {ID: "2", Size: d("250")}, {ID: "3", Size: d("250")}, {ID: "4", Size: d("180")}},
		Across: &lot.Transverse{
			Axis: lot.Axis{Name: "offset", Unit: "m", Rounding: halfEven(2), Excluded: []lot.Exclusion{
				{From: d("0"), To: d("0.5"), Reason: "unsupported edge"}, {From: d("3.4"), To: d("3.5"), Reason: "joint"}}},
			Width: d("3.5"),
		},
	}
}

// Numbers by Python, products and sums by hand:
//
//	def splitmix(s):
//	    while True:
//	        s = (s + 0x9e3779b97f4a7c15) % 2**64
//	        z = (s ^ s >> 30) * 0xbf58476d1ce4e5b9 % 2**64
//	        z = (z ^ z >> 27) * 0x94d049bb133111eb % 2**64
//	        yield z ^ z >> 31
//	[x % 10**6 for x in itertools.islice(splitmix(20260511), 9)]
//	398179 784942 861583 53703 284646 402368 830108 36028 575665
//
// of which 0.053703·3.5 = 0.19 is in the strip along the edge.
func TestRandomLocations(t *testing.T) {
	sheet, err := lot.RandomLocations(samplingTerms(), 20260511)
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{
		{"sublot", "from (t)", "size (t)", "weight", "number along", "into sublot (t)", "tonnage (t)", "number across", "offset (m)"},
		{"1", "0", "250", "0.2688", "0.398179", "99.5", "99.5", "0.784942", "2.75"},
		{"2", "250", "250", "0.2688", "0.861583", "215.4", "465.4", "0.284646", "1.00"},
		{"3", "500", "250", "0.2688", "0.402368", "100.6", "600.6", "0.830108", "2.91"},
		{"4", "750", "180", "0.1935", "0.036028", "6.5", "756.5", "0.575665", "2.01"},
	}
	if diff := cmp.Diff(want, sheet.Records()); diff != "" {
		t.Error(diff)
	}
	if got := sheet.Locations[1].Discarded; len(got) != 1 || got[0].Reason != "unsupported edge" || !got[0].Number.Equal(d("0.053703")) || !got[0].At.Equal(d("0.19")) {
		t.Errorf("discarded %v", got)
	}
	if w := sheet.Locations[3].Weight; math.Abs(w-180.0/930) > 1e-16 {
		t.Errorf("weight %v", w)
	}
	if rows, err := csv.NewReader(strings.NewReader(csvOf(t, sheet))).ReadAll(); err != nil || !cmp.Equal(rows, want) {
		t.Errorf("as CSV: %v, %v", rows, err)
	}
}

func csvOf(t *testing.T, sheet lot.FieldSheet) string {
	t.Helper()
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(sheet.Records()); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Every place lies in its sublot and on the mat, outside what is excluded, with a
// bridge in the second sublot; and the same seed gives the same sheet.
func TestRandomLocationsKeepClear(t *testing.T) {
	terms := samplingTerms()
	terms.Start = d("120.5")
	terms.Along.Excluded = []lot.Exclusion{{From: d("400"), To: d("600"), Reason: "bridge"}}
	discarded := 0
	for seed := range uint64(300) {
		sheet, err := lot.RandomLocations(terms, seed)
		again, err2 := lot.RandomLocations(terms, seed)
		if err != nil || err2 != nil || sheet.String() != again.String() {
			t.Fatalf("seed %d: %v, %v, or another sheet", seed, err, err2)
		}
		end := terms.Start
		for _, l := range sheet.Locations {
			at, offset := l.Along.At, l.Across.At
			if at.LessThan(end) || at.GreaterThanOrEqual(end.Add(l.Size)) || !l.From.Equal(end) {
				t.Errorf("seed %d: sublot %s from %v at %v", seed, l.Sublot, end, at)
			}
			if at.GreaterThanOrEqual(d("400")) && at.LessThanOrEqual(d("600")) || offset.LessThanOrEqual(d("0.5")) || offset.GreaterThanOrEqual(d("3.4")) {
				t.Errorf("seed %d: sublot %s at %v, %v is excluded", seed, l.Sublot, at, offset)
			}
			end = end.Add(l.Size)
			discarded += len(l.Discarded)
		}
	}
	if discarded == 0 {
		t.Error("nothing was discarded, so nothing was tested")
	}
}

// A sublot added at the end, and the caller's own slices, change nothing before it.
func TestRandomLocationsLaws(t *testing.T) {
	terms := samplingTerms()
	sheet, err := lot.RandomLocations(terms, 8)
	if err != nil {
		t.Fatal(err)
	}
	text := sheet.String()
	longer := samplingTerms()
	longer.Sublots = append(longer.Sublots, lot.SublotSize{ID: "5", Size: d("99.9")})
	more, err := lot.RandomLocations(longer, 8)
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range sheet.Locations {
		if m := more.Locations[i]; !m.Along.At.Equal(l.Along.At) || !m.Across.At.Equal(l.Across.At) {
			t.Errorf("sublot %s moved from %v to %v", l.Sublot, l.Along.At, m.Along.At)
		}
	}
	if diff := cmp.Diff(samplingTerms(), terms); diff != "" {
		t.Error("terms changed", diff)
	}
	terms.Sublots[0].ID, terms.Across.Excluded[0].Reason, terms.Across.Width = "changed", "changed", d("1")
	if sheet.String() != text {
		t.Error("the sheet hangs on the caller's terms")
	}
}

// Without an axis across there is no offset; a place rounded to the end of its
// sublot belongs to the next and is discarded. With a step of 100 t in 150 t places
// are 0 and 100 alone: 150 would be the end; in 101 t too, and in 100 t 0 alone, which
// is no choice.
func TestRandomLocationsAlongOnly(t *testing.T) {
	terms := samplingTerms()
	terms.Across = nil
	terms.Along.Rounding = units.Rounding{Method: units.HalfUp, Places: -2}
	terms.Sublots = []lot.SublotSize{{ID: "1", Size: d("150")}, {ID: "2", Size: d("101")}}
	for seed := range uint64(50) {
		sheet, err := lot.RandomLocations(terms, seed)
		if err != nil {
			t.Fatal(err)
		}
		first, second := sheet.Locations[0], sheet.Locations[1]
		if first.Across != nil || !(first.Along.Into.IsZero() || first.Along.Into.Equal(d("100"))) || !(second.Along.At.Equal(d("150")) || second.Along.At.Equal(d("250"))) {
			t.Errorf("%+v", sheet.Locations)
		}
		if len(sheet.Records()[1]) != 7 {
			t.Errorf("%v", sheet.Records())
		}
	}
}

// By hand.
func TestPlaceOf(t *testing.T) {
	for _, tt := range []struct {
		number, start, size string
		r                   units.Rounding
		into, at            string
	}{
		{".022", "250", "250", absolute, "5.5", "255.5"},
		{"0.0005", "1234.25", "100", halfEven(1), "0.0", "1234.25"},
		{"0.9999", "0", "100", halfEven(0), "100", "100"},
		{"0.9999", "-50", "100", absolute, "99.99", "49.99"},
		{"0", "0", "100", halfEven(0), "0", "0"},
	} {
		p, err := lot.PlaceOf(d(tt.number), d(tt.start), d(tt.size), tt.r)
		if err != nil || !p.Into.Equal(d(tt.into)) || !p.At.Equal(d(tt.at)) {
			t.Errorf("%v: %v, %v, %v", tt, p.Into, p.At, err)
		}
	}
}

func TestPlaceOfRefuses(t *testing.T) {
	long := decimal.New(1, 1_000_000_000)
	for _, tt := range []struct {
		number, start, size decimal.Decimal
		r                   units.Rounding
		arg                 string
		want                error
	}{
		{d("1"), d("0"), d("250"), halfEven(1), "number", stats.ErrParameter},
		{d("-0.1"), d("0"), d("250"), halfEven(1), "number", stats.ErrParameter},
		{d("22"), d("0"), d("250"), halfEven(1), "number", stats.ErrParameter},
		{long, d("0"), d("250"), halfEven(1), "number", lot.ErrDigits},
		{d("0.5"), long, d("250"), halfEven(1), "start", lot.ErrDigits},
		{d("0.5"), d("0"), long, halfEven(1), "size", lot.ErrDigits},
		{d("0.5"), d("0"), d("0"), halfEven(1), "size", stats.ErrParameter},
		{d("0.5"), d("0"), d("250"), units.Rounding{}, "r", units.ErrRounding},
	} {
		_, err := lot.PlaceOf(tt.number, tt.start, tt.size, tt.r)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Arg != tt.arg {
			t.Errorf("%v, want %v of %s", err, tt.want, tt.arg)
		}
	}
}

func TestRandomLocationsRefuses(t *testing.T) {
	long := decimal.New(1, 1_000_000_000)
	whole := lot.Exclusion{From: d("0"), To: d("3.5"), Reason: "closed"}
	for _, tt := range []struct {
		name   string
		change func(*lot.SamplingTerms)
		arg    string
		index  int
		want   error
	}{
		{"no lot", func(t *lot.SamplingTerms) { t.Lot = "" }, "t.Lot", -1, lot.ErrNoID},
		{"a start that fills the memory", func(t *lot.SamplingTerms) { t.Start = long }, "t.Start", -1, lot.ErrDigits},
		{"no name", func(t *lot.SamplingTerms) { t.Along.Name = "" }, "t.Along.Name", -1, lot.ErrMissing},
		{"no unit", func(t *lot.SamplingTerms) { t.Along.Unit = "" }, "t.Along.Unit", -1, lot.ErrMissing},
		{"no rounding", func(t *lot.SamplingTerms) { t.Across.Rounding = units.Rounding{} }, "t.Across.Rounding", -1, units.ErrRounding},
		{"places without end", func(t *lot.SamplingTerms) { t.Across.Rounding.Places = 31 }, "t.Across.Rounding", -1, units.ErrRange},
		{"no sublots", func(t *lot.SamplingTerms) { t.Sublots = nil }, "t.Sublots", -1, stats.ErrTooFew},
		{"a sublot without id", func(t *lot.SamplingTerms) { t.Sublots[2].ID = "" }, "t.Sublots", 2, lot.ErrNoID},
		{"a sublot twice", func(t *lot.SamplingTerms) { t.Sublots[2].ID = "1" }, "t.Sublots", 2, lot.ErrRepeatedID},
		{"a sublot without size", func(t *lot.SamplingTerms) { t.Sublots[2].Size = d("0") }, "t.Sublots", 2, stats.ErrParameter},
		{"a size that fills the memory", func(t *lot.SamplingTerms) { t.Sublots[2].Size = long }, "t.Sublots", 2, lot.ErrDigits},
		{"no width", func(t *lot.SamplingTerms) { t.Across.Width = d("0") }, "t.Across.Width", -1, stats.ErrParameter},
		{"an exclusion the wrong way round", func(t *lot.SamplingTerms) { t.Across.Excluded[1].From = d("4") }, "t.Across.Excluded", 1, stats.ErrParameter},
		{"an exclusion without reason", func(t *lot.SamplingTerms) { t.Across.Excluded[1].Reason = "" }, "t.Across.Excluded", 1, lot.ErrMissing},
		{"an exclusion that fills the memory", func(t *lot.SamplingTerms) { t.Across.Excluded[1].To = long }, "t.Across.Excluded", 1, lot.ErrDigits},
		{"one step for a sublot", func(t *lot.SamplingTerms) { t.Along.Rounding, t.Sublots[0].Size = halfEven(-2), d("100") }, "t.Sublots", 0, stats.ErrParameter},
		{"places of too many digits", func(t *lot.SamplingTerms) {
			t.Along.Rounding, t.Sublots[0].Size = absolute, d("1234567890123456789012345678.5")
		}, "t.Sublots", 0, lot.ErrDigits},
		{"two lines", func(t *lot.SamplingTerms) { t.Lot = "7\n8" }, "t.Lot", -1, lot.ErrText},
		{"a name that is not UTF-8", func(t *lot.SamplingTerms) { t.Along.Name = "\xff" }, "t.Along.Name", -1, lot.ErrText},
		{"a sublot of two lines", func(t *lot.SamplingTerms) { t.Sublots[2].ID = "3\n4" }, "t.Sublots", 2, lot.ErrText},
		{"a reason of two lines", func(t *lot.SamplingTerms) { t.Across.Excluded[1].Reason = "joint\nedge" }, "t.Across.Excluded", 1, lot.ErrText},
		{"no room", func(t *lot.SamplingTerms) { t.Across.Excluded[0] = whole }, "t.Sublots", 0, lot.ErrNoRoom},
	} {
		terms := samplingTerms()
		tt.change(&terms)
		sheet, err := lot.RandomLocations(terms, 1)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Arg != tt.arg || bad.Index != tt.index || sheet.Locations != nil {
			t.Errorf("%s: %v, want %v of %s at %d", tt.name, err, tt.want, tt.arg, tt.index)
		}
	}
}
