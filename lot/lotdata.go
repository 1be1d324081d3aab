package lot

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// Result is one sublot result as it was recorded.
type Result struct {
	ID       string
	Value    decimal.Decimal // decimal.Zero, the zero value of the type, is not given and refused
	Quantity decimal.Decimal // placed in the sublot, in the quantity unit of the plan; 0 for a retest
	Origin   string          // how it was measured, such as "core" or "gauge G-07"; "" where it is not recorded
	RetestOf string          // id of the result that it repeats, "" for none
	Removed  bool            // the engineer takes it out of the estimate as an outlier
	Cause    string          // of the removal, as recorded
}

// Lot is what is judged at once.
type Lot struct {
	ID      string
	Unit    string // of the values; must be that of the plan
	Results []Result
}

// check refuses a lot that cannot be judged, before any statistics.
func (t *Terms) check(fn string, l Lot) error {
	if l.ID == "" {
		return stats.Refuse(fn, "l.ID", "", ErrNoID)
	}
	if !plainText(l.ID) {
		return stats.Refuse(fn, "l.ID", fmt.Sprintf("%.80q", l.ID), ErrText)
	}
	if l.Unit != t.Unit {
		return stats.Refuse(fn, "l.Unit", fmt.Sprintf("%.80q", l.Unit), fmt.Errorf("%w (%q)", ErrUnit, t.Unit))
	}
	seen := make(map[string]bool, len(l.Results))
	var repeated []string
	for i, r := range l.Results {
		if r.ID == "" {
			return refuseAt(fn, "l.Results", i, "", ErrNoID)
		}
		if seen[r.ID] {
			repeated = append(repeated, r.ID)
		}
		seen[r.ID] = true
		if err := t.checkResult(r); err != nil {
			return &stats.InputError{Func: fn, Arg: "l.Results", Index: i, ID: fmt.Sprintf("%.80s", r.ID), Value: short(r.Value), Err: err}
		}
	}
	if repeated != nil {
		return &stats.InputError{Func: fn, Arg: "l.Results", Index: -1, ID: strings.Join(repeated, ", "), Err: ErrRepeatedID}
	}
	return nil
}

// checkRecorded refuses a number that is none, or too long.
func checkRecorded(x decimal.Decimal) error {
	switch {
	case x == decimal.Decimal{}:
		return errNoNumber
	case !fewDigits(x):
		return ErrDigits
	}
	return nil
}

func (t *Terms) checkResult(r Result) error {
	switch {
	case r.Value == decimal.Decimal{}:
		return fmt.Errorf("value %w", errNoNumber)
	case !fewDigits(r.Value) || !fewDigits(r.Quantity):
		return ErrDigits
	case !t.Plausible.Contains(r.Value):
		return fmt.Errorf("%w (%v)", ErrPlausible, t.Plausible)
	case r.Quantity.Sign() < 0:
		return fmt.Errorf("quantity %s %w", digits(r.Quantity), ErrNegative)
	case !plainText(r.ID) || !plainText(r.Origin) || !plainText(r.RetestOf) || !plainText(r.Cause):
		return ErrText
	case r.RetestOf != "" && t.Retest == NoRetests:
		return fmt.Errorf("%w: the plan takes none", ErrRetest)
	case r.RetestOf != "" && r.Quantity.Sign() != 0:
		return fmt.Errorf("%w: it has a quantity of its own, which belongs to the result it repeats", ErrRetest)
	case r.RetestOf != "" && r.Removed:
		return fmt.Errorf("%w: it is a retest", ErrRemoval)
	case r.Cause != "" && !r.Removed:
		return fmt.Errorf("%w: it has a cause and is not marked as removed", ErrRemoval)
	}
	return nil
}

// checkScale refuses results and limits of which one looks like a percentage and
// the other like a fraction, all results together or one among them: as recorded, since
// rounding may leave nothing of a fraction.
func (t *Terms) checkScale(fn string, used []Result) error {
	if t.AnyScale {
		return nil
	}
	scale, mean := t.scale(), 0.0
	for _, r := range used {
		mean += r.Value.InexactFloat64() / float64(len(used))
	}
	if scale.otherScale(mean) {
		return stats.Refuse(fn, "l.Results", fmt.Sprintf("mean %.6g", mean), fmt.Errorf("%w (limits %v)", ErrScale, Limits{scale}))
	}
	for _, r := range used {
		if scale.strays(r.Value.InexactFloat64()) {
			return &stats.InputError{Func: fn, Arg: "l.Results", Index: -1, ID: r.ID, Value: digits(r.Value), Err: fmt.Errorf("%w (limits %v)", ErrScale, Limits{scale})}
		}
	}
	return nil
}

// scale returns what the size of results is compared with.
func (t *Terms) scale() *limitPair {
	if t.Estimation.Target != nil {
		return AtLeastDecimal(*t.Estimation.Target).pair()
	}
	return t.Limits.pair()
}

// short writes a value for a message, however many digits it has.
func short(d decimal.Decimal) string {
	if !fewDigits(d) {
		return ""
	}
	return digits(d)
}

// valuesOf rounds the results by the rule for a result.
func (t *Terms) valuesOf(results []Result) []*big.Rat {
	values := make([]*big.Rat, len(results))
	for i, r := range results {
		values[i] = roundRat(t.Rounding.Value, r.Value.Rat())
	}
	return values
}
