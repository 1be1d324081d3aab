package bias_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// replicated has readings and cores in different numbers at each location; invented.
func replicated() ([]bias.Location, []bias.Core) {
	return []bias.Location{location("1", 144.8, 145.2), location("2", 146.9, 147.1, 147.3), location("3", 143.9, 144.1), location("4", 148.0, 148.4), location("5", 145.9, 146.1)},
		[]bias.Core{core("1", 147.6, 147.2), core("2", 148.9), core("3", 147.1, 147.9), core("4", 150.2, 150.6, 150.1), core("5", 148.6, 149.0)}
}

// R 4.2.2 on plain sums: the pooled variances within, the means of 1/k and of 1/m, qf
// for the interval, and Linnet's formula for the slopes.
func TestErrorRatioFromReplicates(t *testing.T) {
	l, c := replicated()
	m, err := bias.CompareModels(l, c, bias.ModelOptions{Level: 0.95, Replicates: true})
	if err != nil {
		t.Fatal(err)
	}
	e := m.Errors
	for _, tt := range []struct {
		what      string
		got, want float64
	}{
		{"ratio", e.Ratio, 3.22653061225}, {"from", e.CI.Lo, 0.538871902739}, {"to", e.CI.Hi, 22.5137686497},
		{"gauge", e.Gauge.StdDev, 0.216024689947}, {"core", e.Core.StdDev, 0.352136337233}, {"its freedom", e.Gauge.DF, 6}, {"the core's", e.Core.DF, 5},
		{"slope", m.Line.Slope.Value, 0.687825631003}, {"at the lower end", e.Slopes[0], 0.715797499348}, {"at the upper", e.Slopes[1], 0.679277810445}, {"offset", m.Offset.Mean, 2.52},
	} {
		if math.Abs(tt.got-tt.want) > 5e-11*math.Max(1, tt.want) {
			t.Errorf("%s %v, want %v", tt.what, tt.got, tt.want)
		}
	}
	want := "the ratio of error variances, core over gauge, is 3.23, from replicates of both (5 and 6 degrees of freedom), 95% interval 0.539 to 22.5, at whose ends the slope is 0.716 and 0.679"
	if e.Source != bias.FromReplicates || e.String() != want || m.Reasons[1] != want {
		t.Errorf("%v, reasons %q", e, m.Reasons)
	}
}

// Every source says what it is, and none takes from another: a stated error of a core
// leaves the cores side by side aside, a stated ratio both.
func TestErrorRatioSources(t *testing.T) {
	l, c := replicated()
	stated, err := bias.CompareModels(l, c, bias.ModelOptions{Level: 0.95, ErrorRatio: 2})
	if e := stated.Errors; err != nil || e != (bias.ErrorRatio{Ratio: 2, Source: bias.StatedRatio}) {
		t.Errorf("%+v, %v", e, err)
	}
	// by hand: 0.4²·mean of 1/m over 0.28/6·mean of 1/k, R: 4.16326530612
	m, err := bias.CompareModels(l, c, bias.ModelOptions{Level: 0.95, CoreStdDev: units.LbPerFt3.Difference(0.4)})
	e := m.Errors
	if err != nil || e.Source != bias.StatedCore || math.Abs(e.Ratio-4.163265306122) > 5e-12 || e.Core != (bias.Term{StdDev: 0.4}) || e.Gauge.DF != 6 || e.CI != (stats.Interval{}) || !strings.Contains(e.String(), "stated for the core") {
		t.Errorf("%+v, %v", e, err)
	}
	single, cores := columns(noisyGauge, noisyCore)
	equal := []bias.Core{core("1", 147, 147), core("2", 148, 148), core("3", 149), core("4", 150), core("5", 151)}
	for _, tt := range []struct {
		name  string
		gauge []bias.Location
		cores []bias.Core
		o     bias.ModelOptions
		want  error
	}{
		{"no source", l, c, bias.ModelOptions{Level: 0.95}, stats.ErrParameter},
		{"two sources", l, c, bias.ModelOptions{Level: 0.95, Replicates: true, ErrorRatio: 2}, stats.ErrParameter},
		{"replicates and a stated core", l, c, bias.ModelOptions{Level: 0.95, Replicates: true, CoreStdDev: units.LbPerFt3.Difference(0.4)}, stats.ErrParameter},
		{"single cores", l, cores[:5], bias.ModelOptions{Level: 0.95, Replicates: true}, stats.ErrTooFew},
		{"single readings", single[:5], c, bias.ModelOptions{Level: 0.95, Replicates: true}, stats.ErrTooFew},
		{"cores without scatter", l, equal, bias.ModelOptions{Level: 0.95, Replicates: true}, stats.ErrNoSpread},
	} {
		if m, err := bias.CompareModels(tt.gauge, tt.cores, tt.o); !errors.Is(err, tt.want) || m.N != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// Cores of a place are averaged as readings are: 2.52 ± 0.820814098745 by R 4.2.2 on the
// means; one location with several cores counts once.
func TestSeveralCoresCountOnce(t *testing.T) {
	l, c := replicated()
	e, err := bias.EstimateOffset(l, c, options())
	if err != nil || e.N != 5 || math.Abs(e.Mean-2.52) > 1e-13 || math.Abs(e.CI.HalfWidth()-0.820814098745) > 5e-12 {
		t.Errorf("%v ± %v, %v", e.Mean, e.CI.HalfWidth(), err)
	}
	if p := e.Pairs[3]; p.Cores != 3 || p.Readings != 2 || math.Abs(p.Core.In(units.LbPerFt3)-150.3) > 1e-12 {
		t.Errorf("%+v", p)
	}
	if !has(e.Warnings, bias.WarnUnequal) {
		t.Errorf("warnings %v", e.Warnings)
	}
	mixed := bias.Core{ID: "1", Densities: []density.InPlace{density.Core(units.LbPerFt3.Of(147)), density.Core(units.KgPerM3.Of(2355))}}
	for _, tt := range []struct {
		name string
		core bias.Core
		want error
	}{{"two units at one place", mixed, density.ErrUnitMismatch}, {"a core not given among others", bias.Core{ID: "1", Densities: append(core("1", 147).Densities, density.InPlace{})}, units.ErrNotGiven}} {
		if _, err := bias.EstimateOffset(l, append(c[1:5:5], tt.core), options()); !errors.Is(err, tt.want) || !strings.Contains(err.Error(), "densities[1]") {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}
