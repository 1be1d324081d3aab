package bias_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func options() bias.Options {
	return bias.Options{Level: 0.95, Rounding: units.Rounding{Method: units.Absolute}, OutlierAlpha: 0.01,
		Scope: density.Scope{Gauge: "G-07", Mix: "A", Lift: "surface"}, Source: "test strip"}
}

func location(id string, xs ...float64) bias.Location {
	l := bias.Location{ID: id}
	for _, x := range xs {
		l.Readings = append(l.Readings, density.Uncorrected(units.LbPerFt3.Of(x)))
	}
	return l
}

func core(id string, xs ...float64) bias.Core {
	c := bias.Core{ID: id}
	for _, x := range xs {
		c.Densities = append(c.Densities, density.Core(units.LbPerFt3.Of(x)))
	}
	return c
}

// cut makes the core of one density.
func cut(id string, d density.InPlace) bias.Core {
	return bias.Core{ID: id, Densities: []density.InPlace{d}}
}

// pairsOf makes one location and core for each difference.
func pairsOf(differences ...float64) (ls []bias.Location, cs []bias.Core) {
	for i, d := range differences {
		id := fmt.Sprint(i + 1)
		gauge := units.LbPerFt3.Of(145 + float64(i))
		ls = append(ls, bias.Location{ID: id, Readings: []density.Reading{density.Uncorrected(gauge)}})
		cs = append(cs, cut(id, density.Core(gauge.Add(units.LbPerFt3.Difference(d)))))
	}
	return ls, cs
}

// The expected values are R 4.2.2 t.test and SciPy 1.10 ttest_1samp on the
// differences, which agree to the digits given.
func TestEstimateOffset(t *testing.T) {
	nested := []bias.Location{location("1", 144.8, 145.1, 144.9, 145.0, 145.2), location("2", 146.9, 147.2, 147.0, 147.1, 146.8),
		location("3", 143.9, 144.1, 144.0, 144.3, 143.7), location("4", 148.0, 148.2, 147.9, 148.1, 147.8), location("5", 145.9, 146.1, 146.0, 146.2, 145.8)}
	three, threeCores := pairsOf(1.8, 2.9, 3.7)
	bad, badCores := pairsOf(2.2, 2.5, 1.9, 2.4, 2.1, -3.4)
	for _, tt := range []struct {
		name     string
		gauge    []bias.Location
		cores    []bias.Core
		offset   float64
		half     float64
		df       float64
		unpaired string
		suspect  string
	}{
		{"averaged within location first", []bias.Location{location("A", 145.0, 145.4), location("B", 146.2, 146.0, 146.4, 146.2), location("C", 150.1, 150.3, 150.2, 150.0, 150.4, 150.2)},
			[]bias.Core{core("A", 147.9), core("B", 148.9), core("C", 151.2)}, 2.133333, 2.438170, 2, "", ""},
		{"joined by id, one core missing", []bias.Location{location("1", 145.1), location("2", 146.0), location("3", 143.8), location("4", 147.2), location("5", 144.6), location("6", 146.9)},
			[]bias.Core{core("6", 149.1), core("5", 146.7), core("4", 149.5), core("2", 148.1), core("1", 147.3)}, 2.18, 0.103885, 4, "3", ""},
		{"25 readings are 5 comparisons", nested, []bias.Core{core("1", 147.6), core("2", 148.4), core("3", 147.5), core("4", 149.6), core("5", 149.0)}, 2.42, 1.118876, 4, "", ""},
		{"three cores", three, threeCores, 2.8, 2.369716, 2, "", ""},
		{"one bad core stays in", bad, badCores, 1.283333, 2.418185, 5, "", "6"},
	} {
		e, err := bias.EstimateOffset(tt.gauge, tt.cores, options())
		if err != nil {
			t.Fatalf("%s: %v", tt.name, err)
		}
		if math.Abs(e.Mean-tt.offset) > 5e-7 || math.Abs(e.CI.HalfWidth()-tt.half) > 5e-7 || e.DF != tt.df {
			t.Errorf("%s: offset %v ± %v, df %v; want %v ± %v, df %v", tt.name, e.Mean, e.CI.HalfWidth(), e.DF, tt.offset, tt.half, tt.df)
		}
		if math.Abs(e.Offset.In(units.LbPerFt3)-e.Mean) > 1e-13 {
			t.Errorf("%s: exact offset %v, float %v", tt.name, e.Offset, e.Mean)
		}
		if got := strings.Join(e.Unpaired, " "); got != tt.unpaired {
			t.Errorf("%s: unpaired %q, want %q", tt.name, got, tt.unpaired)
		}
		suspect := ""
		for _, w := range e.Warnings {
			if w.Code == bias.WarnSuspect {
				suspect = w.Where
			}
		}
		if suspect != tt.suspect {
			t.Errorf("%s: suspect %q, want %q", tt.name, suspect, tt.suspect)
		}
	}
}

