package density_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func date(t *testing.T, text string) density.Date {
	t.Helper()
	d, err := density.ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func between(t *testing.T, from, until string) density.Scope {
	t.Helper()
	s := scope
	if from != "" {
		s.From = date(t, from)
	}
	if until != "" {
		s.Until = date(t, until)
	}
	return s
}

func TestParseDate(t *testing.T) {
	for _, text := range []string{"2026-05-12", "2024-02-29", "0001-01-01", "9999-12-31"} {
		d, err := density.ParseDate(text)
		var back density.Date
		if err != nil || d.String() != text || back.UnmarshalText([]byte(d.String())) != nil || back != d || !back.Equal(d) {
			t.Errorf("%s: %v, %v", text, d, err)
		}
	}
	for _, text := range []string{"2026-02-29", "2026-13-01", "2026-5-12", "12.05.2026", "05/12/2026", " 2026-05-12", "2026-05-12T06:30:00Z", "0000-01-01", "20260512", "NaN", "２０２６-05-12"} {
		d, err := density.ParseDate(text)
		var bad *units.ParseError
		if !errors.Is(err, density.ErrDate) || !errors.As(err, &bad) || !d.IsZero() {
			t.Errorf("%q: %v, %v", text, d, err)
		}
	}
	if _, err := density.ParseDate(""); !errors.Is(err, units.ErrNotGiven) {
		t.Errorf("empty: %v", err)
	}
}

// An evening west of Greenwich stays on its day, though it is the next one in UTC.
func TestDateOf(t *testing.T) {
	evening, err := density.ParseInstant("2026-05-12T23:30:00-05:00")
	if err != nil || density.DateOf(evening) != date(t, "2026-05-12") || density.DateOf(evening.UTC()) != date(t, "2026-05-13") {
		t.Errorf("%v, %v", density.DateOf(evening), err)
	}
	for _, far := range []time.Time{{}, time.Date(-4, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC)} {
		if d := density.DateOf(far); !d.IsZero() || d.String() != "" {
			t.Errorf("%v: %v", far, d)
		}
	}
	days := []density.Date{{}, date(t, "2025-12-31"), date(t, "2026-01-01"), date(t, "2026-01-02"), date(t, "2026-02-01")}
	for i, a := range days {
		for k, b := range days {
			if got, want := a.Compare(b), compareInts(i, k); got != want {
				t.Errorf("%v and %v: %d, want %d", a, b, got, want)
			}
		}
	}
}

func compareInts(a, b int) int { return min(max(a-b, -1), 1) }

// Days counted on a calendar: February of a leap year, the end of a year, one day.
func TestValidFor(t *testing.T) {
	for _, tt := range []struct {
		first string
		days  int
		until string
	}{{"2026-05-11", 14, "2026-05-24"}, {"2026-05-11", 1, "2026-05-11"}, {"2024-02-28", 3, "2024-03-01"}, {"2025-02-28", 3, "2025-03-02"}, {"2025-12-31", 2, "2026-01-01"}} {
		s, err := scope.ValidFor(date(t, tt.first), tt.days)
		if err != nil || s != between(t, tt.first, tt.until) {
			t.Errorf("%d from %s: %v, %v", tt.days, tt.first, s, err)
		}
	}
	for _, days := range []int{0, -1, 4_000_000, 1 << 31 / 2} {
		if s, err := scope.ValidFor(date(t, "2026-05-11"), days); !errors.Is(err, units.ErrRange) || s != (density.Scope{}) {
			t.Errorf("%d days: %v, %v", days, s, err)
		}
	}
	if _, err := scope.ValidFor(density.Date{}, 7); !errors.Is(err, units.ErrNotGiven) {
		t.Errorf("no first day: %v", err)
	}
}

// What a correction holds for, and what it is used for.
func TestScopeOfUse(t *testing.T) {
	reading := density.Uncorrected(lb(144))
	on := func(day string) density.Scope { return scope.On(date(t, day)) }
	fortnight, open, ended := between(t, "2026-05-11", "2026-05-24"), between(t, "2026-05-11", ""), between(t, "", "2026-05-24")
	change := func(s density.Scope, f func(*density.Scope)) density.Scope { f(&s); return s }
	for _, tt := range []struct {
		name    string
		of, use density.Scope
		want    error
	}{
		{"the first day", fortnight, on("2026-05-11"), nil}, {"the last day", fortnight, on("2026-05-24"), nil},
		{"the day before", fortnight, on("2026-05-10"), density.ErrDay}, {"the day after", fortnight, on("2026-05-25"), density.ErrDay},
		{"a lot of three days within", fortnight, between(t, "2026-05-12", "2026-05-14"), nil},
		{"a lot that goes beyond", fortnight, between(t, "2026-05-23", "2026-05-25"), density.ErrDay},
		{"no day", fortnight, scope, density.ErrDay}, {"half a span", fortnight, between(t, "2026-05-12", ""), density.ErrDay},
		{"days in the wrong order", fortnight, between(t, "2026-05-14", "2026-05-12"), density.ErrDay},
		{"years later, no last day", open, on("2031-05-11"), nil}, {"before an open span", open, on("2026-05-10"), density.ErrDay},
		{"years before, no first day", ended, on("2016-05-11"), nil}, {"after its end", ended, on("2026-05-25"), density.ErrDay},
		{"a correction without days", scope, on("2026-05-25"), nil}, {"no days at all", scope, scope, nil},
		{"wrong order, a correction without days", scope, between(t, "2026-05-14", "2026-05-12"), density.ErrDay},
		{"another gauge", fortnight, change(on("2026-05-12"), func(s *density.Scope) { s.Gauge = "G-08" }), density.ErrScope},
		{"another mix", fortnight, change(on("2026-05-12"), func(s *density.Scope) { s.Mix = "B" }), density.ErrScope},
		{"another lift", fortnight, change(on("2026-05-12"), func(s *density.Scope) { s.Lift = "binder" }), density.ErrScope},
		{"another base", fortnight, change(on("2026-05-12"), func(s *density.Scope) { s.Base = "concrete" }), density.ErrScope},
		{"an id in other letters", fortnight, change(on("2026-05-12"), func(s *density.Scope) { s.Gauge = "g-07" }), density.ErrScope},
	} {
		c, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.3), Scope: tt.of, Source: "strip"})
		if err != nil {
			t.Fatal(err)
		}
		_, err = c.Apply(reading, tt.use)
		var bad *stats.InputError
		if tt.want == nil && err != nil || tt.want != nil && !(errors.Is(err, tt.want) && errors.Is(err, density.ErrScope) && errors.As(err, &bad)) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
		if tt.want == density.ErrScope && errors.Is(err, density.ErrDay) {
			t.Errorf("%s: the days are not what is wrong: %v", tt.name, err)
		}
	}
	if _, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.3), Scope: between(t, "2026-05-14", "2026-05-12"), Source: "x"}); !errors.Is(err, density.ErrDay) {
		t.Errorf("a correction of days in the wrong order: %v", err)
	}
}

