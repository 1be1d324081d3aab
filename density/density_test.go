package density_test

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

var (
	scope    = density.Scope{Gauge: "G-07", Mix: "A", Lift: "surface"}
	half     = units.Rounding{Method: units.HalfEven, Places: 1}
	third    = units.Rounding{Method: units.HalfEven, Places: 6}
	absolute = units.Rounding{Method: units.Absolute}
)

func lb(x float64) units.Density { return units.LbPerFt3.Of(x) }

func readings(xs ...float64) (rs []density.Reading) {
	for _, x := range xs {
		rs = append(rs, density.Uncorrected(lb(x)))
	}
	return rs
}

func maximum(t *testing.T, gmm float64, w units.Water) density.Reference {
	t.Helper()
	ref, err := density.MaximumTheoretical(units.SpecificGravityOf(gmm), w)
	if err != nil {
		t.Fatal(err)
	}
	return ref
}

func offset(t *testing.T, d units.DensityDifference) density.Correction {
	t.Helper()
	c, err := density.NewOffset(density.Offset{Offset: d, Scope: scope, Source: "letter of 3 May"})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The sign: a gauge that reads low has a positive offset, which is added.
func TestOffsetIsCoreMinusGauge(t *testing.T) {
	core, gauge := lb(148.3), lb(146.0)
	c := offset(t, core.Sub(gauge))
	if got, want := c.String(), "+2.3 lb/ft3 (core - gauge), gauge G-07, mix A, lift surface"; got != want {
		t.Errorf("String = %q, want %q", got, want)
	}
	p, err := c.Apply(density.Uncorrected(gauge), scope)
	if err != nil || p.Density() != core || p.Origin() != density.FromReading {
		t.Errorf("corrected = %v, %v; want %v", p, err, core)
	}
}

func TestCorrectionRefuses(t *testing.T) {
	c := offset(t, units.LbPerFt3.Difference(2.3))
	other := scope
	other.Mix = "B"
	for _, tt := range []struct {
		name string
		r    density.Reading
		at   density.Scope
		c    density.Correction
		want error
	}{
		{"another mix", density.Uncorrected(lb(146)), other, c, density.ErrScope},
		{"another unit", density.Uncorrected(units.KgPerM3.Of(2340)), scope, c, density.ErrUnitMismatch},
		{"no reading", density.Reading{}, scope, c, units.ErrNotGiven},
		{"a negative reading", density.Uncorrected(lb(-145.2)), scope, c, density.ErrNotPositive},
		{"no correction", density.Uncorrected(lb(146)), scope, density.Correction{}, units.ErrNotGiven},
	} {
		if _, err := tt.c.Apply(tt.r, tt.at); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	for _, tt := range []struct {
		name string
		o    density.Offset
		want error
	}{
		{"no offset", density.Offset{Scope: scope, Source: "x"}, units.ErrNotGiven},
		{"no lift", density.Offset{Offset: units.LbPerFt3.Difference(2), Scope: density.Scope{Gauge: "1", Mix: "2"}, Source: "x"}, density.ErrScope},
		{"no source", density.Offset{Offset: units.LbPerFt3.Difference(2), Scope: scope}, density.ErrNoSource},
		{"a NaN error", density.Offset{Offset: units.LbPerFt3.Difference(2), Scope: scope, Source: "x", StdErr: math.NaN()}, units.ErrRange},
		{"endless freedom", density.Offset{Offset: units.LbPerFt3.Difference(2), Scope: scope, Source: "x", DF: math.Inf(1)}, units.ErrRange},
	} {
		if _, err := density.NewOffset(tt.o); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	if _, err := density.AlreadyCorrected(lb(146), ""); !errors.Is(err, density.ErrNoSource) {
		t.Errorf("recorded as corrected without a source: %v", err)
	}
}

// A correction keeps its exact offset when the caller changes the number it
// handed over or got back.
func TestCorrectionDoesNotChange(t *testing.T) {
	x := big.NewRat(7, 3)
	c, err := density.NewOffset(density.Offset{Offset: units.LbPerFt3.Difference(2.3333333333333335), Exact: x, Scope: scope, Source: "x"})
	if err != nil {
		t.Fatal(err)
	}
	x.SetInt64(99)
	c.Exact().SetInt64(98)
	if got := c.Exact(); got.Cmp(big.NewRat(7, 3)) != 0 {
		t.Errorf("Exact = %v", got)
	}
}

// One constant for water decides a lot: 62.4 or 62.245 lb/ft3 at Gmm 2.512 and
// 144.0 lb/ft3 in place. Worked out with 9 digits in R 4.2.2 and SciPy 1.10.
func TestWaterDecides(t *testing.T) {
	for _, tt := range []struct {
		water units.Water
		max   units.Density
		want  float64
	}{
		{units.Water62_245, lb(156.35944), 92.095495},
		{units.Water62_4, lb(156.7488), 91.866732},
	} {
		ref := maximum(t, 2.512, tt.water)
		if ref.Density() != tt.max {
			t.Errorf("maximum with %v = %v, want %v", tt.water, ref.Density(), tt.max)
		}
		c, err := density.PercentCompaction(density.Core(lb(144)), ref)
		if err != nil || math.Abs(c.Percent-tt.want) > 5e-7 {
			t.Errorf("compaction with %v = %v, %v; want %v", tt.water, c.Percent, err, tt.want)
		}
		va, err := density.AirVoids(density.Core(lb(144)), ref)
		if err != nil || math.Abs(va+c.Percent-100) > 1e-12 {
			t.Errorf("air voids %v and compaction %v do not add up to 100: %v", va, c.Percent, err)
		}
	}
}

// The same density is 96.3 % of one reference and 92.1 % of another; the kind goes
// with the number, and air voids come of one kind only.
func TestPercentOfWhat(t *testing.T) {
	bulk, err := density.ControlStrip(density.Core(lb(149.5)))
	if err != nil {
		t.Fatal(err)
	}
	c, err := density.PercentCompaction(density.Core(lb(144)), bulk)
	if err != nil || math.Abs(c.Percent-96.321070) > 5e-7 || c.Kind != density.KindControlStrip {
		t.Errorf("compaction = %+v, %v", c, err)
	}
	if got := c.String(); got != "96.32 % of control strip density" {
		t.Errorf("String = %q", got)
	}
	if _, err := density.AirVoids(density.Core(lb(144)), bulk); !errors.Is(err, density.ErrKind) {
		t.Errorf("air voids of a control strip: %v", err)
	}
	if _, err := density.PercentCompaction(density.Core(units.KgPerM3.Of(2306)), bulk); !errors.Is(err, density.ErrUnitMismatch) {
		t.Errorf("kg/m3 over lb/ft3: %v", err)
	}
	over, err := density.PercentCompaction(density.Core(lb(157)), maximum(t, 2.512, units.Water62_245))
	if err != nil || len(over.Warnings) != 1 || over.Warnings[0].Code != density.WarnAboveHundred {
		t.Errorf("more than 100 %%: %+v, %v", over, err)
	}
}

func TestReferenceRefuses(t *testing.T) {
	g := units.SpecificGravityOf
	if _, err := density.MaximumTheoretical(units.SpecificGravity{}, units.Water62_4); !errors.Is(err, units.ErrNotGiven) {
		t.Errorf("no Gmm: %v", err)
	}
	if _, err := density.MaximumTheoretical(g(-2.5), units.Water62_4); !errors.Is(err, density.ErrNotPositive) {
		t.Errorf("negative Gmm: %v", err)
	}
	if _, err := density.LaboratoryBulk(g(2.4), nil); !errors.Is(err, units.ErrNotGiven) {
		t.Errorf("no water: %v", err)
	}
	if _, err := density.MaximumTheoretical(g(1.7e308), units.Water1000); err == nil {
		t.Error("a reference too large for a number was made")
	}
	if _, err := density.ParseReferenceKind("% of Gmm"); !errors.Is(err, density.ErrKind) {
		t.Errorf("unknown kind: %v", err)
	}
}

// The exact path agrees with the fast one, and rounds ties by the decimal digits.
func TestAuditAgreesWithTheFastPath(t *testing.T) {
	ref := maximum(t, 2.512, units.Water62_245)
	c := offset(t, units.LbPerFt3.Difference(2.3))
	p := density.RoundingPolicy{Mean: absolute, Density: absolute, Maximum: absolute, Percentage: third}
	for _, xs := range [][]float64{{144.1}, {144.1, 144.6, 143.9}, {141, 142, 143, 144, 145, 146, 147}} {
		a, err := density.AuditReadings(readings(xs...), c, scope, ref, p)
		if err != nil {
			t.Fatal(err)
		}
		s := 0.0
		for _, x := range xs {
			s += x
		}
		fast, err := density.PercentCompaction(density.Core(lb(s/float64(len(xs))+2.3)), ref)
		if err != nil {
			t.Fatal(err)
		}
		got, _ := a.Percentage.Float64()
		if math.Abs(got-fast.Percent) > 0.6e-6 {
			t.Errorf("%v: audited %v, fast %v", xs, a.Percentage, fast.Percent)
		}
		if voids, _ := a.AirVoids.Float64(); math.Abs(voids+got-100) > 1e-12 {
			t.Errorf("%v: air voids %v", xs, a.AirVoids)
		}
		if len(a.Working) != 5 || a.N != len(xs) || a.Unit != "% of maximum theoretical density" {
			t.Errorf("%v: %+v", xs, a)
		}
	}
}

// A mean that is a tie rounds half-even, whatever the binary sum would say:
// 130.0 and 130.5 average to 130.25.
func TestAuditRoundsTies(t *testing.T) {
	p := density.RoundingPolicy{Mean: half, Density: half, Maximum: half, Percentage: third}
	a, err := density.AuditReadings(readings(130.0, 130.5), offset(t, units.LbPerFt3.Difference(0)), scope, maximum(t, 2.512, units.Water62_245), p)
	if err != nil || a.Density != lb(130.2) || a.Maximum != lb(156.4) {
		t.Fatalf("density %v over %v, %v; want 130.2 over 156.4", a.Density, a.Maximum, err)
	}
	if got, want := a.Working[0].String(), "mean reading = Σx/n = (130 + 130.5)/2 = 130.25 lb/ft3 → 130.2 lb/ft3 (half-even to 0.1)"; got != want {
		t.Errorf("working %q, want %q", got, want)
	}
	core, err := density.AuditCore(density.Core(lb(130.25)), maximum(t, 2.512, units.Water62_245), p)
	if err != nil || !core.Percentage.Equal(a.Percentage) || core.N != 0 {
		t.Errorf("core: %v, %v; want %v", core.Percentage, err, a.Percentage)
	}
}

func TestAuditRefuses(t *testing.T) {
	ref, c := maximum(t, 2.512, units.Water62_245), offset(t, units.LbPerFt3.Difference(2.3))
	good := density.RoundingPolicy{Mean: half, Density: half, Maximum: half, Percentage: third}
	noRule, noPlace, coarse := good, good, good
	noRule.Mean = units.Rounding{}
	noPlace.Percentage = absolute
	coarse.Maximum = units.Rounding{Method: units.HalfEven, Places: -4}
	for _, tt := range []struct {
		name string
		rs   []density.Reading
		ref  density.Reference
		p    density.RoundingPolicy
		want error
	}{
		{"no readings", nil, ref, good, stats.ErrTooFew},
		{"a reading not given", append(readings(144), density.Reading{}), ref, good, units.ErrNotGiven},
		{"a sentinel", readings(144, -999), ref, good, density.ErrNotPositive},
		{"a zero", readings(0, 144), ref, good, density.ErrNotPositive},
		{"two units", append(readings(144), density.Uncorrected(units.KgPerM3.Of(2300))), ref, good, density.ErrUnitMismatch},
		{"no reference", readings(144), density.Reference{}, good, units.ErrNotGiven},
		{"SI reference", readings(144), maximum(t, 2.512, units.Water997_1), good, density.ErrUnitMismatch},
		{"no rule for the mean", readings(144), ref, noRule, units.ErrRounding},
		{"endless percentage", readings(144), ref, noPlace, units.ErrAbsolute},
		{"maximum rounded to nothing", readings(144), ref, coarse, density.ErrNotPositive},
	} {
		if _, err := density.AuditReadings(tt.rs, c, scope, tt.ref, tt.p); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	_, err := density.AuditReadings(readings(144, -999), c, scope, ref, good)
	if want := "density.AuditReadings: readings[1] = -999 lb/ft3: must be more than 0"; err == nil || err.Error() != want {
		t.Errorf("message %q, want %q", err, want)
	}
}

// A mid-day change of Gmm: each sublot over its own maximum. The percentages were
// worked out in R 4.2.2, round(100*d/(Gmm*62.245), 3).
func TestEachSublotOverItsOwnMaximum(t *testing.T) {
	p := density.RoundingPolicy{Mean: absolute, Density: absolute, Maximum: absolute, Percentage: units.Rounding{Method: units.HalfEven, Places: 3}}
	for _, tt := range []struct {
		d, gmm float64
		want   string
	}{{144.6, 2.512, "92.479"}, {144.2, 2.512, "92.223"}, {143.1, 2.478, "92.776"}, {142.6, 2.478, "92.451"}, {143.4, 2.478, "92.970"}} {
		a, err := density.AuditCore(density.Core(lb(tt.d)), maximum(t, tt.gmm, units.Water62_245), p)
		if err != nil || a.Percentage.StringFixed(3) != tt.want {
			t.Errorf("%v over Gmm %v = %v, %v; want %s", tt.d, tt.gmm, a.Percentage, err, tt.want)
		}
	}
}

func TestMeanGravity(t *testing.T) {
	g := func(xs ...float64) (gs []units.SpecificGravity) {
		for _, x := range xs {
			gs = append(gs, units.SpecificGravityOf(x))
		}
		return gs
	}
	thousandth := units.Rounding{Method: units.HalfEven, Places: 3}
	mean, step, err := density.MeanGravity(g(2.512, 2.517), thousandth)
	if err != nil || mean != units.SpecificGravityOf(2.514) || !strings.Contains(step.String(), "2.5145") {
		t.Errorf("mean of 2.512 and 2.517 = %v (%v), %v; want 2.514, a tie to even", mean, step, err)
	}
	for _, bad := range [][]units.SpecificGravity{nil, g(2.5, -1), g(2.5, math.NaN()), g(0.0004)} {
		if _, _, err := density.MeanGravity(bad, thousandth); err == nil {
			t.Errorf("%v gave a mean", bad)
		}
	}
}

func TestTypesCompare(t *testing.T) {
	a, b := density.Core(lb(146)), density.Core(lb(146))
	if diff := cmp.Diff(a, b); diff != "" {
		t.Error(diff)
	}
	recorded, err := density.AlreadyCorrected(lb(146), "gauge set to its offset")
	if err != nil {
		t.Fatal(err)
	}
	if cmp.Equal(a, recorded) {
		t.Error("a core equals a recorded value")
	}
	if cmp.Equal(density.Uncorrected(lb(1)), density.Uncorrected(lb(2))) {
		t.Error("two readings are equal")
	}
}

// An error of a policy names the function that was called and its argument.
func TestPolicyErrorsNameTheCaller(t *testing.T) {
	c, ref := offset(t, units.LbPerFt3.Difference(2)), maximum(t, 2.512, units.Water62_245)
	good := density.RoundingPolicy{Mean: half, Density: half, Maximum: half, Percentage: half}
	p := plain(t, []float64{139.5, 142.2, 143.7, 144.2, 144.3, 144.3}, nil, halfPound)
	sublot := density.Sublot{ID: "1", Locations: []density.SublotLocation{{ID: "a", Characteristic: density.MatDensity, Readings: readings(144)}}}
	for want, err := range map[string]error{
		"density.AuditReadings: p.Mean: ":                 second(density.AuditReadings(readings(144), c, scope, ref, density.RoundingPolicy{})),
		"density.AuditCore: p.Mean: ":                     second(density.AuditCore(density.Core(lb(144)), ref, density.RoundingPolicy{})),
		"density.AuditSublot: p.Locations: ":              second(density.AuditSublot(sublot, c, scope, ref, density.SublotPolicy{RoundingPolicy: good})),
		"density.Pattern.AuditLevel: r.Mean: ":            second(p.AuditLevel(c, scope, ref, density.RoundingPolicy{}, required("92", density.KindMaximumTheoretical))),
		"density.RoundingPolicy.Validate: p.Percentage: ": density.RoundingPolicy{Mean: half, Density: half, Maximum: half, Percentage: absolute}.Validate(),
		"density.AirVoids: maximum: ":                     second(density.AirVoids(density.Core(lb(144)), density.Reference{})),
	} {
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%v, want %s…", err, want)
		}
	}
}

// The density of water is one for cores and reference: a Gmb of 2.310 over a Gmm of
// 2.512 is 91.958599 % by the gravities alone, whatever the water.
func TestCoreAndReferenceShareTheirWater(t *testing.T) {
	policy := density.SublotPolicy{RoundingPolicy: density.RoundingPolicy{Mean: absolute, Density: absolute, Maximum: absolute, Percentage: third}, Locations: absolute}
	ref := maximum(t, 2.512, units.Water62_245)
	for _, w := range []units.Water{units.Water62_245, units.Water62_4, units.Water997_1} {
		core, err := density.CoreOf(units.SpecificGravityOf(2.310), w)
		if err != nil {
			t.Fatal(err)
		}
		want := map[units.Water]error{units.Water62_4: density.ErrWater, units.Water997_1: density.ErrUnitMismatch}[w]
		c, err1 := density.PercentCompaction(core, ref)
		_, err2 := density.AirVoids(core, ref)
		a, err3 := density.AuditCore(core, ref, policy.RoundingPolicy)
		_, err4 := density.AuditSublot(density.Sublot{ID: "1", Locations: []density.SublotLocation{{ID: "a", Characteristic: density.MatDensity, InPlace: core}}}, density.Correction{}, scope, ref, policy)
		for _, err := range []error{err1, err2, err3, err4} {
			if !errors.Is(err, want) {
				t.Errorf("%v: %v, want %v", w, err, want)
			}
		}
		if want == nil && (math.Abs(c.Percent-91.958599) > 5e-7 || a.Percentage.String() != "91.958599") {
			t.Errorf("%v: %v, %v", w, c, a.Percentage)
		}
	}
	if _, err := density.CoreOf(units.SpecificGravityOf(2.310), nil); !errors.Is(err, units.ErrNotGiven) {
		t.Errorf("no water: %v", err)
	}
}

// Air voids that are not known are missing and not 0.
func TestNoAirVoidsOfOtherKinds(t *testing.T) {
	policy := density.RoundingPolicy{Mean: half, Density: half, Maximum: half, Percentage: half}
	strip, err := density.ControlStrip(density.Core(lb(148)))
	if err != nil {
		t.Fatal(err)
	}
	for _, ref := range []density.Reference{strip, maximum(t, 2.512, units.Water62_245)} {
		a, err := density.AuditCore(density.Core(lb(144)), ref, policy)
		if err != nil || (a.AirVoids != nil) != (ref.Kind() == density.KindMaximumTheoretical) {
			t.Errorf("%v: air voids %v, %v", ref, a.AirVoids, err)
		}
	}
}

// What no number can hold is refused; before, a percentage was infinite and an
// audited density not given, both with a nil error.
func TestBeyondAllNumbers(t *testing.T) {
	least, most := lb(5e-324), lb(math.MaxFloat64)
	policy := density.RoundingPolicy{Mean: absolute, Density: absolute, Maximum: absolute, Percentage: third}
	strip, err := density.ControlStrip(density.Core(least))
	if err != nil {
		t.Fatal(err)
	}
	tiny := maximum(t, 1e-300, units.Water62_4)
	ratio, err := density.NewRatio(density.Ratio{Ratio: 1000, Scope: scope, Source: "invented"})
	if err != nil {
		t.Fatal(err)
	}
	high := []density.Reading{density.Uncorrected(most)}
	for name, err := range map[string]error{
		"percent":   second(density.PercentCompaction(density.Core(lb(145)), strip)),
		"air voids": second(density.AirVoids(density.Core(most), tiny)),
		"apply":     second(ratio.Apply(high[0], scope)),
		"audit":     second(density.AuditReadings(high, ratio, scope, tiny, policy)),
		"sublot": second(density.AuditSublot(density.Sublot{ID: "1", Locations: []density.SublotLocation{{ID: "a", Characteristic: density.MatDensity, Readings: high}}},
			ratio, scope, tiny, density.SublotPolicy{RoundingPolicy: policy, Locations: absolute})),
	} {
		if !errors.Is(err, units.ErrRange) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
