package density_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// central is the offset of the invented jobs.
var central = time.FixedZone("", -5*60*60)

func clock(hour, minute int) time.Time { return time.Date(2024, 5, 14, hour, minute, 0, 0, central) }

func determined(id string, gmm float64, hour int, sublot string) density.Determination {
	return density.Determination{ID: id, At: clock(hour, 0), Day: density.DateOf(clock(0, 0)), Sublot: sublot, Gmm: units.SpecificGravityOf(gmm)}
}

func rule(b density.MaximumBasis, count int) density.MaximumRule {
	return density.MaximumRule{Basis: b, Count: count, Rounding: thousandth, Water: units.Water62_245}
}

func history(t *testing.T, r density.MaximumRule, ds ...density.Determination) density.MaximumHistory {
	t.Helper()
	h, err := density.NewMaximumHistory(r, density.GmmScreen{})
	if err == nil && len(ds) > 0 {
		h, err = h.Add(ds...)
	}
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// Five sublots, placed at 8, 10, 12, 14 and 16 o'clock.
func placements() (ps []density.Placement) {
	for i := range 5 {
		ps = append(ps, density.Placement{Sublot: fmt.Sprint(i + 1), Day: density.DateOf(clock(0, 0)), At: clock(8+2*i, 30)})
	}
	return ps
}

// A mix changes at midday, and the rule decides the percentages. Python 3:
//
//	from fractions import Fraction as F
//	["%.3f" % float(100*F(d)/(F(gmm)*F("62.245"))) for d in ("144.6", "144.2", "143.1", "142.6", "143.4")]
//
// with 2.512 for the first two and 2.478 for the rest, the mean 2.495 for all, or 2.512
// for all.
func TestWhichGmmApplies(t *testing.T) {
	own := []string{"92.479", "92.223", "92.776", "92.451", "92.970"}
	ofEach := []density.Determination{determined("m1", 2.512, 8, "1"), determined("m2", 2.512, 10, "2"),
		determined("m3", 2.478, 12, "3"), determined("m4", 2.478, 14, "4"), determined("m5", 2.478, 16, "5")}
	twoOfDay := []density.Determination{determined("am", 2.512, 8, "1"), determined("pm", 2.478, 12, "3")}
	for _, tt := range []struct {
		name string
		h    density.MaximumHistory
		want []string
	}{
		{"of the sublot", history(t, rule(density.OfSublot, 0), ofEach...), own},
		{"latest", history(t, rule(density.Latest, 0), twoOfDay...), own},
		{"moving average of 1", history(t, rule(density.MovingAverage, 1), twoOfDay...), own},
		{"mean of the day", history(t, rule(density.OfDay, 0), twoOfDay...), []string{"93.109", "92.852", "92.143", "91.822", "92.337"}},
		{"the morning for all", history(t, rule(density.OfDay, 0), twoOfDay[0]), []string{"92.479", "92.223", "91.520", "91.200", "91.712"}},
	} {
		p := density.RoundingPolicy{Mean: absolute, Density: absolute, Maximum: absolute, Percentage: thousandth}
		var got []string
		for i, d := range []float64{144.6, 144.2, 143.1, 142.6, 143.4} {
			m, err := tt.h.Of(placements()[i])
			if err != nil {
				t.Fatal(err)
			}
			if m.Reference.Water() != units.Water62_245 || !strings.Contains(m.Reference.String(), "62.245 lb/ft3") {
				t.Errorf("%s: the maximum does not state its water: %v", tt.name, m.Reference)
			}
			a, err := density.AuditCore(density.Core(lb(d)), m.Reference, p)
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, a.Percentage.StringFixed(3))
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// Means of the last four of 2.512, 2.509, 2.478, 2.481, 2.490 by hand: 2.512;
// 2.5105, a tie that goes to the even 2.510; 7.499/3 = 2.49967; 9.980/4 = 2.495;
// 9.958/4 = 2.4895, a tie that goes to 2.490.
func TestMovingAverage(t *testing.T) {
	h := history(t, rule(density.MovingAverage, 4), determined("a", 2.512, 8, ""), determined("b", 2.509, 10, ""),
		determined("c", 2.478, 12, ""), determined("d", 2.481, 14, ""), determined("e", 2.490, 16, ""))
	for i, want := range []struct {
		gmm  float64
		from []string
	}{{2.512, []string{"a"}}, {2.510, []string{"a", "b"}}, {2.500, []string{"a", "b", "c"}}, {2.495, []string{"a", "b", "c", "d"}}, {2.490, []string{"b", "c", "d", "e"}}} {
		m, err := h.Of(placements()[i])
		if err != nil || m.Reference.Gravity() != units.SpecificGravityOf(want.gmm) || !slices.Equal(m.From, want.from) {
			t.Errorf("sublot %d: %v of %v, %v; want %v of %v", i+1, m.Reference.Gravity(), m.From, err, want.gmm, want.from)
		}
		if hasWarning(m.Warnings, density.WarnFewGmm) != (len(want.from) < 4) {
			t.Errorf("sublot %d: %v", i+1, m.Warnings)
		}
	}
	atTheTime, err := h.Of(density.Placement{Sublot: "x", At: clock(8, 0)})
	if err != nil || len(atTheTime.From) != 1 {
		t.Errorf("a sample at the very time of the placement: %v, %v", atTheTime.From, err)
	}
}

// A Gmm that was sampled at 12 and became known after one of 14: it changes the
// results from 12 to 14, and what was reported before stays as it was.
func TestLateGmm(t *testing.T) {
	first := history(t, rule(density.Latest, 0), determined("a", 2.512, 8, ""), determined("b", 2.490, 14, ""))
	second, err := first.Add(determined("late", 2.478, 12, ""))
	if err != nil {
		t.Fatal(err)
	}
	changes, err := second.Changes(first, placements())
	if err != nil || len(changes) != 1 || changes[0].Sublot != "3" {
		t.Fatalf("changes %+v, %v; want sublot 3", changes, err)
	}
	c := changes[0]
	if c.Before.Reference.Gravity() != units.SpecificGravityOf(2.512) || c.After.Reference.Gravity() != units.SpecificGravityOf(2.478) || c.Before.Version != 1 || c.After.Version != 2 {
		t.Errorf("change %+v", c)
	}
	kept, err := second.AtVersion(1)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range placements() {
		was, err1 := first.Of(p)
		is, err2 := kept.Of(p)
		if diff := cmp.Diff(was, is); err1 != nil || err2 != nil || diff != "" {
			t.Errorf("version 1 is not what it was: %s, %v, %v", diff, err1, err2)
		}
	}
	// A mean of the day is open till its last sample is known: all five change.
	day := history(t, rule(density.OfDay, 0), determined("a", 2.512, 8, ""), determined("b", 2.490, 14, ""))
	later, err := day.Add(determined("late", 2.478, 12, ""))
	if err != nil {
		t.Fatal(err)
	}
	if changes, err = later.Changes(day, placements()); err != nil || len(changes) != 5 {
		t.Errorf("mean of the day: %d changes, %v", len(changes), err)
	}
	// Where there was nothing, the first one is a change too.
	empty, err := later.AtVersion(0)
	if err != nil {
		t.Fatal(err)
	}
	if changes, err = day.Changes(empty, placements()[:1]); err != nil || len(changes) != 1 || !changes[0].Before.Reference.IsZero() {
		t.Errorf("from nothing: %+v, %v", changes, err)
	}
	if changes, err = day.Changes(day, placements()); err != nil || len(changes) != 0 {
		t.Errorf("from itself: %+v, %v", changes, err)
	}
}

// 2.541 for 2.514: flagged, still counted, and put right only by a person who says
// why. The distance is not more than itself: 2.514 ± 0.010.
func TestMistypedGmm(t *testing.T) {
	screen := density.GmmScreen{Distance: decimal.RequireFromString("0.010"), Range: density.Plausible[units.SpecificGravity]{Low: units.SpecificGravityOf(2.45), High: units.SpecificGravityOf(2.53)}}
	h, err := density.NewMaximumHistory(rule(density.OfDay, 0), screen)
	if err != nil {
		t.Fatal(err)
	}
	h, err = h.Add(determined("a", 2.512, 8, ""), determined("b", 2.516, 10, ""), determined("c", 2.541, 12, ""), determined("d", 2.514, 14, ""))
	if err != nil {
		t.Fatal(err)
	}
	m, err := h.Of(placements()[0])
	if err != nil || len(m.From) != 4 || !hasWarning(m.Warnings, density.WarnFarGmm) || !hasWarning(m.Warnings, density.WarnImplausible) {
		t.Fatalf("%v with %v, %v", m.From, m.Warnings, err)
	}
	want := []stats.Warning{
		{Code: density.WarnImplausible, Where: "c", Text: "2.541 is not within the range that the project expects (2.45 to 2.53); check the record for a slip"},
		{Code: density.WarnFarGmm, Where: "c", Text: "2.541 is more than 0.01 from 2.514, the median of the others; check the record for a slip; with two digits swapped it would be 2.514"},
	}
	if diff := cmp.Diff(want, h.Warnings()); diff != "" {
		t.Error(diff)
	}
	right := determined("c2", 2.514, 12, "")
	right.Replaces, right.Reason = "c", "the sheet of the laboratory says 2.514"
	fixed, err := h.Add(right)
	if err != nil || len(fixed.Warnings()) != 0 || len(fixed.InUse()) != 4 || len(fixed.Determinations()) != 5 {
		t.Fatalf("put right: %v of %v, %v", fixed.InUse(), fixed.Determinations(), err)
	}
	if m, err = fixed.Of(placements()[0]); err != nil || m.Reference.Gravity() != units.SpecificGravityOf(2.514) || slices.Contains(m.From, "c") {
		t.Errorf("put right: %v of %v, %v", m.Reference.Gravity(), m.From, err)
	}
	atTheLimit, err := fixed.Add(determined("e", 2.524, 15, ""), determined("f", 2.504, 15, ""))
	if err != nil || len(atTheLimit.Warnings()) != 0 {
		t.Errorf("at the limit: %v, %v", atTheLimit.Warnings(), err)
	}
	beyond, err := fixed.Add(determined("e", 2.5241, 15, ""))
	if ws := beyond.Warnings(); err != nil || len(ws) != 1 || ws[0].Where != "e" {
		t.Errorf("beyond the limit: %v, %v", ws, err)
	}
}

// The median of an even number is between the middle two: 2.500 and 2.520 make
// 2.510, and 2.535 is more than 0.020 from it, but not from 2.520.
func TestMedianOfOthers(t *testing.T) {
	h, err := density.NewMaximumHistory(rule(density.OfDay, 0), density.GmmScreen{Distance: decimal.RequireFromString("0.020")})
	if err == nil {
		h, err = h.Add(determined("a", 2.500, 8, ""), determined("b", 2.535, 9, ""), determined("c", 2.520, 10, ""))
	}
	if ws := h.Warnings(); err != nil || len(ws) != 2 || ws[0].Where != "a" || ws[1].Where != "b" || !strings.Contains(ws[1].Text, "from 2.51,") {
		t.Errorf("%v, %v", ws, err)
	}
}

// The order in which determinations become known does not matter for the last
// version, nor does the offset in which their times are written.
func TestOrderOfArrivalDoesNotMatter(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	ds := []density.Determination{determined("a", 2.512, 8, "1"), determined("b", 2.509, 10, "2"), determined("c", 2.478, 12, "3"), determined("d", 2.481, 14, "4"), determined("e", 2.490, 16, "5")}
	for _, r := range []density.MaximumRule{rule(density.OfSublot, 0), rule(density.OfDay, 0), rule(density.MovingAverage, 3), rule(density.Latest, 0)} {
		want := history(t, r, ds...)
		for range 20 {
			shuffled := slices.Clone(ds)
			rng.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
			for i := range shuffled {
				shuffled[i].At = shuffled[i].At.In(time.FixedZone("", 3600*(rng.IntN(20)-10)))
			}
			if changes, err := history(t, r, shuffled...).Changes(want, placements()); err != nil || len(changes) != 0 {
				t.Errorf("%v: %v, %v", r, changes, err)
			}
		}
	}
}

// Two histories that grow from one do not see each other, and many goroutines may
// read and extend one at a time.
func TestHistoriesAreIndependent(t *testing.T) {
	base := history(t, rule(density.OfDay, 0))
	for _, id := range []string{"a", "a2", "a3"} { // one by one, so that a slice has room to spare
		next, err := base.Add(determined(id, 2.500, 8, ""))
		if err != nil {
			t.Fatal(err)
		}
		base = next
	}
	var wg sync.WaitGroup
	grown := make([]density.MaximumHistory, 50)
	gmm := func(i int) float64 { return 2.4 + float64(i)/250 } // the mean with three of 2.500 has three decimals
	for i := range grown {
		wg.Add(1)
		go func() {
			defer wg.Done()
			ds := []density.Determination{determined("b", gmm(i), 9, ""), determined("c", 2.6, 9, "")}[:1+i%2]
			if i%2 == 1 {
				ds[1].Day = density.DateOf(clock(24, 0))
			}
			next, err := base.Add(ds...)
			if err != nil {
				t.Error(err)
			}
			grown[i] = next
		}()
	}
	wg.Wait()
	for i, h := range grown { // after all have grown, so that one that another wrote into shows
		now, err1 := h.AtVersion(4)
		m, err2 := now.Of(placements()[0])
		if err := errors.Join(err1, err2); err != nil || len(now.Determinations()) != 4+i%2 {
			t.Fatalf("history %d has %d determinations, %v", i, len(now.Determinations()), err)
		}
		if got, want := fmt.Sprintf("%.3f", m.Reference.Gravity()), fmt.Sprintf("%.3f", (gmm(i)+7.5)/4); got != want {
			t.Errorf("history %d: mean %s, want %s", i, got, want)
		}
	}
	if base.Version() != 3 || len(base.Determinations()) != 3 {
		t.Errorf("the base has changed: %v", base.Determinations())
	}
	base.Determinations()[0].ID = "z"
	base.InUse()[0].ID = "z"
	if base.Determinations()[0].ID != "a" || base.InUse()[0].ID != "a" {
		t.Error("a caller changed the history")
	}
}