// The bad core of the table above: the offset without it is given beside it.
// R 4.2.2: mean of the other five 2.22 ± 0.296443216507, with the first left out
// ± 3.13750581802; outliers::grubbs-type G 2.032457.
func TestBadCoreIsReportedBothWays(t *testing.T) {
	e, err := bias.EstimateOffset(pairsOf2(2.2, 2.5, 1.9, 2.4, 2.1, -3.4))
	if err != nil {
		t.Fatal(err)
	}
	last := e.Pairs[5]
	if math.Abs(last.WithoutCI.HalfWidth()-0.296443216507) > 5e-12 || !last.Apart || e.Pairs[0].Apart || math.Abs(e.Pairs[0].WithoutCI.HalfWidth()-3.13750581802) > 5e-11 {
		t.Errorf("without it ± %v, apart %v", last.WithoutCI.HalfWidth(), last.Apart)
	}
	if want := "the offset is +1.28 ± 2.42 with it and +2.22 ± 0.30 without"; !strings.Contains(e.Warnings[0].Text, want) {
		t.Errorf("warning %v", e.Warnings[0])
	}
	if math.Abs(last.Without.In(units.LbPerFt3)-2.22) > 1e-12 || math.Abs(e.Screen.G-2.032457) > 5e-7 || !e.Screen.Outlier || e.N != 6 {
		t.Errorf("without it %v, G %v, n %d", last.Without, e.Screen.G, e.N)
	}
}

// Two bad cores of one kind hide each other from the test of one; both are named and
// both are kept.
func TestTwoBadCores(t *testing.T) {
	e, err := bias.EstimateOffset(pairsOf2(2.2, 2.5, 1.9, 2.4, 2.1, 2.3, -3.4, -3.2))
	if err != nil || e.Screen.Outlier || e.ScreenTwo == nil || !e.ScreenTwo.Outliers || e.N != 8 {
		t.Fatalf("%+v, %v", e.ScreenTwo, err)
	}
	var where []string
	for _, w := range e.Warnings {
		if w.Code == bias.WarnSuspect {
			where = append(where, w.Where)
		}
	}
	if strings.Join(where, " ") != "7 8" {
		t.Errorf("warnings %v", e.Warnings)
	}
	e, err = bias.EstimateOffset(pairsOf2(2.2, 2.5, 1.9, 2.4, 2.1, 2.3))
	if err != nil || e.ScreenTwo != nil {
		t.Errorf("no bad core: %+v, %v", e.ScreenTwo, err)
	}
}

// Several readings at one place are told from several comparisons, and ids that do not
// match are named.
func TestTooFewPlaces(t *testing.T) {
	for _, tt := range []struct {
		gauge []bias.Location
		want  string
	}{
		{[]bias.Location{location("1", 145, 145.1, 144.9)}, `(have 1, need 3; 3 measurements at one place are one comparison; on one side only: "2")`},
		{[]bias.Location{location("1", 145, 145.1, 144.9), location("2", 146)}, "(have 2, need 3; 4 measurements at 2 places are 2 comparisons)"},
		{[]bias.Location{location("1", 145), location("2", 146)}, "(have 2, need 3)"},
		{[]bias.Location{location("L1", 145), location("L2", 146)}, `(have 0, need 3; on one side only: "L1", "L2", "1", "2")`},
	} {
		_, err := bias.EstimateOffset(tt.gauge, []bias.Core{core("1", 147), core("2", 148)}, options())
		if !errors.Is(err, stats.ErrTooFew) || !strings.HasSuffix(err.Error(), tt.want) {
			t.Errorf("%v, want %s", err, tt.want)
		}
	}
}

func pairsOf2(d ...float64) ([]bias.Location, []bias.Core, bias.Options) {
	l, c := pairsOf(d...)
	return l, c, options()
}

// Gmb 2.343 and a gauge at 143.6 lb/ft3: the offset depends on the water density,
// so the same one serves cores and Gmm. From the arithmetic 2.343 x 62.245.
func TestOffsetCarriesTheWaterConvention(t *testing.T) {
	for _, tt := range []struct {
		water units.Water
		want  float64
	}{{units.Water62_245, 2.240035}, {units.Water62_4, 2.6032}} {
		d := units.SpecificGravityOf(2.343).Density(tt.water).Sub(units.LbPerFt3.Of(143.6))
		if math.Abs(d.In(units.LbPerFt3)-tt.want) > 1e-12 {
			t.Errorf("with %v: %v, want %v", tt.water, d, tt.want)
		}
	}
	if got := units.LbPerFt3.Difference(2.2).In(units.KgPerM3); math.Abs(got-35.2406) > 5e-5 {
		t.Errorf("2.2 lb/ft3 = %v kg/m3", got)
	}
}

