package stats

import "fmt"

// Margins bound the differences that do not matter, in the unit of the values.
// They need not lie symmetrically, but Lower is below Upper.
type Margins struct{ Lower, Upper float64 }

func (m Margins) check(fn string) error {
	switch {
	case !isFinite(m.Lower):
		return Refuse(fn, "margins.Lower", text(m.Lower), ErrNotFinite)
	case !isFinite(m.Upper):
		return Refuse(fn, "margins.Upper", text(m.Upper), ErrNotFinite)
	case !(m.Lower < m.Upper):
		return outOfRange(fn, "margins", text(m.Lower)+" to "+text(m.Upper), "Lower below Upper")
	}
	return nil
}

// Equivalence is the outcome of two one-sided t tests of a difference of means
// against margins. CI has level 1 - 2·Alpha. Where Status is not Tested both
// statistics are nil and Equivalent is false: nothing has been shown.
type Equivalence struct {
	Comparison
	Margins    Margins
	Alpha      float64
	AboveLower *Statistic // (Difference - Lower)/StdErr and P(T > t): is the difference above Lower?
	BelowUpper *Statistic // (Difference - Upper)/StdErr and P(T < t): is it below Upper?
	Equivalent bool       // both p are at most Alpha, and CI lies within the margins
}

func newEquivalence(fn string, c Comparison, err error, margins Margins, alpha float64) (Equivalence, error) {
	if err != nil {
		return Equivalence{}, err
	}
	if err := checkEquivalence(fn, margins, alpha); err != nil {
		return Equivalence{}, err
	}
	if err := c.settle(fn, "alpha", 2*alpha); err != nil {
		return Equivalence{}, err
	}
	r := Equivalence{Comparison: c, Margins: margins, Alpha: alpha}
	if c.Status != Tested {
		return r, nil
	}
	if r.AboveLower, err = c.statistic(fn, (c.Difference-margins.Lower)/c.StdErr, 1); err != nil {
		return Equivalence{}, err
	}
	if r.BelowUpper, err = c.statistic(fn, (margins.Upper-c.Difference)/c.StdErr, 1); err != nil {
		return Equivalence{}, err
	}
	r.BelowUpper.Value = -r.BelowUpper.Value
	r.Equivalent = max(r.AboveLower.P, r.BelowUpper.P) <= alpha
	return r, nil
}

// errHalf is for a significance whose interval would have no level.
var errHalf = fmt.Errorf("%w, and below 0.5 for equivalence", ErrLevel)

// checkEquivalence wants alpha below one half, where 1-2α is a level.
func checkEquivalence(fn string, margins Margins, alpha float64) error {
	if !(alpha > 0 && alpha < 0.5) {
		return Refuse(fn, "alpha", text(alpha), errHalf)
	}
	return margins.check(fn)
}

// OneSampleEquivalence tests whether the mean of the population of xs lies within
// margins of the stated mean, by two one-sided t tests at significance alpha:
//
//	t = (x̄ - mean - Lower)/(s/√n) ≥ t(1-α),   t = (x̄ - mean - Upper)/(s/√n) ≤ -t(1-α)
//
// with n-1 degrees of freedom; both must hold. It turns the burden of proof round:
// few or scattered values fail to show equivalence instead of failing to show a
// difference. xs holds n ≥ 2 finite values in any order and is not changed; mean
// and margins have its unit, and the margins are about the difference x̄ - mean.
// alpha is a fraction in (0, 0.5).
//
// It assumes independent draws from a normal population.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrLevel],
// [ErrParameter] (margins) or [ErrOverflow].
//
// Source: D. J. Schuirmann, Journal of Pharmacokinetics and Biopharmaceutics 15
// (1987) 657 (from memory).
func OneSampleEquivalence(xs []float64, mean float64, margins Margins, alpha float64) (Equivalence, error) {
	const fn = "stats.OneSampleEquivalence"
	s, err := summarize(fn, "xs", xs)
	if err != nil {
		return Equivalence{}, err
	}
	c, err := compareOne(fn, s, mean)
	return newEquivalence(fn, c, err, margins, alpha)
}

// OneSampleEquivalenceOf is [OneSampleEquivalence] for a caller who holds only n,
// mean and standard deviation of the values or of paired differences.
//
// Errors are those of [OneSampleEquivalence], or around [ErrParameter] for a standard
// deviation below 0.
func OneSampleEquivalenceOf(s Summary, mean float64, margins Margins, alpha float64) (Equivalence, error) {
	const fn = "stats.OneSampleEquivalenceOf"
	c, err := compareOne(fn, s, mean)
	return newEquivalence(fn, c, err, margins, alpha)
}

// PairedEquivalence tests whether the mean of the differences xs[i] - ys[i] lies
// within margins. It is [OneSampleEquivalence] of the differences and adds
// [ErrLength] to its errors.
func PairedEquivalence(xs, ys []float64, margins Margins, alpha float64) (Equivalence, error) {
	const fn = "stats.PairedEquivalence"
	c, err := comparePairs(fn, xs, ys)
	return newEquivalence(fn, c, err, margins, alpha)
}

// PooledEquivalence tests whether the means of two independent samples differ by
// no more than margins, with the standard error, degrees of freedom, assumptions
// and sizes of [PooledT] and the two tests of [OneSampleEquivalence]. The margins
// are about mean of xs less mean of ys. Errors and source are those of both.
func PooledEquivalence(xs, ys []float64, margins Margins, alpha float64) (Equivalence, error) {
	const fn = "stats.PooledEquivalence"
	x, y, err := summarizeBoth(fn, xs, ys, 1)
	if err != nil {
		return Equivalence{}, err
	}
	c, err := comparePooled(fn, "xs, ys", x, y)
	return newEquivalence(fn, c, err, margins, alpha)
}

// PooledEquivalenceOf is [PooledEquivalence] for a caller who holds only n, mean
// and standard deviation of each sample.
//
// Errors are those of [PooledEquivalence], or around [ErrParameter] for a standard
// deviation below 0.
func PooledEquivalenceOf(x, y Summary, margins Margins, alpha float64) (Equivalence, error) {
	const fn = "stats.PooledEquivalenceOf"
	c, err := comparePooled(fn, "x, y", x, y)
	return newEquivalence(fn, c, err, margins, alpha)
}

// WelchEquivalence tests whether the means of two independent samples differ by no
// more than margins, with the standard error, degrees of freedom, assumptions and
// sizes of [WelchT] and the two tests of [OneSampleEquivalence]. The margins are about
// mean of xs less mean of ys. Errors and source are those of both.
func WelchEquivalence(xs, ys []float64, margins Margins, alpha float64) (Equivalence, error) {
	const fn = "stats.WelchEquivalence"
	x, y, err := summarizeBoth(fn, xs, ys, 2)
	if err != nil {
		return Equivalence{}, err
	}
	c, err := compareWelch(fn, x, y)
	return newEquivalence(fn, c, err, margins, alpha)
}

// WelchEquivalenceOf is [WelchEquivalence] for a caller who holds only n, mean and
// standard deviation of each sample.
//
// Errors are those of [WelchEquivalence], or around [ErrParameter] for a standard
// deviation below 0.
func WelchEquivalenceOf(x, y Summary, margins Margins, alpha float64) (Equivalence, error) {
	const fn = "stats.WelchEquivalenceOf"
	c, err := compareWelch(fn, x, y)
	return newEquivalence(fn, c, err, margins, alpha)
}
