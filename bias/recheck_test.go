package bias_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func inUse(t *testing.T) density.Correction {
	t.Helper()
	c, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.3), Scope: options().Scope, Source: "letter"})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// laterWith makes one check a day that leaves these remainders over an offset of 2.3.
func laterWith(remaining ...float64) (later []bias.LaterCheck) {
	start := time.Date(2025, 5, 12, 9, 0, 0, 0, time.UTC)
	for i, e := range remaining {
		id, gauge := fmt.Sprint("C", i+1), 145+float64(i)
		later = append(later, bias.LaterCheck{At: start.AddDate(0, 0, i), Location: location(id, gauge-0.5, gauge+0.5),
			Core: core(id, math.Round(10*(gauge+2.3+e))/10)})
	}
	return later
}

func recheckOptions() bias.RecheckOptions {
	return bias.RecheckOptions{Tolerance: units.LbPerFt3.Difference(1), Alpha: 0.05, Reference: units.LbPerFt3.Difference(0.5), Decision: units.LbPerFt3.Difference(2)}
}

// R 4.2.2: mean(e) + c(-1, 1)*qt(.95, 5)*sd(e)/sqrt(6) and the tail of pt, for the
// six remainders of the first row.
func TestRecheck(t *testing.T) {
	r, err := bias.Recheck(inUse(t), laterWith(0.3, -0.2, 0.1, 0.4, -0.1, 0.2), recheckOptions())
	if err != nil {
		t.Fatal(err)
	}
	if r.Verdict != bias.Holds || math.Abs(r.Equivalence.CI.Lo+0.07390668046) > 5e-11 || math.Abs(r.Equivalence.CI.Hi-0.30724001380) > 5e-11 ||
		math.Abs(r.Equivalence.AboveLower.P-3.83467234e-05) > 5e-14 || len(r.Warnings) != 0 {
		t.Errorf("%v: %+v, %v", r.Verdict, r.Equivalence, r.Warnings)
	}
	words := map[bias.Verdict]string{bias.Holds: bias.Holds.String(), bias.Fails: "no longer holds", bias.Undecided: bias.Undecided.String()}
	for _, tt := range []struct {
		name      string
		remaining []float64
		want      bias.Verdict
	}{
		{"few and scattered", []float64{1.2, -0.9}, bias.Undecided},
		{"off by two", []float64{2.1, 1.9, 2.0, 2.2}, bias.Fails},
		{"off by two the other way", []float64{-2.1, -1.9, -2.0, -2.2}, bias.Fails},
		{"no difference shown, nothing proved", []float64{0.0, 2.0, -2.0}, bias.Undecided},
	} {
		r, err := bias.Recheck(inUse(t), laterWith(tt.remaining...), recheckOptions())
		if err != nil || r.Verdict != tt.want || !strings.Contains(r.Explanation, words[tt.want]) {
			t.Errorf("%s: %v, %v", tt.name, r.Verdict, err)
		}
	}
}

// A bias that creeps up by some 0.4 a day. R 4.2.2: coef and confint(lm(x ~ d), level =
// .9) times 5 days. Cumulative sums by hand with slack 0.5: 0, 0, 0.4, 1.0, 2.3, 3.9, so
// above 2 at the fifth check, having left 0 at the third.
func TestRecheckSeesACreepingBias(t *testing.T) {
	later := laterWith(0, 0.4, 0.9, 1.1, 1.8, 2.1)
	slices.Reverse(later) // the order of the records does not matter, the instants do
	r, err := bias.Recheck(inUse(t), later, recheckOptions())
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.Trend.Change-2.128571429) > 5e-10 || math.Abs(r.Trend.ChangeCI.Lo-1.863071294) > 5e-10 || math.Abs(r.Trend.ChangeCI.Hi-2.394071563) > 5e-10 {
		t.Errorf("trend %+v", r.Trend)
	}
	if !has(r.Warnings, bias.WarnTrend) || !has(r.Warnings, bias.WarnShift) || r.CUSUM.FirstSignal != 4 || r.Pairs[r.CUSUM.ChangeFrom].ID != "C3" {
		t.Errorf("warnings %v, signal %d from %d", r.Warnings, r.CUSUM.FirstSignal, r.CUSUM.ChangeFrom)
	}
	if later[0].Location.ID != "C6" {
		t.Error("the input was sorted")
	}
}

