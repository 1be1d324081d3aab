package density_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func TestHistoryRefuses(t *testing.T) {
	h := history(t, rule(density.OfDay, 0), determined("a", 2.512, 8, "1"))
	change := func(f func(d *density.Determination)) error {
		d := determined("b", 2.512, 10, "2")
		f(&d)
		_, err := h.Add(d)
		return err
	}
	ofSublot := history(t, rule(density.OfSublot, 0), determined("a", 2.512, 8, "1"))
	latest := history(t, rule(density.Latest, 0), determined("a", 2.512, 8, "1"))
	twice := append(placements(), placements()[0])
	for _, tt := range []struct {
		name string
		err  error
		want error
	}{
		{"no id", change(func(d *density.Determination) { d.ID = "" }), units.ErrNotGiven},
		{"an id of two lines", change(func(d *density.Determination) { d.ID = "b\nc" }), density.ErrText},
		{"a repeated id", change(func(d *density.Determination) { d.ID = "a" }), density.ErrRepeatedID},
		{"no time", change(func(d *density.Determination) { d.At = time.Time{} }), units.ErrNotGiven},
		{"no day", change(func(d *density.Determination) { d.Day = density.Date{} }), units.ErrNotGiven},
		{"no Gmm", change(func(d *density.Determination) { d.Gmm = units.SpecificGravity{} }), units.ErrNotGiven},
		{"a sentinel", change(func(d *density.Determination) { d.Gmm = units.SpecificGravityOf(-999) }), density.ErrNotPositive},
		{"replaced without a reason", change(func(d *density.Determination) { d.Replaces = "a" }), units.ErrNotGiven},
		{"an unknown one replaced", change(func(d *density.Determination) { d.Replaces, d.Reason = "z", "slip" }), density.ErrUnknownID},
		{"itself replaced", change(func(d *density.Determination) { d.Replaces, d.Reason = "b", "slip" }), density.ErrUnknownID},
		{"twice in one call", second(h.Add(determined("b", 2.5, 9, ""), determined("b", 2.5, 9, ""))), density.ErrRepeatedID},
		{"none", second(h.Add()), stats.ErrTooFew},
		{"no sublot of a sample", second(ofSublot.Add(determined("b", 2.5, 9, ""))), units.ErrNotGiven},
		{"no sublot", second(h.Of(density.Placement{Day: density.DateOf(clock(0, 0))})), units.ErrNotGiven},
		{"no day of a result", second(h.Of(density.Placement{Sublot: "1"})), units.ErrNotGiven},
		{"no time of a result", second(latest.Of(density.Placement{Sublot: "1"})), units.ErrNotGiven},
		{"another day", second(h.Of(density.Placement{Sublot: "1", Day: density.DateOf(clock(24, 0))})), density.ErrNoGmm},
		{"another sublot", second(ofSublot.Of(density.Placement{Sublot: "2"})), density.ErrNoGmm},
		{"before the first sample", second(latest.Of(density.Placement{Sublot: "1", At: clock(7, 59)})), density.ErrNoGmm},
		{"a sublot placed twice", second(h.Changes(h, twice)), density.ErrRepeatedID},
		{"changes without a day", second(h.Changes(h, []density.Placement{{Sublot: "1"}})), units.ErrNotGiven},
		{"a later version", second(h.AtVersion(2)), density.ErrNoVersion},
		{"a version before all", second(h.AtVersion(-1)), density.ErrNoVersion},
		{"no history", second(density.MaximumHistory{}.Of(placements()[0])), units.ErrRounding},
		{"nothing to add to", second(density.MaximumHistory{}.Add(determined("a", 2.5, 8, ""))), units.ErrRounding},
		{"no basis", rule(0, 0).Validate(), density.ErrRule},
		{"a count for a day", rule(density.OfDay, 3).Validate(), density.ErrRule},
		{"no count", rule(density.MovingAverage, 0).Validate(), density.ErrRule},
		{"a negative count", rule(density.MovingAverage, -1).Validate(), density.ErrRule},
		{"no water", density.MaximumRule{Basis: density.OfDay, Rounding: thousandth}.Validate(), density.ErrRule},
		{"a range upside down", second(density.NewMaximumHistory(rule(density.OfDay, 0), density.GmmScreen{Range: density.Plausible[units.SpecificGravity]{Low: units.SpecificGravityOf(3), High: units.SpecificGravityOf(2)}})), density.ErrBounds},
		{"a negative distance", second(density.NewMaximumHistory(rule(density.OfDay, 0), density.GmmScreen{Distance: decimal.NewFromInt(-1)})), units.ErrRange},
		{"rounded to nothing", second(history(t, density.MaximumRule{Basis: density.OfDay, Rounding: units.Rounding{Method: units.HalfEven, Places: -2}, Water: units.Water1000}, determined("a", 2.5, 8, "")).Of(placements()[0])), density.ErrNotPositive},
	} {
		if !errors.Is(tt.err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, tt.err, tt.want)
		}
	}
	err := change(func(d *density.Determination) { d.Day = density.Date{} })
	if want := `density.MaximumHistory.Add: ds[0] "b": Day: no value given`; err == nil || err.Error() != want {
		t.Errorf("message %q, want %q", err, want)
	}
	var ie *stats.InputError
	if _, err := h.Of(density.Placement{Sublot: "7", Day: density.DateOf(clock(24, 0))}); !errors.As(err, &ie) || ie.ID != "7" {
		t.Errorf("the error does not name the sublot: %v", err)
	}
}

