package lot

import (
	"fmt"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ofRanges returns the standard deviation that the mean range stands for.
func (j judgement) ofRanges(values []*big.Rat) (root, units.Step, error) {
	c, ok := j.estimator.constant(len(values))
	if !ok {
		return root{}, units.Step{}, stats.Refuse(j.fn, "l.Results", "", fmt.Errorf("%w for %d results", ErrNoConstant, len(values)))
	}
	sum, groups := new(big.Rat), len(values)/c.Group
	for i := 0; i < len(values); i += c.Group {
		sum.Add(sum, rangeOf(values[i:i+c.Group]))
	}
	mean := sum.Quo(sum, big.NewRat(int64(groups), 1))
	s := new(big.Rat).Quo(mean, c.C.Rat())
	return rootOf(s), units.Step{What: "standard deviation", Formula: fmt.Sprintf("mean range of %d groups of %d/c", groups, c.Group),
		Numbers: units.ExactText(mean) + "/" + digits(c.C)}, nil
}

func (e Estimation) constant(n int) (RangeConstant, bool) {
	for _, c := range e.Ranges {
		if c.N == n {
			return c, true
		}
	}
	return RangeConstant{}, false
}

func rangeOf(values []*big.Rat) *big.Rat {
	lo, hi := values[0], values[0]
	for _, v := range values[1:] {
		if v.Cmp(lo) < 0 {
			lo = v
		}
		if v.Cmp(hi) > 0 {
			hi = v
		}
	}
	return new(big.Rat).Sub(hi, lo)
}

// deviation works out Σ|x - target|/n, or Σw|x - target|/Σw.
func (j judgement) deviation(e *exactEstimate, x sample, w *working) {
	target, count := j.estimator.Target.Rat(), big.NewRat(int64(len(x.values)), 1)
	step := units.Step{What: "mean absolute deviation", Formula: "Σ|x - target|/n with target " + digits(*j.estimator.Target)}
	sum, off := new(big.Rat), func(v *big.Rat) *big.Rat {
		d := new(big.Rat).Sub(v, target)
		return d.Abs(d)
	}
	if x.weights == nil {
		for _, v := range x.values {
			sum.Add(sum, off(v))
		}
	} else {
		sum = x.total(off)
		count, _ = x.sums()
		step.What, step.Formula = "weighted mean absolute deviation", "Σw|x - target|/Σw with target "+digits(*j.estimator.Target)
	}
	step.Numbers = units.ExactText(sum) + "/" + units.ExactText(count)
	mean := rational(new(big.Rat).Quo(sum, count))
	j.finish(e, mean, mean, step, w)
}

// averages works out how many moving averages lie within the limits.
func (j judgement) averages(e *exactEstimate, values []*big.Rat, w *working) {
	window := j.estimator.Window
	all, within := int64(len(values)-window+1), int64(0)
	for i := range all {
		mean, _ := momentsOf(values[i : int(i)+window])
		used := rational(mean).apply(j.rounding.Mean)
		if j.limits.contains(used.exact) {
			within++
		}
		w.add(units.Step{What: fmt.Sprintf("moving average %d", i+1), Formula: fmt.Sprintf("Σx/%d", window), Numbers: sumText(values[i : int(i)+window]),
			Value: units.ExactText(mean), Rounded: textOf(used), Rounding: j.rounding.Mean.Rule()})
	}
	percent := rational(new(big.Rat).Mul(hundred, big.NewRat(within, all)))
	j.finish(e, percent, percent, units.Step{What: "moving averages within limits", Formula: "100·within/all", Numbers: fmt.Sprintf("100·%d/%d", within, all)}, w)
}
