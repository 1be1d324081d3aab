package stats

import (
	"fmt"
	"math"
)

// Calibration is the x that belongs to an observed y, read off a fitted line.
type Calibration struct {
	X        float64
	StdErr   float64 // of X by the delta method
	Readings int     // of which the y was the mean
	DF       float64 // of the residual
	G        float64 // (t·StdErr/b₁)² of the slope; below 1 the slope differs from 0
	CI       ConfidenceSet
	Method   CalibrationMethod
	Warnings []Warning
}

// CalibrationMethod names how the set of a [Calibration] was found. The zero value
// is no method and is refused.
type CalibrationMethod int

// The methods of a calibration.
const (
	// Fieller is exact under the assumptions of [FitLine] with normal errors.
	Fieller CalibrationMethod = iota + 1
	// Wald is x ± t·StdErr, always finite. It held a nominal 95 % in simulation with a
	// slope of 20 standard errors at n = 3, 5, 10 and 30; with one of 2 it held 96, 97, 97
	// and 99 %, at a length that comes from chance in the slope: judge by G.
	Wald
)

// String returns "Fieller" or "Wald".
func (m CalibrationMethod) String() string {
	switch m {
	case Fieller:
		return "Fieller"
	case Wald:
		return "Wald"
	}
	return fmt.Sprintf("CalibrationMethod(%d)", int(m))
}

// CalibrationOptions sets how [LineFit.Calibrate] works. All fields are required.
type CalibrationOptions struct {
	Readings int // of which y is the mean, at least 1
	Level    float64
	Method   CalibrationMethod
}

// Calibrate returns the x at which the line passes through y, the mean of new
// readings at one unknown x, and the set of x that y does not exclude. With
// d = x-x̄ and D = y-b₀-b₁x̄, Fieller's set holds every x with
//
//	(D - b₁d)² ≤ t²s²·(1/m + 1/n + d²/Σ(x-x̄)²),   t = t(1-α/2; ν)
//
// and Wald's is x ± t·(s/|b₁|)·√(1/m + 1/n + d²/Σ(x-x̄)²). Through the origin x̄ is 0
// and 1/n is left out. The residual of the line, ν degrees of freedom, stands for
// the spread of the m new readings too; theirs is not asked for.
//
// Where the slope does not differ from 0 at the level (G ≥ 1) Fieller's set is no
// interval: it is [Outside] or [Everything], and Warnings holds [WarnUnbounded].
// An X outside the data is warned of with [WarnExtrapolation].
//
// Errors are [*InputError] around [ErrTooFew] (a zero LineFit, Readings below 1),
// [ErrNotFinite], [ErrLevel], [ErrParameter], [ErrNoSlope] for a slope of 0, or
// [ErrOverflow].
//
// Source: N. R. Draper and H. Smith, Applied Regression Analysis, 3rd edition,
// Wiley 1998, section 3.2. E. C. Fieller, Some problems in interval estimation,
// Journal of the Royal Statistical Society B 16 (1954) 175-185.
func (f LineFit) Calibrate(y float64, o CalibrationOptions) (Calibration, error) {
	const fn = "stats.LineFit.Calibrate"
	if err := f.checkCalibration(fn, y, o); err != nil {
		return Calibration{}, err
	}
	c := Calibration{Readings: o.Readings, DF: float64(f.Residual.DF), Method: o.Method}
	t := newStudentT(c.DF).upperQuantile((1 - o.Level) / 2)
	d := (y - f.At(f.MeanX)) / f.Slope.Value
	c.X = f.MeanX + d
	own := 1 / float64(o.Readings) // the part of the variance that is the same at every x
	if !f.throughOrigin() {
		own += 1 / float64(f.N)
	}
	c.StdErr = f.ResidualSD / math.Abs(f.Slope.Value) * math.Hypot(math.Sqrt(own), d/math.Sqrt(f.SXX))
	c.G = square(t * f.Slope.StdErr / f.Slope.Value)
	c.CI = ConfidenceSet{Shape: Between, Interval: Interval{Lo: c.X - t*c.StdErr, Hi: c.X + t*c.StdErr, Level: o.Level}}
	if o.Method == Fieller {
		c.CI = f.fieller(d, t*f.ResidualSD/f.Slope.Value, own, c.G, o.Level)
	}
	if !areFinite(c.X, c.StdErr, c.G, c.CI.Lo, c.CI.Hi) {
		return Calibration{}, Refuse(fn, "y", text(y), ErrOverflow)
	}
	c.Warnings = f.calibrationWarnings(c)
	return c, nil
}

// fieller solves (d₀ - d)² ≤ w²·(own + d²/Sxx) for d, with w = t·s/b₁ and so
// g = w²/Sxx: the roots are (d₀ ± |w|·√(own·(1-g) + d₀²/Sxx))/(1-g).
func (f LineFit) fieller(d0, w, own, g, level float64) ConfidenceSet {
	inside := own*(1-g) + square(d0)/f.SXX
	if g == 1 || inside < 0 { // at g = 1 the set is a ray; everything covers it
		return ConfidenceSet{Shape: Everything, Interval: Interval{Level: level}}
	}
	reach := math.Abs(w) * math.Sqrt(inside)
	a, b := f.MeanX+(d0-reach)/(1-g), f.MeanX+(d0+reach)/(1-g)
	set := ConfidenceSet{Shape: Between, Interval: Interval{Lo: min(a, b), Hi: max(a, b), Level: level}}
	if g > 1 {
		set.Shape = Outside
	}
	return set
}

func square(x float64) float64 { return x * x }

func (f LineFit) calibrationWarnings(c Calibration) (ws []Warning) {
	if c.G >= 1 {
		ws = append(ws, Warning{Code: WarnUnbounded,
			Text: "the slope can't be told from 0 at this level, so y says little about x; more points or a wider range of x would help"})
	}
	if c.X < f.MinX || c.X > f.MaxX {
		ws = append(ws, Warning{Code: WarnExtrapolation, Text: fmt.Sprintf("the data lie between %v and %v", f.MinX, f.MaxX), Where: text(c.X)})
	}
	return ws
}

func (f LineFit) checkCalibration(fn string, y float64, o CalibrationOptions) error {
	if err := f.check(fn); err != nil {
		return err
	}
	switch {
	case f.Slope.Value == 0:
		return Refuse(fn, "f.Slope", "0", ErrNoSlope)
	case !isFinite(y):
		return Refuse(fn, "y", text(y), ErrNotFinite)
	case o.Readings < 1:
		return tooFew(fn, "o.Readings", o.Readings, 1)
	case o.Method != Fieller && o.Method != Wald:
		return outOfRange(fn, "o.Method", o.Method.String(), "Fieller or Wald")
	}
	return checkFraction(fn, "o.Level", o.Level)
}
