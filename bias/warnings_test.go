package bias_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func codes(ws []stats.Warning) (all []string) {
	for _, w := range ws {
		all = append(all, string(w.Code)+" "+w.Where)
	}
	return all
}

func TestReadingsAreLookedAt(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(ls []bias.Location)
		want   []string
	}{
		{"nothing to say", func(ls []bias.Location) {}, nil},
		{"unequal numbers", func(ls []bias.Location) { ls[1].Readings = ls[1].Readings[:2] }, []string{"unequal-readings "}},
		{"a block copied", func(ls []bias.Location) { ls[2].Readings = ls[0].Readings }, []string{"copied-readings T3"}},
		{"the same numbers in another order", func(ls []bias.Location) {
			r := ls[0].Readings
			ls[2].Readings = []density.Reading{r[1], r[0], r[2]}
		}, nil},
		{"wet", func(ls []bias.Location) { ls[4].Moisture = density.MatWet }, []string{"wet-mat T5"}},
		{"damp among dry", func(ls []bias.Location) {
			for i := range ls {
				ls[i].Moisture = density.MatDry
			}
			ls[1].Moisture = density.MatDamp
		}, []string{"wet-mat "}},
		{"all damp", func(ls []bias.Location) {
			for i := range ls {
				ls[i].Moisture = density.MatDamp
			}
		}, nil},
	} {
		gauge, cores := jobStrip()
		tt.change(gauge)
		o := jobOptions()
		o.Copied, o.OutlierAlpha = 3, 0
		e, err := bias.EstimateOffset(gauge, cores, o)
		if err != nil {
			t.Fatal(err)
		}
		got := codes(e.Warnings)
		if len(got) != len(tt.want) || len(got) > 0 && got[0] != tt.want[0] {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
		if e.N != 5 {
			t.Errorf("%s: %d pairs are left", tt.name, e.N)
		}
	}
}

// Cores that were computed from the readings: every difference is 2.4 exactly, though
// 145.1 + 2.4 and 147.5 are not in binary.
func TestEqualDifferencesAreWarnedOf(t *testing.T) {
	gauge, cores := columns([]float64{145.1, 146.3, 144.7}, []float64{147.5, 148.7, 147.1})
	e, err := bias.EstimateOffset(gauge, cores, options())
	if err != nil || e.StdDev != 0 || e.CI.HalfWidth() != 0 || !has(e.Warnings, bias.WarnNoSpread) || e.Pairs[0].Influence != 0 {
		t.Errorf("%+v, %v", e.Estimate, err)
	}
}

// The bad core: G = 2.032457 of at most 5/√6 = 2.041241, so an influence of -0.995697.
// In general the influence is the deviation over s times √n/(n-1), by hand.
func TestInfluence(t *testing.T) {
	e, err := bias.EstimateOffset(pairsOf2(2.2, 2.5, 1.9, 2.4, 2.1, -3.4))
	if err != nil {
		t.Fatal(err)
	}
	if got := e.Pairs[5].Influence; math.Abs(got+2.032457/2.041241) > 5e-7 {
		t.Errorf("influence %v", got)
	}
	for _, p := range e.Pairs {
		want := p.Residual.In(units.LbPerFt3) / e.StdDev * math.Sqrt(6) / 5
		if math.Abs(p.Influence-want) > 1e-12 {
			t.Errorf("%s: influence %v, want %v", p.ID, p.Influence, want)
		}
	}
}

// R 4.2.2: predict(lm(core - gauge ~ 1), interval = "prediction") of the ten sites.
func TestPredictionOfOneMoreLocation(t *testing.T) {
	gauge, cores := columns(waqtcGauge, waqtcCore)
	e, err := bias.EstimateOffset(gauge, cores, options())
	if err != nil || math.Abs(e.Prediction.Lo-0.870546343033) > 5e-12 || math.Abs(e.Prediction.Hi-3.36945365697) > 5e-11 {
		t.Errorf("%v, %v", e.Prediction, err)
	}
}