// The message names both sides, so that the technician sees what to do.
func TestScopeInWords(t *testing.T) {
	c, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.3), Scope: between(t, "2026-05-11", "2026-05-24"), Made: date(t, "2026-05-11"), Source: "strip"})
	if err != nil || c.Made() != date(t, "2026-05-11") {
		t.Fatal(err)
	}
	_, err = c.Apply(density.Uncorrected(lb(144)), scope.On(date(t, "2026-06-02")))
	want := "density.Correction.Apply: at = gauge G-07, mix A, lift surface, 2026-06-02: outside the scope of the correction: not a day it is valid on (gauge G-07, mix A, lift surface, 2026-05-11 to 2026-05-24)"
	if err == nil || err.Error() != want {
		t.Errorf("%v", err)
	}
	_, err = c.Apply(density.Uncorrected(lb(144)), scope)
	if err == nil || !strings.Contains(err.Error(), "the use has no day: see Scope.On") {
		t.Errorf("%v", err)
	}
	for _, tt := range []struct{ from, until, want string }{{"", "2026-05-24", ", until 2026-05-24"}, {"2026-05-11", "", ", from 2026-05-11"}, {"2026-05-11", "2026-05-11", ", 2026-05-11"}, {"", "", "surface"}} {
		if got := between(t, tt.from, tt.until).String(); !strings.HasSuffix(got, tt.want) {
			t.Errorf("%q, want it to end in %q", got, tt.want)
		}
	}
}

