package bias_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Bland and Altman's peak flow meters (Lancet 1986 i 307), two readings of each: the
// numbers stand here for readings of two gauges.
var (
	wright1 = []float64{494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427}
	wright2 = []float64{490, 397, 512, 401, 470, 611, 415, 431, 638, 429, 420, 633, 275, 492, 165, 372, 421}
	mini1   = []float64{512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451}
	mini2   = []float64{525, 415, 508, 444, 500, 625, 460, 390, 642, 432, 420, 605, 227, 467, 268, 370, 443}
)

func meters(columns ...[]float64) (ls []bias.Location) {
	for i := range columns[0] {
		var xs []float64
		for _, c := range columns {
			xs = append(xs, c[i])
		}
		ls = append(ls, location(fmt.Sprint(i+1), xs...))
	}
	return ls
}

func agreementOptions() bias.AgreementOptions {
	return bias.AgreementOptions{Level: 0.95, Coverage: 0.95}
}

// First readings. The paper prints -2.1 and 38.8 and limits of two standard deviations;
// R 4.2.2 with z <- qnorm(.975): mean(d) + c(-1, 1)*z*s and, for the intervals of the
// limits, the roots of pt(q, 16, z*sqrt(17)) at .025 and .975.
func TestCompareGauges(t *testing.T) {
	r, err := bias.CompareGauges(meters(wright1), meters(mini1), agreementOptions())
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		what      string
		got, want float64
	}{
		{"mean", r.Mean, -2.1176470588}, {"sd", r.StdDev, 38.7651298736}, {"interval below", r.CI.Lo, -22.0488376966}, {"above", r.CI.Hi, 17.813543579},
		{"lower limit", r.Limits.Lo, -78.0959054671}, {"upper limit", r.Limits.Hi, 73.8606113495},
		{"upper limit from", r.UpperCI.Lo, 48.8596372991}, {"to", r.UpperCI.Hi, 119.9255041772},
		{"lower limit from", r.LowerCI.Lo, -124.1607982948}, {"to", r.LowerCI.Hi, -53.0949314167},
		{"repeatability of single readings", r.RepeatabilityA.DF, 0}, {"beyond", r.Beyond, 0},
	} {
		if math.Abs(tt.got-tt.want) > 1e-9 {
			t.Errorf("%s %v, want %v", tt.what, tt.got, tt.want)
		}
	}
}

// Laboratories that measured the same cores twice are compared as the meters are; the
// values of R 4.2.2 for both readings stand below.
func TestCompareCores(t *testing.T) {
	a, b := meterCores(wright1, wright2), meterCores(mini1, mini2)
	r, err := bias.CompareCores(a, b, agreementOptions())
	if err != nil || math.Abs(r.Mean+6.02941176471) > 5e-11 || math.Abs(r.StdDev-33.204136879) > 5e-10 || math.Abs(r.RepeatabilityB.StdDev-19.9108306324) > 5e-10 {
		t.Errorf("%+v, %v", r.Estimate, err)
	}
	swapped, err := bias.CompareCores(b, a, agreementOptions())
	if err != nil || swapped.Mean != -r.Mean || swapped.Limits.Hi != -r.Limits.Lo || swapped.RepeatabilityA != r.RepeatabilityB || swapped.Beyond != r.Beyond {
		t.Errorf("swapped %+v, %v", swapped.Estimate, err)
	}
	read := bias.Core{ID: "1", Densities: []density.InPlace{{}}}
	if _, err := bias.CompareCores([]bias.Core{read}, b, agreementOptions()); !errors.Is(err, units.ErrNotGiven) {
		t.Errorf("no density: %v", err)
	}
	if _, err := bias.CompareCores(a, b[:2], agreementOptions()); !errors.Is(err, stats.ErrTooFew) {
		t.Errorf("two in common: %v", err)
	}
}