// By hand: the strip has 2.2, 2.3, 2.4, 2.3, mean 2.3; the six checks add 2.6, 2.1, 2.4,
// 2.7, 2.2, 2.5, together 23.7/10 = 2.37.
func TestUpdateOffset(t *testing.T) {
	l, c := pairsOf(2.2, 2.3, 2.4, 2.3)
	u, err := bias.UpdateOffset(l, c, options(), laterWith(0.3, -0.2, 0.1, 0.4, -0.1, 0.2), recheckOptions())
	if err != nil || u.Combined == nil || u.Combined.N != 10 || u.Combined.Offset != units.LbPerFt3.Difference(2.37) || u.Before.N != 4 {
		t.Fatalf("%+v, %v", u.Explanation, err)
	}
	u, err = bias.UpdateOffset(l, c, options(), laterWith(2.1, 1.9, 2.0), recheckOptions())
	if err != nil || u.Combined != nil || u.Recheck.Verdict != bias.Fails || u.Explanation == "" {
		t.Errorf("moved: %+v, %v", u.Combined, err)
	}
	again := laterWith(0.3, -0.2)
	again[1].Location.ID, again[1].Core.ID = "1", "1"
	if _, err := bias.UpdateOffset(l, c, options(), again, recheckOptions()); !errors.Is(err, bias.ErrRepeatedID) {
		t.Errorf("an id of the strip: %v", err)
	}
}