func TestMaximumRuleAsData(t *testing.T) {
	for _, want := range []density.MaximumRule{{}, rule(density.OfSublot, 0), rule(density.OfDay, 0), rule(density.MovingAverage, 4), rule(density.Latest, 0)} {
		var got density.MaximumRule
		b, err := json.Marshal(want)
		if err == nil {
			err = json.Unmarshal(b, &got)
		}
		if err != nil || got != want {
			t.Errorf("%s read back as %v, %v", b, got, err)
		}
	}
	b, err := json.Marshal(rule(density.MovingAverage, 4))
	if want := `{"Basis":"moving average","Count":4,"Rounding":"half-even to 0.001","Water":"62.245 lb/ft3"}`; err != nil || string(b) != want {
		t.Errorf("%s, %v; want %s", b, err, want)
	}
	var basis density.MaximumBasis
	if err := basis.UnmarshalText([]byte("daily")); !errors.Is(err, density.ErrRule) {
		t.Errorf("an unknown basis: %v, %v", basis, err)
	}
}

func ExampleNewMaximumHistory() {
	h, err := density.NewMaximumHistory(
		density.MaximumRule{Basis: density.MovingAverage, Count: 2, Rounding: toThousandth, Water: units.Water62_245},
		density.GmmScreen{Distance: decimal.RequireFromString("0.015")})
	if err != nil {
		fmt.Println(err)
		return
	}
	first, err := h.Add(
		density.Determination{ID: "m-1", At: clock(8, 10), Gmm: units.SpecificGravityOf(2.512)},
		density.Determination{ID: "m-3", At: clock(13, 40), Gmm: units.SpecificGravityOf(2.517)})
	if err != nil {
		fmt.Println(err)
		return
	}
	second, err := first.Add(density.Determination{ID: "m-2", At: clock(10, 50), Gmm: units.SpecificGravityOf(2.508)})
	if err != nil {
		fmt.Println(err)
		return
	}
	results := []density.Placement{{Sublot: "5-1", At: clock(9, 30)}, {Sublot: "5-2", At: clock(11, 30)}, {Sublot: "5-3", At: clock(14, 30)}}
	changes, err := second.Changes(first, results)
	for _, c := range changes {
		fmt.Println(c.Sublot, "was", c.Before.Reference.Gravity(), "of", c.Before.From, "and is", c.After.Reference.Gravity(), "of", c.After.From)
	}
	fmt.Println(changes[1].After.Working[0], err)
	// Output:
	// 5-2 was 2.512 of [m-1] and is 2.51 of [m-1 m-2]
	// 5-3 was 2.514 of [m-1 m-3] and is 2.512 of [m-2 m-3]
	// mean specific gravity = ΣG/n = (2.508 + 2.517)/2 = 2.5125 → 2.512 (half-even to 0.001) <nil>
}