func meterCores(columns ...[]float64) (cs []bias.Core) {
	for _, l := range meters(columns...) {
		c := bias.Core{ID: l.ID}
		for _, r := range l.Readings {
			c.Densities = append(c.Densities, density.Core(r.Density()))
		}
		cs = append(cs, c)
	}
	return cs
}

// Both readings. R 4.2.2: mean and sd of the differences of means; sqrt(mean((x1-x2)^2)/2)
// for the repeatabilities; beyond by hand √(33.2041² - (15.3067² + 19.9108²)/2) = 28.0561412 (R).
func TestCompareGaugesRepeated(t *testing.T) {
	r, err := bias.CompareGauges(meters(wright1, wright2), meters(mini1, mini2), agreementOptions())
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ got, want, tol float64 }{
		{r.Mean, -6.02941176471, 5e-11}, {r.StdDev, 33.204136879, 5e-10}, {r.RepeatabilityA.StdDev, 15.3066690579, 5e-11},
		{r.RepeatabilityB.StdDev, 19.9108306324, 5e-11}, {r.RepeatabilityB.DF, 17, 0}, {r.Beyond, 28.0561412, 5e-8},
	} {
		if math.Abs(tt.got-tt.want) > tt.tol {
			t.Errorf("%v, want %v", tt.got, tt.want)
		}
	}
}

// Swapping the two turns the signs, and what one of them did not read is listed.
// What lies beyond the repeatabilities grows with the readings, however large they are.
func TestBeyondAtAnyScale(t *testing.T) {
	gauges := func(scale float64) (a, b []bias.Location) {
		return []bias.Location{location("1", scale*1, scale*1.1), location("2", scale*2, scale*2.2), location("3", scale*3, scale*3)},
			[]bias.Location{location("1", scale*2, scale*2.2), location("2", scale*2, scale*2), location("3", scale*5, scale*5.1)}
	}
	a, b := gauges(1)
	want, err := bias.CompareGauges(a, b, agreementOptions())
	if err != nil || !(want.Beyond > 0) {
		t.Fatal(want.Beyond, err)
	}
	for _, scale := range []float64{1e-200, 1e200} {
		a, b = gauges(scale)
		r, err := bias.CompareGauges(a, b, agreementOptions())
		if err != nil || !(math.Abs(r.Beyond/scale/want.Beyond-1) < 1e-12) {
			t.Errorf("times %g: %g, want %g, %v", scale, r.Beyond, want.Beyond*scale, err)
		}
	}
}

func TestCompareGaugesLaws(t *testing.T) {
	a, b := meters(wright1, wright2), meters(mini1, mini2)
	ab, errA := bias.CompareGauges(a, b[1:], agreementOptions())
	ba, errB := bias.CompareGauges(b[1:], a, agreementOptions())
	if err := errors.Join(errA, errB); err != nil {
		t.Fatal(err)
	}
	if ab.Mean != -ba.Mean || ab.Limits.Lo != -ba.Limits.Hi || math.Abs(ab.LowerCI.Lo+ba.UpperCI.Hi) > 1e-12 || ab.Beyond != ba.Beyond {
		t.Errorf("swapped: %+v and %+v", ab.Limits, ba.Limits)
	}
	if len(ab.Unpaired) != 1 || ab.Unpaired[0] != "1" || !has(ab.Warnings, bias.WarnUnpaired) || len(ba.Unpaired) != 1 {
		t.Errorf("unpaired %v, %v", ab.Unpaired, ba.Unpaired)
	}
}