func TestAScopePrintsWhatItHas(t *testing.T) {
	for _, tt := range []struct {
		s    density.Scope
		want string
	}{{density.Scope{}, ""}, {density.Scope{Mix: "B"}, "mix B"}, {density.Scope{Gauge: "G-07", Lift: "base"}.On(date(t, "2026-05-11")), "gauge G-07, lift base, 2026-05-11"}} {
		if got := tt.s.String(); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

func TestDaysAreOverriddenOnRecord(t *testing.T) {
	fortnight := between(t, "2026-05-11", "2026-05-24")
	c, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.3), Scope: fortnight, Source: "strip of 11 May"})
	if err != nil {
		t.Fatal(err)
	}
	late := scope.On(date(t, "2026-05-26"))
	used, err := c.Override(late, "strip delayed by rain, engineer's letter of 25 May")
	if err != nil || len(used.Overrides()) != 1 || used.Overrides()[0].From != fortnight || !strings.Contains(used.Source(), "letter of 25 May") {
		t.Fatalf("%v, %v", used, err)
	}
	p, err := used.Apply(density.Uncorrected(lb(144)), late)
	if err != nil || !strings.Contains(p.Source(), "used for gauge G-07, mix A, lift surface, 2026-05-26") {
		t.Errorf("%v, %v", p.Source(), err)
	}
	if ws := used.Warnings("3-1", lb(144)); len(ws) != 1 || ws[0].Code != density.WarnOverridden || ws[0].Where != "3-1" || len(c.Warnings("3-1", lb(144))) != 0 || used.Warnings("", units.KgPerM3.Of(2300)) != nil {
		t.Errorf("warnings %v", ws)
	}
	if _, err := used.Apply(density.Uncorrected(lb(144)), scope.On(date(t, "2026-05-27"))); !errors.Is(err, density.ErrDay) {
		t.Errorf("a day nobody decided on: %v", err)
	}
	if _, err := c.Override(scope.On(date(t, "2026-05-12")), "needless"); !errors.Is(err, density.ErrScope) {
		t.Errorf("a day within: %v", err)
	}
	if _, err := c.Override(between(t, "2026-05-14", "2026-05-12"), "x"); !errors.Is(err, density.ErrDay) {
		t.Errorf("wrong order: %v", err)
	}
}

func TestRenew(t *testing.T) {
	c, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.3), Scope: between(t, "2026-05-11", "2026-05-24"), Source: "strip"})
	if err != nil {
		t.Fatal(err)
	}
	longer, err := c.Renew(date(t, "2026-06-07"), "4 checks held")
	if err != nil || longer.Scope() != between(t, "2026-05-11", "2026-06-07") || longer.Source() != "strip; renewed from 2026-05-24 to 2026-06-07: 4 checks held" || len(longer.Overrides()) != 0 {
		t.Errorf("%v, %q, %v", longer, longer.Source(), err)
	}
	endless := offset(t, units.LbPerFt3.Difference(2.3))
	for _, tt := range []struct {
		name   string
		c      density.Correction
		until  density.Date
		reason string
		want   error
	}{
		{"none", density.Correction{}, date(t, "2026-06-07"), "x", units.ErrNotGiven}, {"no last day", endless, date(t, "2026-06-07"), "x", density.ErrDay},
		{"its last day", c, date(t, "2026-05-24"), "x", density.ErrDay}, {"no day", c, density.Date{}, "x", density.ErrDay}, {"no reason", c, date(t, "2026-06-07"), "", density.ErrNoSource},
	} {
		if r, err := tt.c.Renew(tt.until, tt.reason); !errors.Is(err, tt.want) || !r.IsZero() {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// A location with an instant counts on its own day, whatever day the sublot is said to
// be of.
func TestSublotUsesTheDayOfTheLocation(t *testing.T) {
	c, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.3), Scope: between(t, "2026-05-11", "2026-05-12"), Source: "strip"})
	if err != nil {
		t.Fatal(err)
	}
	instant := func(text string) time.Time {
		at, err := density.ParseInstant(text)
		if err != nil {
			t.Fatal(err)
		}
		return at
	}
	ref := maximum(t, 2.514, units.Water62_245)
	for _, tt := range []struct {
		at   time.Time
		use  density.Scope
		want error
	}{
		{instant("2026-05-12T23:30:00-05:00"), scope, nil}, {instant("2026-05-13T00:30:00-05:00"), scope.On(date(t, "2026-05-12")), density.ErrDay},
		{time.Time{}, scope.On(date(t, "2026-05-12")), nil}, {time.Time{}, scope, density.ErrDay},
	} {
		l := density.SublotLocation{ID: "A", Characteristic: density.MatDensity, At: tt.at, Readings: readings(144)}
		_, err := density.AuditSublot(density.Sublot{ID: "1", Locations: []density.SublotLocation{l}}, c, tt.use, ref, sublotRounding)
		if !errors.Is(err, tt.want) {
			t.Errorf("%v used for %v: %v, want %v", tt.at, tt.use, err, tt.want)
		}
	}
}

func TestScopeInJSON(t *testing.T) {
	want := between(t, "2026-05-11", "")
	data, err := json.Marshal(want)
	var back density.Scope
	if err != nil || json.Unmarshal(data, &back) != nil || back != want {
		t.Errorf("%s gives %v, %v", data, back, err)
	}
	if err := json.Unmarshal([]byte(`{"From":"11 May"}`), &back); !errors.Is(err, density.ErrDate) {
		t.Errorf("no date: %v", err)
	}
}
