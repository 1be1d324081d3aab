package lot_test

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"testing"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// gaugeError is an invented error of gauge results, in percent compaction.
func gaugeError() lot.MeasurementError {
	return lot.MeasurementError{
		Common: []lot.Component{
			{Source: "offset of the gauge", StdErr: 0.24, DF: 9},
			{Source: "Gmm of the day", StdErr: 0.13, DF: 20}},
		Repeatability: lot.Component{Source: "repeatability", StdErr: 0.32, DF: 30}}
}

var fiveSublots = []float64{94.2, 92.5, 93.4, 91.9, 93.8} // invented; mean 93.16, variance 0.893 by hand

func TestWithinMeasured(t *testing.T) {
	m, err := lot.WithinMeasured(fiveSublots, lot.Between(92, 97), 0.9, gaugeError())
	plain, err2 := lot.WithinInterval(fiveSublots, lot.Between(92, 97), 0.9)
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	if !reflect.DeepEqual(m.AsComputed, plain) {
		t.Errorf("as computed %+v, alone %+v", m.AsComputed, plain)
	}
	left := math.Sqrt(0.893 - 0.32*0.32)
	lower, err := lot.PercentWithin((93.16-92)/left, 5)
	upper, err2 := lot.PercentWithin((97-93.16)/left, 5)
	if err != nil || err2 != nil || !m.CorrectedKnown || math.Abs(m.Corrected.StdDev-left) > 1e-12 || math.Abs(m.Corrected.PWL-(lower+upper-100)) > 1e-9 {
		t.Errorf("corrected %+v, want %v", m.Corrected, lower+upper-100)
	}
	if !(m.CI.Lo < m.CI.Hi && m.Corrected.PWL > m.AsComputed.PWL) {
		t.Errorf("%+v", m)
	}
}

// The standard errors of the mean and their shares, by hand: √((0.893-0.1024)/5),
// 0.32/√5, 0.24 and 0.13, whose squares are 0.15812, 0.02048, 0.0576 and 0.0169,
// together 0.2531.
func TestWithinMeasuredBudget(t *testing.T) {
	m, err := lot.WithinMeasured(fiveSublots, lot.Between(92, 97), 0.9, gaugeError())
	if err != nil || len(m.Budget) != 4 {
		t.Fatal(m.Budget, err)
	}
	for i, want := range []struct{ stdErr, share float64 }{
		{math.Sqrt(0.15812), 0.15812 / 0.2531}, {0.32 / math.Sqrt(5), 0.02048 / 0.2531}, {0.24, 0.0576 / 0.2531}, {0.13, 0.0169 / 0.2531}} {
		b := m.Budget[i]
		if math.Abs(b.StdErr-want.stdErr) > 1e-12 || math.Abs(b.Share-want.share) > 1e-12 {
			t.Errorf("%+v, want %+v", b, want)
		}
		if width := b.Halved.Hi - b.Halved.Lo; !(width > 0 && width < m.CI.Hi-m.CI.Lo) {
			t.Errorf("%s halved: %+v, from %+v", b.Source, b.Halved, m.CI)
		}
	}
}

// stretched returns count results with the mean of the five sublots and factor times
// their standard deviation.
func stretched(count int, factor float64) []float64 {
	factor *= math.Sqrt(float64(count-1) / float64(count) * 5 / 4)
	xs := make([]float64, count)
	for i := range xs {
		xs[i] = 93.16 + factor*(fiveSublots[i%5]-93.16)
	}
	return xs
}

// A source halved is what results that have it halved say: four times the results
// with the same spread, results without three quarters of the variance of
// repeatability, half the common error.
func TestWithinMeasuredHalves(t *testing.T) {
	whole, offset, fine := gaugeError(), gaugeError(), gaugeError()
	offset.Common[0].StdErr /= 2
	fine.Repeatability.StdErr /= 2
	quieter := math.Sqrt((0.893 - 0.75*0.32*0.32) / 0.893)
	for _, l := range []lot.Limits{lot.AtLeast(92), lot.Between(92, 97)} {
		m, err := lot.WithinMeasured(fiveSublots, l, 0.9, whole)
		if err != nil {
			t.Fatal(err)
		}
		for i, again := range []struct {
			xs []float64
			e  lot.MeasurementError
		}{{stretched(20, 1), whole}, {stretched(5, quieter), fine}, {fiveSublots, offset}} {
			h, err := lot.WithinMeasured(again.xs, l, 0.9, again.e)
			if got := m.Budget[i].Halved; err != nil || math.Abs(got.Lo-h.CI.Lo) > 1e-6 || math.Abs(got.Hi-h.CI.Hi) > 1e-6 {
				t.Errorf("%v: %+v, %+v, %v", l, m.Budget[i], h.CI, err)
			}
		}
	}
}

