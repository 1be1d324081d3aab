package lot

import (
	"fmt"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// farAlpha is the two-sided significance at which a result is named as making
// much of the spread. It steers a warning, never a number.
const farAlpha = 0.05

// diagnose adds what a person should look at. It changes no number.
func (e *Evaluation) diagnose(fn string, p Plan, l Lot, values []*big.Rat, pwl real) error {
	floats := make([]float64, len(values))
	for i, v := range values {
		floats[i], _ = v.Float64()
	}
	e.warnRounding(fn, p, values, pwl)
	if e.constant() {
		return nil
	}
	if gap, err := stats.LargestGap(floats); err == nil && gap.SplitsInTwo(e.StdDev.Exact) {
		e.warn(WarnTwoGroups, "", "a gap from %g to %g parts the results in %d and %d; %d of %d are within the limits, and the estimate assumes one normal population",
			gap.Lo, gap.Hi, gap.Below, gap.Above, e.WithinCount, e.N)
	}
	if err := e.screen(p, l, values, floats); err != nil {
		return inName(fn, err)
	}
	if e.Screen == nil || !e.Screen.Outlier {
		e.warnFar(p, l, values, floats)
	}
	return nil
}

func (e *Evaluation) constant() bool { return e.StdDev.Exact == 0 }

func (e *Evaluation) warn(code stats.WarningCode, where, format string, args ...any) {
	e.Warnings = append(e.Warnings, stats.Warning{Code: code, Where: where, Text: fmt.Sprintf(format, args...)})
}

// warnRounding looks whether the plan's rounding of intermediate values moved the
// lot to another row of the schedule.
func (e *Evaluation) warnRounding(fn string, p Plan, values []*big.Rat, pwl real) {
	none := units.Rounding{Method: units.Absolute}
	if r := p.terms.Rounding; r.Mean.Method == none.Method && r.StdDev.Method == none.Method && r.Q.Method == none.Method && r.PWL.Method == none.Method {
		return
	}
	est, err := estimateExact(fn, values, p.terms.Limits, RoundingPolicy{Mean: none, StdDev: none, Q: none, PWL: none}, nil)
	if err != nil {
		return
	}
	exact, err := p.terms.Schedule.row(fn, est.pwl)
	if err != nil {
		return
	}
	used, err := p.terms.Schedule.row(fn, pwl)
	if err == nil && exact != used {
		e.warn(WarnRounding, "", "the pay row depends on rounding: without it PWL is %s, with it %s", est.pwlNumber.Used, e.PWL.Used)
	}
}

// screen runs the outlier test of the plan.
func (e *Evaluation) screen(p Plan, l Lot, values []*big.Rat, floats []float64) error {
	o := p.terms.Outlier
	if o == nil {
		return nil
	}
	if len(floats) < o.MinN {
		e.warn(WarnScreenSkipped, "", "%d results are too few for the outlier screen, which the plan starts at %d", len(floats), o.MinN)
		return nil
	}
	r, err := stats.Grubbs(floats, o.Side, o.Alpha)
	if err != nil {
		return err
	}
	e.Screen = &r
	e.Warnings = append(e.Warnings, r.Warnings...)
	if r.Outlier {
		e.WithoutResult = p.without(values, r.Index)
		e.warn(WarnOutlier, l.Results[r.Index].ID, "%s is flagged (G = %.3f, critical %.3f, %s, alpha %g) and kept%s; find the cause before anything is removed",
			digits(l.Results[r.Index].Value), r.G, r.Critical, r.Side, r.Alpha, withoutText(e.WithoutResult))
	}
	return nil
}

// warnFar names a result that makes much of the spread, whatever the screen of
// the plan looks at: a high result lowers the estimate for a lower limit.
func (e *Evaluation) warnFar(p Plan, l Lot, values []*big.Rat, floats []float64) {
	r, err := stats.Grubbs(floats, stats.TwoSide, farAlpha)
	if err != nil || !r.Outlier {
		return
	}
	e.warn(WarnFarResult, l.Results[r.Index].ID, "%s is far from the others and makes much of the standard deviation, which lowers PWL even where the result is good%s",
		digits(l.Results[r.Index].Value), withoutText(p.without(values, r.Index)))
}

// without returns PWL without one result; nil if fewer than 3 are left.
func (p Plan) without(values []*big.Rat, index int) *Number {
	if len(values) < 4 {
		return nil
	}
	rest := append(append([]*big.Rat(nil), values[:index]...), values[index+1:]...)
	est, err := estimateExact("", rest, p.terms.Limits, p.terms.Rounding, nil)
	if err != nil {
		return nil
	}
	return &est.pwlNumber
}

func withoutText(n *Number) string {
	if n == nil {
		return ""
	}
	return "; PWL without it would be " + n.Used
}
