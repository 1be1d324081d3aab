package lot

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Weights says what a result counts for in the mean and the standard deviation.
type Weights uint8

// The weights. With [QuantityWeights] each result weighs as the quantity that it
// stands for: that of its sublot, shared equally where several results of one sublot
// count. With w for the weights and W for their sum,
//
//	mean = Σw·x/W,   s = √(Σw·(x - mean)²/(W - Σw²/W))
//
// which for equal weights are the usual ones. s² is unbiased for results that are
// independent with one variance, whatever their weights are; another definition, with
// W·(n-1)/n below, is not, and is not offered. A mean deviation is Σw·|x - target|/W.
//
// Percent within limits is read at the weighted Q for n results. No publication
// defines it so, to our knowledge. It assumes that the weights are no reason to expect
// another spread, and takes the mean for as good as one of n equal shares, while it is
// as good as one of W²/Σw², which [WarnWeights] and [Weighing] give. The estimate is then no longer
// unbiased: from five results of which one weighs twice or four times as much as each
// other a true 90 is estimated as 89.9 and 89.4 on average (simulated). Screens,
// verification and the table for small lots do not weigh. Ranges, moving averages and
// whole-row tables have no weighted form and are refused with it.
//
// Source: the divisor as for reliability weights in the GNU Scientific Library
// (from memory), derived in one line from E(Σw(x - mean)²).
const (
	NoWeights       Weights = iota // every result counts the same
	QuantityWeights                // by the quantity, in the unit of the plan
)

var weightNames = names[Weights]{NoWeights: "none", QuantityWeights: "quantity"}

// String returns the weights in words.
func (w Weights) String() string { return weightNames.of(w) }

// ErrUnweighted is the reason for refusing weights with a method that has no weighted
// form, and ErrNoWeight that for a result without quantity where quantities weigh.
var (
	ErrUnweighted = errors.New("has no weighted form")
	ErrNoWeight   = errors.New("has no quantity to be weighted by")
)

// WarnWeights says that results of a lot weigh differently.
const WarnWeights stats.WarningCode = "weights"

func (w Weights) check(arg string, m Method) error {
	switch {
	case weightNames[w] == "":
		return stats.Refuse(newPlan, arg, fmt.Sprint(uint8(w)), needs(ErrOutOfDomain, "NoWeights or QuantityWeights"))
	case w != NoWeights && m != ExactWithin && m != MeanDeviation:
		return stats.Refuse(newPlan, arg, m.String(), ErrUnweighted)
	}
	return nil
}

// sample is what an estimate is made of. Without weights all count the same.
type sample struct{ values, weights []*big.Rat }

// only returns the part of a sample at some positions.
func (s sample) only(keep func(i int) bool) (part sample) {
	for i, v := range s.values {
		if !keep(i) {
			continue
		}
		part.values = append(part.values, v)
		if s.weights != nil {
			part.weights = append(part.weights, s.weights[i])
		}
	}
	return part
}

// sampleOf rounds results and weighs them as the terms say.
func (t *Terms) sampleOf(fn string, l Lot, used []Result) (sample, error) {
	s := sample{values: t.valuesOf(used)}
	if t.Estimation.Weights != QuantityWeights {
		return s, nil
	}
	share := make(map[string]int64)
	for _, r := range used {
		share[r.sublot()]++
	}
	quantity := make(map[string]*big.Rat)
	for _, r := range l.Results {
		if r.RetestOf == "" {
			quantity[r.ID] = r.Quantity.Rat()
		}
	}
	for _, r := range used {
		w := new(big.Rat).Quo(quantity[r.sublot()], big.NewRat(share[r.sublot()], 1))
		if w.Sign() == 0 {
			return sample{}, stats.Refuse(fn, "l.Results", r.ID, ErrNoWeight)
		}
		s.weights = append(s.weights, w)
	}
	return s, nil
}

// sublot returns the id of the result that stands for the sublot.
func (r Result) sublot() string {
	if r.RetestOf != "" {
		return r.RetestOf
	}
	return r.ID
}

// moments returns the mean and the variance.
func (s sample) moments() (mean, variance *big.Rat) {
	if s.weights == nil {
		return momentsOf(s.values)
	}
	sum, _ := s.sums()
	mean = s.total(func(x *big.Rat) *big.Rat { return new(big.Rat).Set(x) })
	mean.Quo(mean, sum)
	if len(s.values) < 2 {
		return mean, new(big.Rat)
	}
	squares := s.squares(mean)
	return mean, squares.Quo(squares, s.divisor())
}

// sums returns Σw and Σw².
func (s sample) sums() (sum, squares *big.Rat) {
	sum, squares = new(big.Rat), new(big.Rat)
	for _, w := range s.weights {
		sum.Add(sum, w)
		squares.Add(squares, new(big.Rat).Mul(w, w))
	}
	return sum, squares
}

// divisor returns Σw - Σw²/Σw.
func (s sample) divisor() *big.Rat {
	sum, squares := s.sums()
	return squares.Sub(sum, squares.Quo(squares, sum))
}

// squares returns Σw·(x - mean)².
func (s sample) squares(mean *big.Rat) *big.Rat {
	return s.total(func(x *big.Rat) *big.Rat {
		off := new(big.Rat).Sub(x, mean)
		return off.Mul(off, off)
	})
}

// total returns Σw·f(x) of a weighted sample; f returns a number of its own.
func (s sample) total(f func(x *big.Rat) *big.Rat) *big.Rat {
	sum := new(big.Rat)
	for i, x := range s.values {
		y := f(x)
		sum.Add(sum, y.Mul(y, s.weights[i]))
	}
	return sum
}

// meanStep writes how the mean is found.
func (s sample) meanStep() units.Step {
	if s.weights == nil {
		return units.Step{What: "mean", Formula: "Σx/n", Numbers: sumText(s.values)}
	}
	sum, _ := s.sums()
	return units.Step{What: "weighted mean", Formula: "Σwx/Σw", Numbers: s.weightedText() + "/" + units.ExactText(sum)}
}

func (s sample) weightedText() string {
	if len(s.values) > 12 {
		return fmt.Sprintf("sum of %d weighted results", len(s.values))
	}
	all := inColumn(s.values)
	for i, w := range s.weights {
		all[i] = units.ExactText(w) + " x " + all[i]
	}
	return "(" + strings.Join(all, " + ") + ")"
}

// spreadStep writes how the standard deviation is found.
func (s sample) spreadStep(mean, variance *big.Rat) units.Step {
	if s.weights == nil {
		free := int64(len(s.values) - 1)
		return units.Step{What: "standard deviation", Formula: "√(Σ(x - mean)²/(n - 1))",
			Numbers: fmt.Sprintf("√(%s/%d)", units.ExactText(new(big.Rat).Mul(variance, big.NewRat(free, 1))), free)}
	}
	sum, squares := s.sums()
	return units.Step{What: "weighted standard deviation", Formula: "√(Σw(x - mean)²/(Σw - Σw²/Σw))",
		Numbers: fmt.Sprintf("√(%s/(%[2]s - %s/%[2]s))", units.ExactText(s.squares(mean)), units.ExactText(sum), units.ExactText(squares))}
}

// warnWeights says for how many equal ones the results stand.
func (e *Evaluation) warnWeights() {
	if e.Weighing != nil {
		e.warn(WarnWeights, "", "the weights differ: the mean is as good as that of %.3g equal results, not of %d", e.Weighing.Results, e.N)
	}
}