// No error is no change; a vanishing one hardly any; more common error widens.
func TestWithinMeasuredLaws(t *testing.T) {
	for _, l := range []lot.Limits{lot.AtMost(94), lot.Between(92, 97)} {
		plain, err := lot.WithinInterval(fiveSublots, l, 0.9)
		none, err2 := lot.WithinMeasured(fiveSublots, l, 0.9, lot.MeasurementError{})
		if err != nil || err2 != nil || none.CI != plain.CI || none.Budget != nil || none.Corrected.PWL != plain.PWL {
			t.Errorf("%v: %+v, %+v, %v, %v", l, plain, none, err, err2)
		}
		tiny := lot.MeasurementError{Common: []lot.Component{{StdErr: 1e-6, DF: 5}}, Repeatability: lot.Component{StdErr: 1e-6, DF: 5}}
		little, err := lot.WithinMeasured(fiveSublots, l, 0.9, tiny)
		if err != nil || math.Abs(little.CI.Lo-plain.CI.Lo) > 1e-3 || math.Abs(little.CI.Hi-plain.CI.Hi) > 1e-3 {
			t.Errorf("%v: %+v, %+v, %v", l, plain.CI, little.CI, err)
		}
		last := plain.CI
		for _, u := range []float64{0.3, 0.6, 1.2} {
			m, err := lot.WithinMeasured(fiveSublots, l, 0.9, lot.MeasurementError{Common: []lot.Component{{StdErr: u, DF: 9}}})
			if err != nil || !(m.CI.Lo < last.Lo && m.CI.Hi > last.Hi-0.01) {
				t.Errorf("%v, common error %v: %+v after %+v, %v", l, u, m.CI, last, err)
			}
			last = m.CI
		}
	}
}

// A higher level contains a lower one; mirrored, moved and scaled results have the
// same interval.
func TestWithinMeasuredEquivariance(t *testing.T) {
	for i, xs := range someLots(3, 4) {
		e := gaugeError()
		e.Common[0].DF = []float64{1, 9, math.Inf(1)}[i%3]
		e.Repeatability.StdErr *= float64(i % 4)
		last := stats.Interval{Lo: 100, Hi: 0}
		var at90 stats.Interval
		for _, level := range []float64{0.5, 0.9, 0.999} {
			m, err := lot.WithinMeasured(xs, lot.Between(92, 97), level, e)
			if err != nil || m.CI.Lo > last.Lo || m.CI.Hi < last.Hi {
				t.Errorf("%v at %v: %+v after %+v, %v", xs, level, m.CI, last, err)
			}
			if last = m.CI; level == 0.9 {
				at90 = m.CI
			}
		}
		for _, way := range []struct{ factor, shift float64 }{{-1, 0}, {1024, 0}, {1, 512}, {1e-6, 0}} {
			moved, larger := make([]float64, len(xs)), e
			larger.Common = append([]lot.Component(nil), e.Common...)
			for j, x := range xs {
				moved[j] = way.factor*x + way.shift
			}
			for j := range larger.Common {
				larger.Common[j].StdErr *= math.Abs(way.factor)
			}
			larger.Repeatability.StdErr *= math.Abs(way.factor)
			lower, upper := way.factor*92+way.shift, way.factor*97+way.shift
			m, err := lot.WithinMeasured(moved, lot.Between(min(lower, upper), max(lower, upper)), 0.9, larger)
			if err != nil || math.Abs(m.CI.Lo-at90.Lo) > 1e-5 || math.Abs(m.CI.Hi-at90.Hi) > 1e-5 {
				t.Errorf("%v by %+v: %+v, was %+v, %v", xs, way, m.CI, at90, err)
			}
		}
	}
}

