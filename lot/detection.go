package lot

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"github.com/densilot/densilot/stats"
)

// mostEnough is beyond every number of results that a detection names.
const mostEnough = 1_000_000_000

// Detection says what a comparison could have shown, if the standard deviations
// seen are the true ones. They come from few results as a rule, so it is as
// uncertain as they are.
type Detection struct {
	Difference float64        // true difference of the means asked about
	Margins    *stats.Margins // of an equivalence test, else nil
	Power      float64        // probability that a comparison of this size finds Difference, or shows equivalence at it
	Wanted     float64        // probability asked for
	Detectable float64        // smallest true difference found with probability Wanted; 0 for an equivalence test
	Enough     int            // results on each side, or pairs, that reach Wanted at Difference; 0 where 500 million do not
	Kind       SampleKind
	Unit       string
}

// String returns the power and the number of results that would be enough, in one
// sentence.
func (d Detection) String() string {
	enough := strconv.Itoa(d.Enough)
	if d.Enough == 0 {
		enough = "no number of"
	}
	what := enough + " results on each side"
	if d.Kind == SplitSamples {
		what = enough + " pairs"
	}
	if d.Margins != nil {
		return fmt.Sprintf("at a true difference of %s %s this comparison shows equivalence with probability %.2f; %s would do so with %s",
			shortest(d.Difference), d.Unit, d.Power, what, shortest(d.Wanted))
	}
	return fmt.Sprintf("this comparison finds a true difference of %s %s with probability %.2f, and one of %.3g with %s; %s would find %s with %s",
		shortest(d.Difference), d.Unit, d.Power, d.Detectable, shortest(d.Wanted), what, shortest(d.Difference), shortest(d.Wanted))
}

func newDetection(t VerificationTerms) Detection {
	return Detection{Difference: t.Difference, Wanted: t.Power, Kind: t.Kind, Unit: t.Unit}
}

func detectDifference(c stats.Comparison, t VerificationTerms) (Detection, error) {
	d, made := newDetection(t), planAsMade(c, t)
	var err error
	if d.Power, err = stats.TPower(made); err != nil {
		return Detection{}, err
	}
	if d.Detectable, err = stats.DetectableDifference(made, t.Power); err != nil {
		return Detection{}, err
	}
	d.Enough, err = orNone(stats.TSampleSize(planToMake(c, t), t.Power))
	return d, err
}

func detectEquivalence(c stats.Comparison, margins stats.Margins, t VerificationTerms) (Detection, error) {
	d := newDetection(t)
	d.Margins = &margins
	var err error
	if d.Power, err = stats.EquivalencePower(planAsMade(c, t), margins); err != nil {
		return Detection{}, err
	}
	d.Enough, err = orNone(stats.EquivalenceSampleSize(planToMake(c, t), margins, t.Power))
	return d, err
}

// orNone takes 0 for a plan, checked before, that no number of results fulfils: a
// mistyped result must not hide the finding behind it.
func orNone(n int, err error) (int, error) {
	if errors.Is(err, stats.ErrParameter) {
		return 0, nil
	}
	return n, err
}

// planToMake plans equal samples with the standard deviations that were seen.
func planToMake(c stats.Comparison, t VerificationTerms) stats.MeansPlan {
	p := stats.MeansPlan{Design: c.Design, N1: c.X.N, N2: c.Y.N, StdDev1: c.StdDev, StdDev2: c.StdDev, Difference: t.Difference, Alpha: t.MeanAlpha}
	if c.Design != stats.DesignWelch {
		return p
	}
	p.StdDev1, p.StdDev2 = c.X.StdDev, c.Y.StdDev
	if p.StdDev1 == 0 || p.StdDev2 == 0 { // then the other sample alone makes the standard error
		varies := c.X
		if p.StdDev1 == 0 {
			varies = c.Y
		}
		p.Design, p.N1, p.StdDev1 = stats.DesignOneSample, varies.N, varies.StdDev
	}
	return p
}

// planAsMade is the plan of the comparison that was made. A single result against
// n has standard error s·√(1+1/n) and n-1 degrees of freedom, which is one sample
// of n with standard deviation s·√(n+1).
func planAsMade(c stats.Comparison, t VerificationTerms) stats.MeansPlan {
	p := planToMake(c, t)
	if c.Design == stats.DesignPooled && min(c.X.N, c.Y.N) == 1 {
		p.Design, p.N1 = stats.DesignOneSample, max(c.X.N, c.Y.N)
		p.StdDev1 = c.StdDev * math.Sqrt(float64(p.N1+1))
	}
	return p
}

// inSamples names the argument that a test refused as the caller knows it.
func inSamples(fn string, err error) error {
	var e *stats.InputError
	if !errors.As(err, &e) {
		return err
	}
	renamed := *e
	renamed.Func = fn
	if errors.Is(e.Err, stats.ErrOverflow) {
		renamed.Arg, renamed.Value = "contractor and agency", ""
		return &renamed
	}
	switch e.Arg {
	case "xs", "x.N", "x.Mean":
		renamed.Arg = "contractor"
	case "ys", "y.N", "y.Mean":
		renamed.Arg = "agency"
	case "xs-ys", "xs, ys", "x, y", "p.StdDev1", "p.StdDev2":
		renamed.Arg = "contractor and agency"
	case "level", "alpha":
		renamed.Arg = "t.MeanAlpha"
	}
	return &renamed
}
