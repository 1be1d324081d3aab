package stats

import (
	"cmp"
	"slices"
)

// Holm returns the p values of several tests adjusted so that a caller who rejects
// where the adjusted value is at most alpha wrongly rejects any of them with
// probability alpha at most, however the tests depend on each other:
//
//	adjusted(i) = max over j ≤ i of min(1, (m-j+1)·p(j)),   p(1) ≤ p(2) ≤ ... ≤ p(m)
//
// ps holds at least one p value in [0, 1] in any order and is not changed; the
// result has its order. A test that gave no p, for want of variance, is left out by
// the caller.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite] or [ErrParameter].
//
// Source: S. Holm, Scandinavian Journal of Statistics 6 (1979) 65 (from memory).
func Holm(ps []float64) ([]float64, error) {
	const fn = "stats.Holm"
	if len(ps) == 0 {
		return nil, tooFew(fn, "ps", 0, 1)
	}
	if err := checkFinite(fn, "ps", ps); err != nil {
		return nil, err
	}
	order := make([]int, len(ps))
	for i, p := range ps {
		if p < 0 || p > 1 {
			return nil, &InputError{Func: fn, Arg: "ps", Index: i, Value: text(p), Err: needs("a probability from 0 to 1")}
		}
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(ps[i], ps[j]) })
	adjusted, largest := make([]float64, len(ps)), 0.0
	for rank, i := range order {
		largest = max(largest, min(1, float64(len(ps)-rank)*ps[i]))
		adjusted[i] = largest
	}
	return adjusted, nil
}