// A repeatability that is itself in doubt does not make a lot certain by being larger
// than the spread.
func TestWithinMeasuredDoubtsRepeatability(t *testing.T) {
	for _, df := range []float64{3, 10, 30} {
		e := lot.MeasurementError{Repeatability: lot.Component{StdErr: 2, DF: df}}
		m, err := lot.WithinMeasured(fiveSublots, lot.Between(92, 97), 0.9, e)
		if err != nil || m.CI.Lo > 95 {
			t.Errorf("%v degrees of freedom: %+v, %v", df, m.CI, err)
		}
	}
}

// Results that vary less than the gauge repeats leave no estimate of the lot's own
// spread, and still an interval.
func TestWithinMeasuredWithNothingLeft(t *testing.T) {
	e := lot.MeasurementError{Repeatability: lot.Component{Source: "repeatability", StdErr: 1.2, DF: 20}}
	m, err := lot.WithinMeasured(fiveSublots, lot.Between(92, 97), 0.9, e)
	if err != nil || m.CorrectedKnown || m.Corrected.PWL != 0 || m.Corrected.StdDev != 0 || !has(m.Warnings, lot.WarnRepeatabilityExceedsSpread) {
		t.Errorf("%+v, %v", m, err)
	}
	if !(m.CI.Lo > 0 && m.CI.Lo < m.CI.Hi && m.CI.Hi <= 100) || m.CI.Lo < m.AsComputed.CI.Lo {
		t.Errorf("%+v, %v", m.CI, m.AsComputed.CI)
	}
	if m.Budget[0].StdErr != 0 || m.Budget[0].Share != 0 || m.Budget[1].Share != 1 {
		t.Errorf("%+v", m.Budget)
	}
	equal, err := lot.WithinMeasured([]float64{93, 93, 93}, lot.AtLeast(92), 0.9, e)
	if err != nil || equal.CI != (stats.Interval{Lo: 0, Hi: 100, Level: 0.9}) || equal.CorrectedKnown || !has(equal.AsComputed.Warnings, lot.WarnNothingKnown) {
		t.Errorf("%+v, %v", equal, err)
	}
}

func TestWithinMeasuredRefuses(t *testing.T) {
	ok := lot.Component{StdErr: 0.2, DF: 9}
	for _, tt := range []struct {
		name string
		xs   []float64
		e    lot.MeasurementError
		want error
	}{
		{"two results", fiveSublots[:2], gaugeError(), stats.ErrTooFew},
		{"a NaN", []float64{93, math.NaN(), 94}, gaugeError(), stats.ErrNotFinite},
		{"negative repeatability", fiveSublots, lot.MeasurementError{Repeatability: lot.Component{StdErr: -0.2, DF: 9}}, lot.ErrNegative},
		{"NaN", fiveSublots, lot.MeasurementError{Repeatability: lot.Component{StdErr: math.NaN(), DF: 9}}, stats.ErrNotFinite},
		{"infinite", fiveSublots, lot.MeasurementError{Common: []lot.Component{ok, {StdErr: math.Inf(1), DF: 9}}}, stats.ErrNotFinite},
		{"NaN degrees of freedom", fiveSublots, lot.MeasurementError{Common: []lot.Component{{StdErr: 1, DF: math.NaN()}}}, stats.ErrNotFinite},
		{"no degrees of freedom", fiveSublots, lot.MeasurementError{Common: []lot.Component{ok, {StdErr: 0.2}}}, lot.ErrOutOfDomain},
		{"half a degree of freedom", fiveSublots, lot.MeasurementError{Repeatability: lot.Component{StdErr: 0.2, DF: 0.5}}, lot.ErrOutOfDomain},
	} {
		m, err := lot.WithinMeasured(tt.xs, lot.AtLeast(92), 0.9, tt.e)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Func != "lot.WithinMeasured" || m.AsComputed.N != 0 {
			t.Errorf("%s: %+v, %v; want %v", tt.name, m, err, tt.want)
		}
	}
	if _, err := lot.WithinMeasured(fiveSublots, lot.Limits{}, 0.9, gaugeError()); !errors.Is(err, lot.ErrNoLimit) {
		t.Error(err)
	}
	for _, level := range []float64{90, 0, math.NaN(), 0.99999} {
		if _, err := lot.WithinMeasured(fiveSublots, lot.AtLeast(92), level, gaugeError()); !errors.Is(err, stats.ErrLevel) {
			t.Errorf("level %v: %v", level, err)
		}
	}
}