func dated(t *testing.T, from, until, made string) density.Correction {
	t.Helper()
	var days [3]density.Date
	for i, text := range []string{from, until, made} {
		if err := days[i].UnmarshalText([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	scope := options().Scope
	scope.From, scope.Until = days[0], days[1]
	c, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.3), Scope: scope, Made: days[2], Source: "letter"})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The checks run from 12 to 17 May 2025; seven days from the last, counted, end on 23 May.
func TestRecheckRenews(t *testing.T) {
	good, moved := laterWith(0.3, -0.2, 0.1, 0.4, -0.1, 0.2), laterWith(2.1, 1.9, 2.0, 2.2)
	o := recheckOptions()
	o.ValidDays = 7
	for _, tt := range []struct {
		name    string
		c       density.Correction
		later   []bias.LaterCheck
		until   string
		outside int // checks on days when it is not valid
	}{
		{"within its days", dated(t, "2025-05-11", "2025-05-17", "2025-05-11"), good, "2025-05-23", 0},
		{"checked after its end", dated(t, "2025-05-11", "2025-05-15", "2025-05-11"), good, "2025-05-23", 2},
		{"valid for longer anyway", dated(t, "2025-05-11", "2025-06-30", "2025-05-11"), good, "", 0},
		{"no last day", dated(t, "", "", ""), good, "", 0},
		{"no longer holds", dated(t, "2025-05-11", "2025-05-17", ""), moved, "", 0},
	} {
		r, err := bias.Recheck(tt.c, tt.later, o)
		if err != nil || r.Renewed.Scope().Until.String() != tt.until || r.Renewed.IsZero() != (tt.until == "") {
			t.Errorf("%s: %v, %v", tt.name, r.Renewed, err)
		}
		outside := 0
		for _, w := range r.Warnings {
			if w.Code == bias.WarnDays {
				outside++
			}
		}
		if outside != tt.outside {
			t.Errorf("%s: %v", tt.name, r.Warnings)
		}
		if tt.until != "" && (!strings.Contains(r.Renewed.Source(), "held in 6 checks to 2025-05-17") || !strings.HasSuffix(r.Explanation, "valid until 2025-05-23") || r.Renewed.Scope().From != tt.c.Scope().From) {
			t.Errorf("%s: %q, %q", tt.name, r.Renewed.Source(), r.Explanation)
		}
	}
	if _, err := bias.Recheck(dated(t, "", "", "2025-05-13"), good, o); !errors.Is(err, stats.ErrParameter) {
		t.Errorf("a check before the correction was made: %v", err)
	}
}

// The combined correction says what is in it and how long it is good for.
func TestUpdateOffsetKeepsItsStory(t *testing.T) {
	l, c := pairsOf(2.2, 2.3, 2.4, 2.3)
	o, ro := options(), recheckOptions()
	strip := dated(t, "2025-05-11", "2025-05-17", "2025-05-11")
	o.Scope, o.Made, ro.ValidDays = strip.Scope(), strip.Made(), 7
	u, err := bias.UpdateOffset(l, c, o, laterWith(0.3, -0.2, 0.1, 0.4, -0.1, 0.2), ro)
	if err != nil || u.Combined == nil {
		t.Fatalf("%v, %v", u.Explanation, err)
	}
	combined := u.Combined.Correction
	if combined.Scope().Until.String() != "2025-05-23" || combined.Made().String() != "2025-05-17" || combined.Source() != "test strip; with 6 checks of 2025-05-12 to 2025-05-17" {
		t.Errorf("%v, made %v, %q", combined, combined.Made(), combined.Source())
	}
	if before := u.Before.Correction; before.Scope() != o.Scope || before.Made() != o.Made || before.Source() != "test strip" {
		t.Errorf("before: %v", before)
	}
}

// What there is to doubt of a check is said: a wet mat, a reading beyond those of a line,
// and checks that do not differ, which show neither that the correction holds nor why
// more cores would.
func TestRecheckWarns(t *testing.T) {
	later := laterWith(0.3, -0.2, 0.1)
	later[1].Location.Moisture = density.MatWet
	lb := units.LbPerFt3
	line, err := density.NewLine(density.Line{Slope: 1, Intercept: lb.Difference(2.3), Low: lb.Of(144), High: lb.Of(146.5), Scope: options().Scope, Source: "letter"})
	if err != nil {
		t.Fatal(err)
	}
	r, err := bias.Recheck(line, later, recheckOptions()) // of readings of 145, 146 and 147
	if got := codes(r.Warnings); err != nil || !slices.Equal(got, []string{"wet-mat C2", "extrapolated C3"}) {
		t.Errorf("%q, %v", got, err)
	}
	r, err = bias.Recheck(inUse(t), laterWith(0.2, 0.2, 0.2), recheckOptions())
	if err != nil || r.Verdict != bias.Undecided || !has(r.Warnings, stats.WarnNoVariance) || strings.Contains(r.Explanation, "more cores") {
		t.Errorf("no scatter: %v, %s, %v", r.Warnings, r.Explanation, err)
	}
}

func TestRecheckRefuses(t *testing.T) {
	change := func(f func(o *bias.RecheckOptions)) bias.RecheckOptions {
		o := recheckOptions()
		f(&o)
		return o
	}
	with := func(f func(l []bias.LaterCheck)) []bias.LaterCheck {
		l := laterWith(0.1, 0.2, 0.3)
		f(l)
		return l
	}
	good := laterWith(0.1, 0.2, 0.3)
	for _, tt := range []struct {
		name  string
		c     density.Correction
		later []bias.LaterCheck
		o     bias.RecheckOptions
		want  error
	}{
		{"no correction", density.Correction{}, good, recheckOptions(), units.ErrNotGiven},
		{"nothing", inUse(t), nil, recheckOptions(), stats.ErrTooFew},
		{"one check", inUse(t), good[:1], recheckOptions(), stats.ErrTooFew},
		{"no instant", inUse(t), with(func(l []bias.LaterCheck) { l[1].At = time.Time{} }), recheckOptions(), units.ErrNotGiven},
		{"ids differ", inUse(t), with(func(l []bias.LaterCheck) { l[1].Core.ID = "x" }), recheckOptions(), stats.ErrParameter},
		{"id twice", inUse(t), with(func(l []bias.LaterCheck) { l[1] = l[0] }), recheckOptions(), bias.ErrRepeatedID},
		{"in another unit", inUse(t), []bias.LaterCheck{si(good[0]), si(good[1])}, recheckOptions(), density.ErrUnitMismatch},
		{"no tolerance", inUse(t), good, change(func(o *bias.RecheckOptions) { o.Tolerance = units.DensityDifference{} }), units.ErrNotGiven},
		{"tolerance 0", inUse(t), good, change(func(o *bias.RecheckOptions) { o.Tolerance = units.LbPerFt3.Difference(0) }), density.ErrNotPositive},
		{"tolerance in another unit", inUse(t), good, change(func(o *bias.RecheckOptions) { o.Tolerance = units.KgPerM3.Difference(16) }), density.ErrUnitMismatch},
		{"reference below 0", inUse(t), good, change(func(o *bias.RecheckOptions) { o.Reference = units.LbPerFt3.Difference(-1) }), stats.ErrParameter},
		{"days below 0", inUse(t), good, change(func(o *bias.RecheckOptions) { o.ValidDays = -1 }), units.ErrRange},
		{"endless days", dated(t, "2025-05-01", "2025-05-20", ""), good, change(func(o *bias.RecheckOptions) { o.ValidDays = 1 << 30 }), units.ErrRange},
		{"alpha one half", inUse(t), good, change(func(o *bias.RecheckOptions) { o.Alpha = 0.5 }), stats.ErrLevel},
		{"alpha NaN", inUse(t), good, change(func(o *bias.RecheckOptions) { o.Alpha = math.NaN() }), stats.ErrLevel},
	} {
		if r, err := bias.Recheck(tt.c, tt.later, tt.o); !errors.Is(err, tt.want) || r.Verdict != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

func si(l bias.LaterCheck) bias.LaterCheck {
	l.Location.Readings = []density.Reading{density.Uncorrected(units.KgPerM3.Of(2330))}
	l.Core = cut(l.Core.ID, density.Core(units.KgPerM3.Of(2370)))
	return l
}