func TestOffsetIsRoundedFromTheExactMean(t *testing.T) {
	l, c := pairsOf(2.3, 2.4, 2.3, 2.4, 2.35, 2.35)
	o := options()
	o.Rounding = units.Rounding{Method: units.HalfEven, Places: 1}
	e, err := bias.EstimateOffset(l, c, o)
	if err != nil || e.Offset != units.LbPerFt3.Difference(2.4) {
		t.Fatalf("2.35 rounds to %v, %v; want 2.4", e.Offset, err)
	}
	if stdErr, df := e.Correction.StdErr(); stdErr != e.StdErr || df != 5 || e.Correction.Source() != "test strip" {
		t.Errorf("correction keeps %v, %v, %q", stdErr, df, e.Correction.Source())
	}
	p, err := e.Correction.Apply(density.Uncorrected(units.LbPerFt3.Of(144)), o.Scope)
	if err != nil || p.Density() != units.LbPerFt3.Of(146.4) {
		t.Errorf("corrected %v, %v", p, err)
	}
	if got := e.Working[0].String(); got != "offset = Σ(core - mean gauge)/n = (2.3 + 2.4 + 2.3 + 2.4 + 2.35 + 2.35)/6 = 2.35 lb/ft3 → 2.4 lb/ft3 (half-even to 0.1)" {
		t.Errorf("working %q", got)
	}
}

func TestWideIntervalSaysWhatWouldHelp(t *testing.T) {
	l, c := pairsOf(1.8, 2.9, 3.7)
	o := options()
	o.Tolerance = units.LbPerFt3.Difference(1)
	e, err := bias.EstimateOffset(l, c, o)
	if err != nil {
		t.Fatal(err)
	}
	// s = 0.953939: t(0.975; 5)·s/√6 = 1.0011 and t(0.975; 6)·s/√7 = 0.8823, R 4.2.2 qt.
	want := "the half-width 2.37 lb/ft3 is more than the tolerance 1 lb/ft3; 7 cores of the same spread would give ±0.88"
	if n := len(e.Warnings); n != 1 || e.Warnings[0].Code != bias.WarnWide || e.Warnings[0].Text != want {
		t.Errorf("warnings %v", e.Warnings)
	}
}

// Two pairs are enough where the caller says so: t(0.975; 1) = 12.706205, and s/√2 = 0.15.
func TestFewestPairsIsAPolicy(t *testing.T) {
	l, c := pairsOf(2.2, 2.5)
	o := options()
	o.MinPairs = 2
	e, err := bias.EstimateOffset(l, c, o)
	if err != nil || math.Abs(e.CI.HalfWidth()-12.706205*0.15) > 5e-7 || e.Screen != nil {
		t.Errorf("%v, %v", e.CI, err)
	}
	o.MinPairs, o.Tolerance = 0, units.LbPerFt3.Difference(1e-6)
	l, c = pairsOf(1.8, 2.9, 3.7)
	e, err = bias.EstimateOffset(l, c, o)
	if err != nil || len(e.Warnings) != 1 || !strings.Contains(e.Warnings[0].Text, "not even 1000 cores") {
		t.Errorf("out of reach: %v, %v", e.Warnings, err)
	}
}