// Errors of any size and shape give numbers in order.
func TestWithinMeasuredOfAnything(t *testing.T) {
	for _, c := range []lot.Component{{StdErr: 1e-300, DF: 1}, {StdErr: 2, DF: 1}, {StdErr: 1e300, DF: math.Inf(1)}, {StdErr: 0.3, DF: 1e300}} {
		for _, e := range []lot.MeasurementError{{Common: []lot.Component{c}}, {Repeatability: c}} {
			m, err := lot.WithinMeasured(fiveSublots, lot.Between(92, 97), 0.9, e)
			if err != nil || !(m.CI.Lo >= 0 && m.CI.Lo <= m.CI.Hi && m.CI.Hi <= 100) {
				t.Errorf("%+v: %+v, %v", e, m.CI, err)
			}
		}
	}
}

func ExampleWithinMeasured() {
	// Five invented sublots read with a gauge, in percent of maximum theoretical
	// density, and what is known of the errors in them.
	m, err := lot.WithinMeasured([]float64{94.2, 92.5, 93.4, 91.9, 93.8}, lot.Between(92.0, 97.0), 0.90, lot.MeasurementError{
		Common: []lot.Component{
			{Source: "offset of the gauge", StdErr: 0.24, DF: 9},
			{Source: "Gmm of the day", StdErr: 0.13, DF: 20}},
		Repeatability: lot.Component{Source: "repeatability of a result", StdErr: 0.32, DF: 30}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("as computed  PWL %.1f, %.0f to %.0f\n", m.AsComputed.PWL, m.AsComputed.CI.Lo, m.AsComputed.CI.Hi)
	fmt.Printf("corrected    PWL %.1f, %.0f to %.0f\n", m.Corrected.PWL, m.CI.Lo, m.CI.Hi)
	for _, b := range m.Budget {
		fmt.Println(b)
	}
	// Output:
	// as computed  PWL 90.0, 57 to 99
	// corrected    PWL 91.9, 56 to 100
	// the lot, sampled: 0.398, 62 % of the variance of the mean; with four times the sublots 71.9 to 98.5
	// repeatability of a result: 0.143, 8 % of the variance of the mean; with four times the readings in each result 56.8 to 99.5
	// offset of the gauge: 0.24, 23 % of the variance of the mean; with some four times the cores or tests behind it 56.8 to 99.6
	// Gmm of the day: 0.13, 7 % of the variance of the mean; with some four times the cores or tests behind it 55.9 to 99.7
}

func ExampleContribution() {
	// Twenty invented results with the mean and the standard deviation of five, in percent
	// of maximum theoretical density.
	five := []float64{94.2, 92.5, 93.4, 91.9, 93.8}
	var xs []float64
	for range 4 {
		for _, x := range five {
			xs = append(xs, 93.16+math.Sqrt(19./16)*(x-93.16))
		}
	}
	m, err := lot.WithinMeasured(xs, lot.Between(92.0, 97.0), 0.90, lot.MeasurementError{
		Common: []lot.Component{
			{Source: "offset of the gauge", StdErr: 0.24, DF: 9},
			{Source: "Gmm of the day", StdErr: 0.13, DF: 20}},
		Repeatability: lot.Component{Source: "repeatability of a result", StdErr: 0.32, DF: 30}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d results, standard deviation %.3f %%\n", m.AsComputed.N, m.AsComputed.StdDev)
	for _, b := range m.Budget {
		fmt.Printf("%s: %.0f %%\n", b.Source, 100*b.Share)
	}
	// Output:
	// 20 results, standard deviation 0.945 %
	// the lot, sampled: 33 %
	// repeatability of a result: 4 %
	// offset of the gauge: 48 %
	// Gmm of the day: 14 %
}

func ExampleMeasurementError_Validate() {
	e := lot.MeasurementError{Common: []lot.Component{{Source: "offset of the gauge", StdErr: 0.24}}}
	fmt.Println(e.Validate())
	// Output: lot.MeasurementError.Validate: e.Common[0] = offset of the gauge: 0.24 with 0 degrees of freedom: out of range; the degrees of freedom are at least 1, infinite where the standard error is certain
}
