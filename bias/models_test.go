package bias_test

import (
	"errors"
	"math"
	"testing"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Ten locations whose gauge noise pulls the least squares slope down to 0.563; the
// data are invented.
var (
	noisyGauge = []float64{144.8, 144.1, 145.4, 144.2, 146.8, 145.1, 145.5, 146.6, 148.6, 147.0}
	noisyCore  = []float64{146.7, 147.4, 147.7, 148.0, 148.5, 148.9, 149.0, 149.0, 149.8, 150.0}
)

func compare(t *testing.T, gauge, cores []float64, ratio float64) bias.ModelComparison {
	t.Helper()
	l, c := columns(gauge, cores)
	m, err := bias.CompareModels(l, c, bias.ModelOptions{Level: 0.95, ErrorRatio: ratio})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Slope, intercept, ratio and offset: R 4.2.2 with the formulas of Linnet and t.test.
// Ratio's standard error, AICc, r and the t of slope one: Python 3 with the formulas of
// the doc comments on plain sums.
func TestCompareModels(t *testing.T) {
	noisy, waqtc := compare(t, noisyGauge, noisyCore, 0.09765625), compare(t, waqtcGauge, waqtcCore, 1)
	orthogonal := compare(t, noisyGauge, noisyCore, 1)
	for _, tt := range []struct {
		what           string
		got, want, tol float64
	}{
		{"slope", noisy.Line.Slope.Value, 0.908610, 5e-7}, {"intercept", noisy.Line.Intercept.Value, 16.015524, 5e-7},
		{"slope with ratio 1", orthogonal.Line.Slope.Value, 0.676756, 5e-7},
		{"offset", noisy.Offset.Mean, 2.69, 1e-13}, {"its half-width", noisy.Offset.CI.HalfWidth(), 0.659483, 5e-7},
		{"ratio", noisy.Ratio.Ratio, 1.0184486660722856, 1e-14}, {"its standard error", noisy.Ratio.StdErr, 0.0020379457415811556, 1e-14},
		{"t of slope one", noisy.SlopeT, -0.3052170702494107, 1e-11}, {"r", noisy.R, 0.7602558054820197, 1e-13},
		{"AICc offset", noisy.AICc.Offset, 2.1024117392008232, 1e-10}, {"AICc ratio", noisy.AICc.Ratio, 2.1509682401672956, 1e-10},
		{"AICc line", noisy.AICc.Line, 6.264790761060571, 1e-10}, {"range of cores", noisy.CoreRange, 3.3, 1e-13},
		{"slope of the print's table", waqtc.Line.Slope.Value, 0.8961875, 5e-8}, {"its intercept", waqtc.Line.Intercept.Value, 16.7990854, 5e-8},
		{"ratio of the print's table", waqtc.Ratio.Ratio, 1.01499292786, 5e-12}, {"its r", waqtc.R, 0.934926778576, 5e-13},
		{"t of slope one there", waqtc.SlopeT, -0.8184481254465172, 1e-10},
	} {
		if !(math.Abs(tt.got-tt.want) <= tt.tol) {
			t.Errorf("%s %v, want %v", tt.what, tt.got, tt.want)
		}
	}
	for _, m := range []bias.ModelComparison{noisy, waqtc} {
		if m.Recommended != density.ConstantOffset || len(m.Reasons) < 4 {
			t.Errorf("recommended %v for %v", m.Recommended, m.Reasons)
		}
	}
}

// The readings 140.0 and 144.1 with the three models, the first outside 144.1 to
// 148.6: by the line 143.221, by the offset 142.690 (R 4.2.2, Linnet's formulas), by
// the ratio 1.01844867 x 140 = 142.5828.
func TestExtrapolationIsFlagged(t *testing.T) {
	m := compare(t, noisyGauge, noisyCore, 0.09765625)
	p, err := m.At(density.Uncorrected(units.LbPerFt3.Of(140)))
	if err != nil || !p.Extrapolated {
		t.Fatalf("%+v, %v", p, err)
	}
	for _, tt := range []struct{ got, want, tol float64 }{{p.Line.In(units.LbPerFt3), 143.221, 5e-4}, {p.Offset.In(units.LbPerFt3), 142.690, 5e-4}, {p.Ratio.In(units.LbPerFt3), 142.58281325, 5e-8}} {
		if math.Abs(tt.got-tt.want) > tt.tol {
			t.Errorf("at 140.0: %v, want %v", tt.got, tt.want)
		}
	}
	if p, err := m.At(density.Uncorrected(units.LbPerFt3.Of(144.1))); err != nil || p.Extrapolated {
		t.Errorf("the lowest location is no extrapolation: %v", err)
	}
}

// Mean readings of 145 1/3 and 146 2/3 are no numbers of 64 bits; the readings that made a
// line are within it all the same.
func TestNoLocationLiesOutsideItsOwnStrip(t *testing.T) {
	lb := units.LbPerFt3
	gauge := []bias.Location{location("1", 145.3, 145.3, 145.4), location("2", 146.6, 146.7, 146.7), location("3", 146, 146.1)}
	m, err := bias.CompareModels(gauge, []bias.Core{core("1", 147.1), core("2", 148.9), core("3", 148)}, bias.ModelOptions{Level: 0.95, ErrorRatio: 1})
	if err != nil {
		t.Fatal(err)
	}
	two := units.Rounding{Method: units.HalfEven, Places: 2}
	c, err := m.Correction(density.StraightLine, bias.CorrectionOptions{Offset: two, Slope: two, Scope: options().Scope, Source: "strip"})
	if err != nil {
		t.Fatal(err)
	}
	maximum, err := density.MaximumTheoretical(units.SpecificGravityOf(2.5), units.Water62_4)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range append(gauge, location("beyond", 146.7)) {
		a, err := density.AuditReadings(l.Readings, c, options().Scope, maximum, density.RoundingPolicy{Mean: absolute, Density: two, Maximum: two, Percentage: two})
		if err != nil || has(a.Warnings, density.WarnExtrapolated) != (l.ID == "beyond") {
			t.Errorf("%s: %v, %v", l.ID, a.Warnings, err)
		}
	}
	if m.Low.In(lb) < 145.3333333333 || m.High.In(lb) > 146.6666666667 {
		t.Errorf("from %v to %v", m.Low, m.High)
	}
}

// Data made by the rules core = 1.1 gauge and core = 0.6 gauge + 60, with residuals
// ±0.1 that sum to 0: the slope shows which model they follow.
func TestRecommendation(t *testing.T) {
	gauge := []float64{100, 110, 120, 130, 140, 150, 160, 170}
	residual := []float64{0.1, -0.1, -0.1, 0.1, 0.1, -0.1, -0.1, 0.1}
	var ratio, line, offset []float64
	for i, x := range gauge {
		ratio, line, offset = append(ratio, 1.1*x+residual[i]), append(line, 0.6*x+60+residual[i]), append(offset, x+3+residual[i])
	}
	for _, tt := range []struct {
		cores []float64
		want  density.Model
	}{{ratio, density.ConstantRatio}, {line, density.StraightLine}, {offset, density.ConstantOffset}} {
		if m := compare(t, gauge, tt.cores, 1); m.Recommended != tt.want {
			t.Errorf("recommended %v, want %v: %q", m.Recommended, tt.want, m.Reasons)
		}
	}
}

// By hand: core standard deviation 0.2, deviations of the readings in two
// locations {-.1,.1} and one {-.1,.1,0}: (0.02+0.02+0.02)/4 = 0.015; mean of 1/n
// (1/2+1/2+1/3)/3 = 4/9: ratio 0.04/(0.015·4/9) = 6.
func TestErrorRatioFromReadings(t *testing.T) {
	l := []bias.Location{location("1", 140.1, 139.9), location("2", 145.1, 144.9), location("3", 150.1, 149.9, 150)}
	c := []bias.Core{core("1", 142.3), core("2", 147), core("3", 152.2)}
	m, err := bias.CompareModels(l, c, bias.ModelOptions{Level: 0.95, CoreStdDev: units.LbPerFt3.Difference(0.2)})
	if err != nil || math.Abs(m.Errors.Ratio-6) > 1e-12 || m.AICc != nil {
		t.Errorf("ratio %v, %v", m.Errors, err)
	}
}

// Least squares of the noisy data would give 0.563; the corrections are those of the
// comparison, rounded as asked. The intercept by hand: mean core 148.5 - 0.909 x mean
// gauge 145.81 = 15.95871.
func TestCorrectionOfEachModel(t *testing.T) {
	m := compare(t, noisyGauge, noisyCore, 0.09765625)
	o := bias.CorrectionOptions{Offset: units.Rounding{Method: units.HalfEven, Places: 2}, Slope: units.Rounding{Method: units.HalfEven, Places: 3},
		Scope: options().Scope, Source: "test strip"}
	for _, tt := range []struct {
		model density.Model
		want  string
	}{
		{density.ConstantOffset, "+2.69 lb/ft3 (core - gauge), gauge G-07, mix A, lift surface"},
		{density.ConstantRatio, "x 1.018 (core/gauge), gauge G-07, mix A, lift surface"},
		{density.StraightLine, "x 0.909 +15.96 lb/ft3 (core on gauge), gauge G-07, mix A, lift surface"},
	} {
		c, err := m.Correction(tt.model, o)
		if err != nil || c.String() != tt.want {
			t.Errorf("%v: %v, %v", tt.model, c, err)
		}
		// at the mean reading all three give the mean core, 148.5, but for rounding
		p, err := c.Apply(density.Uncorrected(units.LbPerFt3.Of(145.81)), o.Scope)
		if err != nil || math.Abs(p.Density().In(units.LbPerFt3)-148.5) > 0.07 {
			t.Errorf("%v: %v, %v", tt.model, p, err)
		}
	}
	line, err := m.Correction(density.StraightLine, o)
	if stdErr, df := line.StdErrAt(units.LbPerFt3.Of(145.81)); err != nil || df != 8 || !(stdErr > 0.25 && stdErr < 0.35) {
		t.Errorf("standard error at the centre %v, df %v, %v", stdErr, df, err)
	}
	for _, tt := range []struct {
		name  string
		m     bias.ModelComparison
		model density.Model
		o     bias.CorrectionOptions
		want  error
	}{
		{"no model", m, 0, o, units.ErrNotGiven}, {"nothing compared", bias.ModelComparison{}, density.StraightLine, o, units.ErrNotGiven},
		{"no rounding of the slope", m, density.StraightLine, bias.CorrectionOptions{Offset: o.Offset, Scope: o.Scope, Source: "x"}, units.ErrRounding},
		{"absolute slope", m, density.ConstantRatio, bias.CorrectionOptions{Slope: units.Rounding{Method: units.Absolute}, Scope: o.Scope, Source: "x"}, units.ErrAbsolute},
		{"slope rounded away", m, density.StraightLine, bias.CorrectionOptions{Slope: units.Rounding{Method: units.HalfEven, Places: -1}, Offset: o.Offset, Scope: o.Scope, Source: "x"}, units.ErrRange},
		{"no rounding of the offset", m, density.ConstantOffset, bias.CorrectionOptions{Scope: o.Scope, Source: "x"}, units.ErrRounding},
		{"no source", m, density.ConstantOffset, bias.CorrectionOptions{Offset: o.Offset, Scope: o.Scope}, density.ErrNoSource},
	} {
		if c, err := tt.m.Correction(tt.model, tt.o); !errors.Is(err, tt.want) || !c.IsZero() {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// Cores of one density leave the slope open: the offset stays, and the reason is given.
func TestNoRangeLeavesTheOffset(t *testing.T) {
	for _, tt := range []struct {
		gauge, cores []float64
		shape        stats.SetShape
	}{
		{[]float64{145, 146, 145, 146.1}, []float64{147, 147, 148, 148}, stats.Everything},
		{[]float64{145.1, 144.8, 145.3, 144.9}, []float64{147.2, 147.4, 147.1, 147.4}, stats.Between}, // they fall where the readings rise
	} {
		m := compare(t, tt.gauge, tt.cores, 1)
		if m.Recommended != density.ConstantOffset || m.Line.SlopeCI.Shape != tt.shape || !has(m.Warnings, bias.WarnFlat) {
			t.Errorf("recommended %v with a slope %v, %v: %q", m.Recommended, m.Line.SlopeCI, m.Warnings, m.Reasons)
		}
	}
	l, c := columns(noisyGauge, noisyCore)
	m, err := bias.CompareModels(l, c[1:], bias.ModelOptions{Level: 0.95, ErrorRatio: 1})
	if err != nil || m.N != 9 || !has(m.Warnings, bias.WarnUnpaired) {
		t.Errorf("one core missing: %v, %v", m.Warnings, err)
	}
}

// Pairs on one line to the last digit, of slope one and of 2.8/4.2 = 4.6/6.9 = 2/3, have
// no scatter, and what rounding makes of it in a fit decides nothing.
func TestPairsOnOneLine(t *testing.T) {
	for _, pairs := range [][2][]float64{
		{{142.2, 142.7, 146.8, 141.6, 140.9, 142.6, 144.6, 144.1}, {144.6, 145.1, 149.2, 144, 143.3, 145, 147, 146.5}},
		{{143.3, 139.1, 146, 143.3}, {144.7, 141.9, 146.5, 144.7}},
	} {
		m := compare(t, pairs[0], pairs[1], 1)
		if m.Recommended != density.ConstantOffset || m.AICc != nil || len(m.Warnings) != 1 || m.Warnings[0].Code != bias.WarnNoSpread {
			t.Errorf("recommended %v for %q, %v, AICc %v", m.Recommended, m.Reasons, m.Warnings, m.AICc)
		}
	}
	m := compare(t, []float64{143.3, 139.1, 146}, []float64{144.7, 141.9, 146.6}, 1) // 0.1 off
	if has(m.Warnings, bias.WarnNoSpread) {
		t.Errorf("off the line: %v", m.Warnings)
	}
}

// A change of unit scales the offset and the intercept and leaves slope, ratio, t, r
// and the recommendation alone.
func TestModelsInAnotherUnit(t *testing.T) {
	l, c := columns(noisyGauge, noisyCore)
	for i := range l {
		l[i].Readings[0] = density.Uncorrected(l[i].Readings[0].Density().To(units.KgPerM3))
		c[i] = cut(c[i].ID, density.Core(c[i].Densities[0].Density().To(units.KgPerM3)))
	}
	a := compare(t, noisyGauge, noisyCore, 0.5)
	b, err := bias.CompareModels(l, c, bias.ModelOptions{Level: 0.95, ErrorRatio: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	const factor = 16.01846337396014 // lb/ft3 to kg/m3, NIST SP 811 exact definitions
	for _, tt := range []struct {
		what string
		a, b float64
	}{
		{"slope", a.Line.Slope.Value, b.Line.Slope.Value}, {"ratio", a.Ratio.Ratio, b.Ratio.Ratio}, {"t", a.SlopeT, b.SlopeT}, {"r", a.R, b.R},
		{"offset", factor * a.Offset.Mean, b.Offset.Mean}, {"intercept", factor * a.Line.Intercept.Value, b.Line.Intercept.Value},
		{"AICc apart", a.AICc.Line - a.AICc.Offset, b.AICc.Line - b.AICc.Offset},
	} {
		if math.Abs(tt.a-tt.b) > 1e-9*math.Max(1, math.Abs(tt.a)) {
			t.Errorf("%s: %v and %v", tt.what, tt.a, tt.b)
		}
	}
}

func TestCompareModelsRefuses(t *testing.T) {
	l, c := columns(noisyGauge, noisyCore)
	given := bias.ModelOptions{Level: 0.95, ErrorRatio: 1}
	flat, flatCores := columns([]float64{145, 145, 145}, []float64{147, 147, 147})
	stuck := []bias.Location{location("1", 145, 145), location("2", 146, 146), location("3", 147, 147)}
	for _, tt := range []struct {
		name  string
		gauge []bias.Location
		cores []bias.Core
		o     bias.ModelOptions
		want  error
	}{
		{"nothing", nil, nil, given, stats.ErrTooFew}, {"two", l[:2], c[:2], given, stats.ErrTooFew},
		{"no level", l, c, bias.ModelOptions{ErrorRatio: 1}, stats.ErrLevel},
		{"no ratio", l, c, bias.ModelOptions{Level: 0.95}, stats.ErrParameter},
		{"both", l, c, bias.ModelOptions{Level: 0.95, ErrorRatio: 1, CoreStdDev: units.LbPerFt3.Difference(1)}, stats.ErrParameter},
		{"a NaN ratio", l, c, bias.ModelOptions{Level: 0.95, ErrorRatio: math.NaN()}, stats.ErrParameter},
		{"a negative deviation", l, c, bias.ModelOptions{Level: 0.95, CoreStdDev: units.LbPerFt3.Difference(-1)}, density.ErrNotPositive},
		{"a deviation in another unit", l, c, bias.ModelOptions{Level: 0.95, CoreStdDev: units.KgPerM3.Difference(3)}, density.ErrUnitMismatch},
		{"single readings", l, c, bias.ModelOptions{Level: 0.95, CoreStdDev: units.LbPerFt3.Difference(1)}, stats.ErrTooFew},
		{"readings without scatter", stuck, c, bias.ModelOptions{Level: 0.95, CoreStdDev: units.LbPerFt3.Difference(1)}, stats.ErrNoSpread},
		{"nothing varies", flat, flatCores, given, stats.ErrNoSlope},
	} {
		if m, err := bias.CompareModels(tt.gauge, tt.cores, tt.o); !errors.Is(err, tt.want) || m.N != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	m := compare(t, noisyGauge, noisyCore, 1)
	for _, tt := range []struct {
		m       bias.ModelComparison
		reading density.Reading
		want    error
	}{
		{m, density.Reading{}, units.ErrNotGiven}, {bias.ModelComparison{}, density.Uncorrected(units.LbPerFt3.Of(145)), units.ErrNotGiven},
		{m, density.Uncorrected(units.KgPerM3.Of(2300)), density.ErrUnitMismatch}, {m, density.Uncorrected(units.LbPerFt3.Of(-1)), density.ErrNotPositive},
	} {
		if _, err := tt.m.At(tt.reading); !errors.Is(err, tt.want) {
			t.Errorf("%v: %v, want %v", tt.reading, err, tt.want)
		}
	}
}