func TestEstimateOffsetRefuses(t *testing.T) {
	l, c := pairsOf(2.2, 2.5, 1.9)
	change := func(f func(o *bias.Options)) bias.Options {
		o := options()
		f(&o)
		return o
	}
	corrected, err := density.AlreadyCorrected(units.LbPerFt3.Of(147), "letter")
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name  string
		gauge []bias.Location
		cores []bias.Core
		o     bias.Options
		want  error
	}{
		{"nothing", nil, nil, options(), stats.ErrTooFew},
		{"two pairs", l[:2], c[:2], options(), stats.ErrTooFew},
		{"a location twice", append(l[:3:3], l[0]), c, options(), bias.ErrRepeatedID},
		{"a core twice", l, append(c[:3:3], c[1]), options(), bias.ErrRepeatedID},
		{"a location without id", append(l[:3:3], location("", 145)), c, options(), bias.ErrNoID},
		{"a location without readings", append(l[:3:3], location("9")), c, options(), stats.ErrTooFew},
		{"a sentinel", append(l[:3:3], location("9", 145, -999)), c, options(), density.ErrNotPositive},
		{"a NaN", append(l[:3:3], location("9", math.NaN())), c, options(), units.ErrNotGiven},
		{"a core not given", l, append(c[:2:2], bias.Core{ID: "3"}), options(), stats.ErrTooFew},
		{"a core without its density", l, append(c[:2:2], cut("3", density.InPlace{})), options(), units.ErrNotGiven},
		{"a negative core", l, append(c[:2:2], core("3", -1)), options(), density.ErrNotPositive},
		{"a corrected reading as core", l, append(c[:2:2], cut("3", corrected)), options(), bias.ErrNotCore},
		{"cores in another unit", l, []bias.Core{cut("1", density.Core(units.KgPerM3.Of(2343))), c[1], c[2]}, options(), density.ErrUnitMismatch},
		{"cores of two waters", l, append(c[:1:1], cut("2", coreOf(t, units.Water62_245)), cut("3", coreOf(t, units.Water62_4))), options(), density.ErrWater},
		{"level in percent", l, c, change(func(o *bias.Options) { o.Level = 95 }), stats.ErrLevel},
		{"level NaN", l, c, change(func(o *bias.Options) { o.Level = math.NaN() }), stats.ErrLevel},
		{"alpha in percent", l, c, change(func(o *bias.Options) { o.OutlierAlpha = 5 }), stats.ErrLevel},
		{"one pair is enough", l, c, change(func(o *bias.Options) { o.MinPairs = 1 }), stats.ErrParameter},
		{"no rounding", l, c, change(func(o *bias.Options) { o.Rounding = units.Rounding{} }), units.ErrRounding},
		{"no scope", l, c, change(func(o *bias.Options) { o.Scope = density.Scope{} }), density.ErrScope},
		{"no source", l, c, change(func(o *bias.Options) { o.Source = "" }), density.ErrNoSource},
		{"no tolerance worth the name", l, c, change(func(o *bias.Options) { o.Tolerance = units.LbPerFt3.Difference(-1) }), density.ErrNotPositive},
	} {
		e, err := bias.EstimateOffset(tt.gauge, tt.cores, tt.o)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || !e.Correction.IsZero() {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	_, err = bias.EstimateOffset(append(l[:3:3], location("9", 145, -999)), c, options())
	if want := `"9"`; !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "readings[1] = -999 lb/ft3") {
		t.Errorf("message %q does not name location and reading", err)
	}
}

func coreOf(t *testing.T, w units.Water) density.InPlace {
	t.Helper()
	core, err := density.CoreOf(units.SpecificGravityOf(2.368), w)
	if err != nil {
		t.Fatal(err)
	}
	return core
}

// Shifting the gauge shifts the offset the other way, the order of the records
// does not matter, and another unit changes nothing but the unit.
func TestOffsetLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		var ls, shifted []bias.Location
		var cs, si []bias.Core
		var lsSI []bias.Location
		for i := range 3 + rng.IntN(5) {
			id := fmt.Sprint(i)
			x, d := float64(1400+rng.IntN(100))/10, float64(rng.IntN(60)-10)/10
			ls = append(ls, location(id, x, x+0.2))
			shifted = append(shifted, location(id, x+1.5, x+1.7))
			cs = append(cs, core(id, x+d))
			lsSI = append(lsSI, bias.Location{ID: id, Readings: []density.Reading{density.Uncorrected(units.LbPerFt3.Of(x).To(units.KgPerM3)), density.Uncorrected(units.LbPerFt3.Of(x + 0.2).To(units.KgPerM3))}})
			si = append(si, cut(id, density.Core(units.LbPerFt3.Of(x+d).To(units.KgPerM3))))
		}
		a, errA := bias.EstimateOffset(ls, cs, options())
		b, errB := bias.EstimateOffset(shifted, cs, options())
		rng.Shuffle(len(cs), func(i, j int) { cs[i], cs[j] = cs[j], cs[i] })
		c, errC := bias.EstimateOffset(ls, cs, options())
		k, errK := bias.EstimateOffset(lsSI, si, options())
		if err := errors.Join(errA, errB, errC, errK); err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.Mean-1.5-b.Mean) > 1e-11 || math.Abs(a.StdErr-b.StdErr) > 1e-11 {
			t.Errorf("shift by 1.5: %v to %v", a.Mean, b.Mean)
		}
		if a.Estimate.Mean != c.Estimate.Mean || a.Offset != c.Offset {
			t.Errorf("order of cores: %v and %v", a.Offset, c.Offset)
		}
		const factor = 16.01846337396014 // lb/ft3 to kg/m3, NIST SP 811 exact definitions
		if math.Abs(k.Mean-factor*a.Mean) > 1e-9 || math.Abs(k.CI.HalfWidth()-factor*a.CI.HalfWidth()) > 1e-9 {
			t.Errorf("in kg/m3 %v, in lb/ft3 %v", k.Mean, a.Mean)
		}
	}
}
