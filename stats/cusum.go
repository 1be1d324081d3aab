package stats

import "math"

// CUSUMOptions sets how [CUSUM] works, all in the unit of the values. None has a
// default; in terms of the standard deviation σ of a value in control, Reference σ/2
// and DecisionInterval 4σ or 5σ are usual for a shift of one σ.
type CUSUMOptions struct {
	Target           float64
	Reference        float64 // slack per value, half the shift that matters; at least 0
	DecisionInterval float64 // a sum above it signals; positive
}

// CUSUMResult holds the sums after each value.
type CUSUMResult struct {
	High, Low   []float64 // evidence that the mean is above, below the target
	Signals     []int     // positions of values with a sum above the decision interval
	FirstSignal int       // the first of Signals, -1 where there is none
	ChangeFrom  int       // where the sum that signals first last left 0: the likely first value of the shift, or -1
	Options     CUSUMOptions
}

// CUSUM returns the tabular cumulative sums of xs in the order they were taken,
//
//	High(i) = max(0, High(i-1) + xᵢ - target - k)
//	Low(i)  = max(0, Low(i-1)  + target - k - xᵢ)
//
// from 0, with k the reference value. A signal is a sum of more than the decision
// interval. The sums go on after a signal and are not set back; a caller who acts on a
// signal starts anew. xs holds at least one finite value and is not changed.
//
// How often a process in control signals depends on both options and on σ; the values
// are taken to be independent.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrParameter] or
// [ErrOverflow].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3.
func CUSUM(xs []float64, o CUSUMOptions) (CUSUMResult, error) {
	const fn = "stats.CUSUM"
	if err := o.check(fn); err != nil {
		return CUSUMResult{}, err
	}
	if len(xs) < 1 {
		return CUSUMResult{}, tooFew(fn, "xs", 0, 1)
	}
	if err := checkFinite(fn, "xs", xs); err != nil {
		return CUSUMResult{}, err
	}
	r := CUSUMResult{FirstSignal: -1, ChangeFrom: -1, Options: o}
	var high, low cusumSide
	for i, x := range xs {
		high.add(i, x-o.Target-o.Reference)
		low.add(i, o.Target-o.Reference-x)
		if !areFinite(high.sum, low.sum) {
			return CUSUMResult{}, &InputError{Func: fn, Arg: "xs", Index: i, Value: text(x), Err: ErrOverflow}
		}
		r.High, r.Low = append(r.High, high.sum), append(r.Low, low.sum)
		if max(high.sum, low.sum) > o.DecisionInterval {
			r.signal(i, high, low)
		}
	}
	return r, nil
}

// cusumSide is one of the two sums and where it last left 0.
type cusumSide struct {
	sum  float64
	from int
}

func (s *cusumSide) add(i int, step float64) {
	if s.sum == 0 {
		s.from = i
	}
	s.sum = math.Max(0, s.sum+step)
}

func (r *CUSUMResult) signal(i int, high, low cusumSide) {
	r.Signals = append(r.Signals, i)
	if r.FirstSignal >= 0 {
		return
	}
	r.FirstSignal, r.ChangeFrom = i, high.from
	if low.sum > high.sum {
		r.ChangeFrom = low.from
	}
}

func (o CUSUMOptions) check(fn string) error {
	switch {
	case !isFinite(o.Target):
		return Refuse(fn, "o.Target", text(o.Target), ErrNotFinite)
	case !(o.Reference >= 0) || math.IsInf(o.Reference, 1):
		return outOfRange(fn, "o.Reference", text(o.Reference), "0 or more")
	case !(o.DecisionInterval > 0) || math.IsInf(o.DecisionInterval, 1):
		return outOfRange(fn, "o.DecisionInterval", text(o.DecisionInterval), positive)
	}
	return nil
}
