package stats

import (
	"errors"
	"math"
	"testing"
)

func calibrate(t *testing.T, f LineFit, y float64, o CalibrationOptions) Calibration {
	t.Helper()
	c, err := f.Calibrate(y, o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// g by testdata/regression.R; the printed limits are in testdata/statistics.csv.
func TestFiellerThermostat(t *testing.T) {
	fit, err := FitLine([]float64{96, 98, 100, 102, 104, 106, 108, 110}, []float64{95.71, 98.16, 99.52, 102.09, 103.79, 106.18, 108.14, 110.21})
	if err != nil {
		t.Fatal(err)
	}
	a := calibrate(t, fit, 104, CalibrationOptions{Readings: 1, Level: 0.95, Method: Fieller})
	checkPrintedFigures(t,
		printedFigure{"g", a.G, 0.00184560609956, 5e-15},
	)
}

// Expected values: R 4.2.2, roots of the pivot
// (y - b0 - b1*X)^2/(s^2*(1/m + 1/n + (X - mean(x))^2/Sxx)) - qt(.975, df)^2, which
// for y = 6 is above 0 between them and for y = 2 nowhere.
func TestFiellerWithoutInterval(t *testing.T) {
	fit, err := FitLine([]float64{1, 2, 3, 4, 5}, []float64{2.0, 1.1, 2.6, 1.4, 2.5})
	if err != nil {
		t.Fatal(err)
	}
	o := CalibrationOptions{Readings: 1, Level: 0.95, Method: Fieller}
	far := calibrate(t, fit, 6, o)
	checkFigures(t, 1e-12, figure{"lower", far.CI.Lo, -2.60063815924758}, figure{"upper", far.CI.Hi, 6.54549543600582})
	near := calibrate(t, fit, 2, o)
	if far.CI.Shape != Outside || far.CI.Contains(3) || !far.CI.Contains(100) || near.CI.Shape != Everything {
		t.Errorf("%+v, %+v", far, near)
	}
	if far.Warnings[0].Code != WarnUnbounded || far.Warnings[1].Code != WarnExtrapolation || near.Warnings[0].Code != WarnUnbounded {
		t.Errorf("warnings %v, %v", far.Warnings, near.Warnings)
	}
}

// Expected values: R 4.2.2, as above without 1/n and about 0, two readings, y = 145.
func TestFiellerThroughOrigin(t *testing.T) {
	fit, err := FitLineThroughOrigin(tm8Gauge, tm8Core)
	if err != nil {
		t.Fatal(err)
	}
	c := calibrate(t, fit, 145, CalibrationOptions{Readings: 2, Level: 0.95, Method: Fieller})
	checkFigures(t, 1e-12, figure{"lower", c.CI.Lo, 141.933370037592}, figure{"upper", c.CI.Hi, 143.789687876498})
}

func TestCalibrationRefuses(t *testing.T) {
	fit, err := FitLine(tm8Gauge, tm8Core)
	flat, err2 := FitLine([]float64{1, 2, 3}, []float64{1, 0, 1})
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	good := CalibrationOptions{Readings: 1, Level: 0.95, Method: Fieller}
	take := func(f LineFit, y float64, o CalibrationOptions) error { _, err := f.Calibrate(y, o); return err }
	tests := []struct {
		name      string
		err, want error
	}{
		{"zero fit", take(LineFit{}, 1, good), ErrTooFew},
		{"NaN", take(fit, math.NaN(), good), ErrNotFinite},
		{"no readings", take(fit, 1, CalibrationOptions{Level: 0.95, Method: Wald}), ErrTooFew},
		{"no method", take(fit, 1, CalibrationOptions{Readings: 1, Level: 0.95}), ErrParameter},
		{"no level", take(fit, 1, CalibrationOptions{Readings: 1, Method: Wald}), ErrLevel},
		{"a level line", take(flat, 1, good), ErrNoSlope},
		{"y at the end of the range", take(fit, math.MaxFloat64, good), ErrOverflow},
	}
	for _, tt := range tests {
		var input *InputError
		if !errors.Is(tt.err, tt.want) || !errors.As(tt.err, &input) {
			t.Errorf("%s: error %v, want %v", tt.name, tt.err, tt.want)
		}
	}
}