func TestCompareGaugesRefuses(t *testing.T) {
	a := meters(wright1)
	other := []bias.Location{{ID: "1", Readings: []density.Reading{density.Uncorrected(units.KgPerM3.Of(2300))}}}
	for _, tt := range []struct {
		name string
		a, b []bias.Location
		o    bias.AgreementOptions
		want error
	}{
		{"nothing", nil, nil, agreementOptions(), stats.ErrTooFew}, {"two", a[:2], a, agreementOptions(), stats.ErrTooFew},
		{"twice", append(a[:3:3], a[0]), a, agreementOptions(), bias.ErrRepeatedID}, {"no id", a, []bias.Location{location("", 1)}, agreementOptions(), bias.ErrNoID},
		{"no readings", a, []bias.Location{location("1")}, agreementOptions(), stats.ErrTooFew}, {"a NaN", a, []bias.Location{location("1", math.NaN())}, agreementOptions(), units.ErrNotGiven},
		{"another unit", a, other, agreementOptions(), density.ErrUnitMismatch},
		{"level", a, a, bias.AgreementOptions{Level: 95, Coverage: 0.95}, stats.ErrLevel}, {"coverage", a, a, bias.AgreementOptions{Level: 0.95, Coverage: 1}, stats.ErrLevel},
	} {
		if r, err := bias.CompareGauges(tt.a, tt.b, tt.o); !errors.Is(err, tt.want) || r.N != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	// a gauge compared with itself agrees without spread, and says so
	if r, err := bias.CompareGauges(a, a, agreementOptions()); err != nil || r.StdDev != 0 || !has(r.Warnings, stats.WarnConstant) {
		t.Errorf("itself: %+v, %v", r.Warnings, err)
	}
}

func laboratories(rows [][]float64) (labs []bias.Laboratory) {
	for i, row := range rows {
		labs = append(labs, bias.Laboratory{ID: fmt.Sprint(i + 1), Results: row})
	}
	return labs
}

// The study is that of stats, with the ids beside it.
func TestCompareLaboratories(t *testing.T) {
	rows := [][]float64{{2.341, 2.346}, {2.338, 2.344}, {2.352, 2.349}}
	o := stats.InterlaboratoryOptions{Level: 0.95, Alpha: 0.005}
	s, err1 := bias.CompareLaboratories(laboratories(rows), o)
	want, err2 := stats.Interlaboratory(rows, o)
	if diff := cmp.Diff(bias.LaboratoryStudy{InterlaboratoryStudy: want, IDs: []string{"1", "2", "3"}}, s); diff != "" || err1 != nil || err2 != nil {
		t.Error(diff, err1, err2)
	}
}

func TestCompareLaboratoriesRefuses(t *testing.T) {
	three := laboratories([][]float64{{1, 2}, {2, 3}, {3, 4}})
	for _, tt := range []struct {
		name  string
		labs  []bias.Laboratory
		alpha float64
		want  error
	}{
		{"nothing", nil, 0.005, stats.ErrTooFew}, {"two", three[:2], 0.005, stats.ErrTooFew},
		{"one result", laboratories([][]float64{{1}, {2}, {3}}), 0.005, stats.ErrTooFew},
		{"unequal", append(three[:2:2], bias.Laboratory{ID: "3", Results: []float64{1, 2, 3}}), 0.005, stats.ErrLength},
		{"twice", append(three[:2:2], three[0]), 0.005, bias.ErrRepeatedID}, {"no id", append(three[:2:2], bias.Laboratory{Results: []float64{1, 2}}), 0.005, bias.ErrNoID},
		{"a NaN", laboratories([][]float64{{1, 2}, {2, math.NaN()}, {3, 4}}), 0.005, stats.ErrNotFinite},
		{"too large", laboratories([][]float64{{1, 2}, {2, 3}, {-1.7e308, 1.7e308}}), 0.005, stats.ErrOverflow},
		{"alpha", three, 5, stats.ErrLevel}, {"alpha NaN", three, math.NaN(), stats.ErrLevel},
	} {
		if s, err := bias.CompareLaboratories(tt.labs, stats.InterlaboratoryOptions{Level: 0.95, Alpha: tt.alpha}); !errors.Is(err, tt.want) || !strings.HasPrefix(err.Error(), "bias.CompareLaboratories: ") || s.Laboratories != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}
