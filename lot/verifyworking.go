package lot

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// explain writes the working of a verification.
func (v *Verification) explain() {
	v.explainSamples()
	if v.Variances != nil {
		v.explainVariances(*v.Variances)
	}
	v.explainMeans()
	switch {
	case v.T != nil:
		v.step("test of the means", "t = difference/standard error", fmt.Sprintf("%.6g/%.6g", v.Means.Difference, v.Means.StdErr),
			fmt.Sprintf("%.6g, p = %.4g, %s %g", v.T.Value, v.T.P, against(v.T.P, v.Terms.MeanAlpha), v.Terms.MeanAlpha))
	case v.Equivalence != nil && v.Equivalence.AboveLower != nil:
		v.explainMargin("above the lower margin", v.Equivalence.Margins.Lower, *v.Equivalence.AboveLower)
		v.explainMargin("below the upper margin", v.Equivalence.Margins.Upper, *v.Equivalence.BelowUpper)
	}
}

func (v *Verification) step(what, formula, numbers, value string) {
	v.Working = append(v.Working, units.Step{What: what, Formula: formula, Numbers: numbers, Value: value, Rounded: value})
}

func (v *Verification) explainSamples() {
	for _, side := range []struct {
		name string
		stats.Summary
	}{{"contractor", v.Means.X}, {"agency", v.Means.Y}} {
		value := fmt.Sprintf("%.6g %s, n = %d", side.Mean, v.Terms.Unit, side.N)
		if side.N > 1 {
			value += fmt.Sprintf(", s = %.6g", side.StdDev)
		}
		v.step("mean of the "+side.name, "Σx/n", "", value)
	}
}

func (v *Verification) explainVariances(f stats.FTest) {
	if f.F == nil {
		v.step("test of the variances", "", "", "not made: "+f.Status.String())
		return
	}
	top, below := f.X.StdDev, f.Y.StdDev
	if !f.XLarger {
		top, below = below, top
	}
	v.step("test of the variances", "F = larger s²/smaller s²", fmt.Sprintf("%.6g²/%.6g²", top, below),
		fmt.Sprintf("%.6g, %g and %g degrees of freedom, p = %.4g, %s %g", f.F.Value, f.DF1, f.DF2, f.F.P, against(f.F.P, v.Terms.VarianceAlpha), v.Terms.VarianceAlpha))
}

func (v *Verification) explainMeans() {
	c := v.Means
	n, m := float64(c.X.N), float64(c.Y.N)
	v.step("difference of the means", "contractor - agency", fmt.Sprintf("%.6g - %.6g", c.X.Mean, c.Y.Mean),
		fmt.Sprintf("%.6g, %g%% interval %.6g to %.6g", c.Difference, percent(c.CI.Level), c.CI.Lo, c.CI.Hi))
	var formula, numbers string
	switch c.Design {
	case stats.DesignPaired:
		formula, numbers = "s of the differences/√n", fmt.Sprintf("%.6g/√%g", c.StdDev, n)
	case stats.DesignPooled:
		formula, numbers = "pooled s·√(1/n + 1/m)", fmt.Sprintf("%.6g x √(1/%g + 1/%g)", c.StdDev, n, m)
	case stats.DesignWelch:
		formula, numbers = "√(s1²/n + s2²/m)", fmt.Sprintf("√(%.6g²/%g + %.6g²/%g)", c.X.StdDev, n, c.Y.StdDev, m)
	}
	v.step("standard error, "+c.Design.String(), formula, numbers, fmt.Sprintf("%.6g, %.6g degrees of freedom", c.StdErr, c.DF))
}

func (v *Verification) explainMargin(what string, margin float64, s stats.Statistic) {
	v.step(what, "t = (difference - margin)/standard error", fmt.Sprintf("(%.6g - %.6g)/%.6g", v.Means.Difference, margin, v.Means.StdErr),
		fmt.Sprintf("%.6g, p = %.4g, %s %g", s.Value, s.P, against(s.P, v.Terms.MeanAlpha), v.Terms.MeanAlpha))
}

// against says how p stands to a significance.
func against(p, alpha float64) string {
	if p <= alpha {
		return "at most"
	}
	return "above"
}

// percent takes the noise of 1 - alpha off a level.
func percent(level float64) float64 { return math.Round(1e12*level) / 1e10 }