// The five locations of five readings: 2.42 ± 1.118876 with 4 degrees of freedom. All 25
// readings as if they were independent would give ± 0.345767 (R 4.2.2 t.test of each).
func TestPseudoReplication(t *testing.T) {
	gauge, cores := nestedStrip()
	e, err := bias.EstimateOffset(gauge, cores, options())
	if err != nil {
		t.Fatal(err)
	}
	var all []float64
	for i, l := range gauge {
		for _, r := range l.Readings {
			all = append(all, cores[i].Densities[0].Density().In(units.LbPerFt3)-r.Density().In(units.LbPerFt3))
		}
	}
	wrong, err := stats.MeanInterval(all, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%.2f ± %.3f; with 25 readings as 25 comparisons, wrongly, ± %.3f", e.Mean, e.CI.HalfWidth(), wrong.CI.HalfWidth())
	if math.Abs(e.CI.HalfWidth()-1.118876) > 5e-7 || math.Abs(wrong.CI.HalfWidth()-0.345767) > 5e-7 {
		t.Errorf("half-widths %v and %v", e.CI.HalfWidth(), wrong.CI.HalfWidth())
	}
}

func TestLocationOfRefuses(t *testing.T) {
	set, err := density.NewReadingSet(density.SetRecord{ID: "T1", Corrected: "gauge set to +2.4",
		Entries: []density.Entry{{Value: units.LbPerFt3.Of(146.5), Stage: density.AsCorrected}}})
	if err != nil {
		t.Fatal(err)
	}
	if l, err := bias.LocationOf(set); !errors.Is(err, density.ErrStage) || l.ID != "" {
		t.Errorf("a corrected set: %v", err)
	}
	if _, err := bias.LocationOf(density.ReadingSet{}); !errors.Is(err, units.ErrNotGiven) {
		t.Errorf("no set: %v", err)
	}
	o := options()
	o.Copied = 1
	if _, err := bias.EstimateOffset(nil, nil, o); !errors.Is(err, stats.ErrParameter) {
		t.Errorf("a series of one: %v", err)
	}
}

// Ids are compared as they are written; a slip of the pen is pointed out.
func TestUnpairedIDsThatDifferInForm(t *testing.T) {
	gauge := []bias.Location{location("T1", 145), location("T2", 146), location("T3", 147), location("t 4", 148), location("T5 ", 144), location("T6", 143), location("T-1", 145)}
	cores := []bias.Core{core("T1", 147.1), core("T2", 148.3), core("T3", 149.2), core("T4", 150), core("T5", 146), core("T7", 146)}
	e, err := bias.EstimateOffset(gauge, cores, options())
	if err != nil || e.N != 3 || strings.Join(e.Unpaired, ",") != "t 4,T5 ,T6,T-1,T4,T5,T7" {
		t.Fatalf("%q, %v", e.Unpaired, err)
	}
	hints := map[string]string{"t 4": `"T4"`, "T4": `"t 4"`, "T5 ": `"T5"`, "T5": `"T5 "`, "T6": "", "T7": "", "T-1": `"T1"`}
	for _, w := range e.Warnings {
		hint, ok := hints[w.Where]
		if !ok || w.Code != bias.WarnUnpaired || strings.Contains(w.Text, "differs from "+hint) != (hint != "") {
			t.Errorf("%v, want a hint at %s", w, hint)
		}
		delete(hints, w.Where)
	}
	if len(hints) != 0 {
		t.Errorf("nothing said of %v", hints)
	}
}

// Readings that are the density of their own core were written down from it.
func TestReadingsCopiedFromTheCore(t *testing.T) {
	o := options()
	o.Copied = 3
	for _, tt := range []struct {
		name  string
		gauge []bias.Location
		want  string
	}{
		{"all readings of one place", []bias.Location{location("1", 147, 147, 147), location("2", 146, 146.1), location("3", 147, 147.2)}, "1"},
		{"single readings of three places", []bias.Location{location("1", 147), location("2", 148), location("3", 149), location("4", 150.1)}, "1, 2, 3"},
		{"by chance at two", []bias.Location{location("1", 147), location("2", 148), location("3", 149.2), location("4", 150.1)}, ""},
		{"not all readings of a place", []bias.Location{location("1", 147, 147, 147.1), location("2", 146), location("3", 147)}, ""},
	} {
		e, err := bias.EstimateOffset(tt.gauge, []bias.Core{core("1", 147), core("2", 148), core("3", 149), core("4", 150)}, o)
		if err != nil {
			t.Fatal(err)
		}
		where := ""
		for _, w := range e.Warnings {
			if w.Code == bias.WarnCopied {
				where = w.Where
			}
		}
		if where != tt.want {
			t.Errorf("%s: at %q, want %q", tt.name, where, tt.want)
		}
	}
}

// Whatever a strip is used for, it says what was left out and what was read wet.
func TestEveryUseOfAStripWarns(t *testing.T) {
	gauge, cores := jobStrip()
	gauge[1].Moisture, cores[3].ID = density.MatWet, "t-4"
	want := []string{"unpaired T4", "unpaired t-4", "wet-mat T2"}
	o := jobOptions()
	o.OutlierAlpha = 0
	e, err1 := bias.EstimateOffset(gauge, cores, o)
	m, err2 := bias.CompareModels(gauge, cores, bias.ModelOptions{Level: 0.95, ErrorRatio: 1})
	c, err3 := bias.StripComponents(gauge, cores, 0.95)
	other, _ := jobStrip()
	other[3].ID = "t-4"
	a, err4 := bias.CompareGauges(gauge, other, agreementOptions())
	for use, ws := range map[string][]stats.Warning{"offset": e.Warnings, "models": m.Warnings, "components": c.Warnings, "gauges": a.Warnings} {
		for _, code := range want {
			if !slices.Contains(codes(ws), code) {
				t.Errorf("%s: %q, want %s", use, codes(ws), code)
			}
		}
	}
	groups, err5 := bias.CompareGroups([]bias.Group{{Name: "wet", Gauge: gauge, Cores: cores}, group("dry", 2.2, 2.5)}, groupOptions())
	if err := errors.Join(err1, err2, err3, err4, err5); err != nil {
		t.Fatal(err)
	}
	if got := codes(groups.Groups[0].Warnings); !slices.Equal(got, want[:2]) {
		t.Errorf("group: %q, want %q", got, want[:2])
	}
}

// Of two gauges, one read on a dry mat and the other when it was damp.
func TestGaugesOnMatsInTwoStates(t *testing.T) {
	a, _ := jobStrip()
	b, _ := jobStrip()
	for i := range a {
		a[i].Moisture, b[i].Moisture = density.MatDry, density.MatDamp
	}
	r, err := bias.CompareGauges(a, b, agreementOptions())
	if err != nil || !has(r.Warnings, bias.WarnWet) {
		t.Errorf("%v, %v", r.Warnings, err)
	}
}
