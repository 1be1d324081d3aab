package lot

import (
	"errors"
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
)

// ErrNoPlan is the reason risks are refused that no sample of a size that is
// looked at can keep.
var ErrNoPlan = errors.New("no sample size meets these risks")

// Risks are what an acceptance plan leaves to each side, as fractions.
type Risks struct {
	Seller float64 // probability that a lot of acceptable quality is not accepted
	Buyer  float64 // probability that a lot of rejectable quality is accepted
}

// RisksOf returns the seller's risk at the acceptable quality level aql and the
// buyer's at the rejectable one rql, of a plan that accepts where the estimate
// from n ≥ 3 results is at least acceptAt percent. With two limits a level is met
// by many populations; [QualityOneLimit] and [QualityCentred] are the ends.
//
// Errors are [*stats.InputError] around [stats.ErrTooFew] or [ErrOutOfDomain]; an
// acceptable quality of 1 percent or less is a fraction and refused.
func RisksOf(n int, acceptAt float64, aql, rql Quality) (Risks, error) {
	const fn = "lot.RisksOf"
	for i, q := range []Quality{aql, rql} {
		if err := q.Validate(); err != nil {
			return Risks{}, stats.Refuse(fn, []string{"aql", "rql"}[i], "", err)
		}
	}
	if err := checkAcceptable(fn, "aql", aql.PWL()); err != nil {
		return Risks{}, err
	}
	var accepted [2]float64
	if err := AcceptanceCurve(accepted[:], []Quality{aql, rql}, n, acceptAt); err != nil {
		return Risks{}, stats.Renamed(err, fn, "")
	}
	return Risks{Seller: 1 - accepted[0], Buyer: accepted[1]}, nil
}

// WantedRisks are the terms of an acceptance plan. All are needed.
type WantedRisks struct {
	AQL, RQL      Quality // acceptable and rejectable quality
	Seller, Buyer float64 // the most that each may risk, as fractions
}

// AcceptanceDesign is the smallest plan that meets the risks that were wanted.
type AcceptanceDesign struct {
	N        int
	AcceptAt float64 // percent: a lot is accepted where the estimate is at least this; midway from Least to Most
	Least    float64 // this and any limit up to Most meets both risks; where it is 0, which all reach, any above it
	Most     float64
	Attained Risks // at AcceptAt
	Wanted   WantedRisks
}

// mostDesigned is the largest sample that is looked at.
const mostDesigned = 500

// DesignAcceptance finds the smallest n, from 3 to 500, for which a limit on the
// estimate keeps both risks,
//
//	P(estimate ≥ limit | AQL) ≥ 1 - seller,   P(estimate ≥ limit | RQL) ≤ buyer
//
// and the range of such limits. A limit of 100, which a lot reaches by having no
// tail at all, is not taken; Most may be 100. What does for n results does for more,
// so n is doubled and then halved in.
//
// Errors are [*stats.InputError] around [ErrOutOfDomain] (qualities that are none,
// fractions or not in this order), [stats.ErrLevel] (risks), or [ErrNoPlan]. It costs some
// 0.2 ms with one limit, and with two mostly up to half a second, at worst some seconds.
//
// Source: variables plans of unknown standard deviation as in ANSI/ASQC Z1.9;
// the test stands beside points of it.
func DesignAcceptance(w WantedRisks) (AcceptanceDesign, error) {
	const fn = "lot.DesignAcceptance"
	if err := w.check(fn); err != nil {
		return AcceptanceDesign{}, err
	}
	less, n := 2, 3 // a size that does not do, and one to look at
	found := w.design(n)
	for ; found == nil; found = w.design(n) {
		if n == mostDesigned {
			return AcceptanceDesign{}, stats.Refuse(fn, "w", "", fmt.Errorf("%w up to %d", ErrNoPlan, mostDesigned))
		}
		less, n = n, min(2*n, mostDesigned)
	}
	for n > less+1 {
		middle := (less + n) / 2
		if d := w.design(middle); d == nil {
			less = middle
		} else {
			n, found = middle, d
		}
	}
	return *found, nil
}

// design returns the plan for n results, nil where no limit keeps both risks.
func (w WantedRisks) design(n int) *AcceptanceDesign {
	good, _ := newEstimator("", n, w.AQL) // n and the qualities are good ones
	poor := good
	poor.setQuality(w.RQL)
	d := AcceptanceDesign{N: n, Wanted: w, Most: good.limitFor(1 - w.Seller)}
	if poor.atLeast(d.Most) > w.Buyer {
		return nil
	}
	d.Least = poor.limitFor(w.Buyer)
	if d.AcceptAt = d.Least + (d.Most-d.Least)/2; !(d.AcceptAt < 100) {
		return nil
	}
	d.Attained = Risks{Seller: 1 - good.atLeast(d.AcceptAt), Buyer: poor.atLeast(d.AcceptAt)}
	return &d
}

func (w WantedRisks) check(fn string) error {
	for _, q := range []struct {
		name    string
		quality Quality
	}{{"w.AQL", w.AQL}, {"w.RQL", w.RQL}} {
		if err := q.quality.Validate(); err != nil {
			return stats.Refuse(fn, q.name, "", err)
		}
	}
	if err := checkAcceptable(fn, "w.AQL", w.AQL.PWL()); err != nil {
		return err
	}
	if w.AQL.PWL() <= w.RQL.PWL() {
		return stats.Refuse(fn, "w.AQL", fmt.Sprint(w.AQL.PWL()), needs(ErrOutOfDomain, "more than the rejectable quality"))
	}
	if !(w.Seller > 0 && w.Seller < 1) {
		return stats.Refuse(fn, "w.Seller", fmt.Sprint(w.Seller), stats.ErrLevel)
	}
	if !(w.Buyer > 0 && w.Buyer < 1) {
		return stats.Refuse(fn, "w.Buyer", fmt.Sprint(w.Buyer), stats.ErrLevel)
	}
	return nil
}

// checkAcceptable refuses an acceptable quality level that must have been meant as a
// fraction.
func checkAcceptable(fn, arg string, pwl float64) error {
	if pwl <= 1 {
		return stats.Refuse(fn, arg, fmt.Sprint(pwl), needs(ErrOutOfDomain, "a percentage above 1, such as 90; is it a fraction?"))
	}
	return nil
}

// limitFor returns the estimate that is reached with that probability, 100 where
// even that is reached more often.
func (e *Estimator) limitFor(probability float64) float64 {
	if e.atLeast(100) >= probability {
		return 100
	}
	lo, hi := -math.Pi/2, math.Pi/2 // y = sin θ
	for range 60 {
		middle := (lo + hi) / 2
		if _, reached := e.tails(math.Sin(middle)); reached >= probability {
			lo = middle
		} else {
			hi = middle
		}
	}
	within, _ := e.kernel.beta.CDF(math.Sin(lo))
	return 100 * within
}
