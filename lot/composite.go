package lot

import (
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// CompositeRule says how the pay factors of several characteristics make one. The
// zero value is none and is refused.
type CompositeRule uint8

// The rules.
const (
	WeightedSum CompositeRule = iota + 1 // Σ weight·factor
	Product                              // the product of the factors
	Lowest                               // the lowest factor
)

var compositeNames = names[CompositeRule]{WeightedSum: "weighted sum", Product: "product", Lowest: "lowest"}

// String returns the rule in words.
func (r CompositeRule) String() string { return compositeNames.of(r) }

// CharacteristicFactor is the pay factor of one characteristic of a lot, with its weight
// for a weighted sum.
type CharacteristicFactor struct {
	Name   string
	Factor decimal.Decimal // 1 for full pay; decimal.Zero, the zero value of the type, is not given and refused
	Weight decimal.Decimal // more than 0 for a weighted sum, otherwise 0
}

// CompositeTerms say how a composite factor is made of its parts.
type CompositeTerms struct {
	Rule     CompositeRule
	Max      *decimal.Decimal // largest composite factor, nil for none
	Rounding units.Rounding   // of the composite factor, with a number of places
}

// Composite returns the pay factor of a lot made of those of its characteristics:
// by the rule their sum with weights that add up to 1, their product or the lowest
// of them; then capped, then rounded. It is exact before the rounding. A lot of which a
// characteristic was rejected has no composite. [TotalPay] makes money of the factor, of
// a single lot too.
//
// Errors are [*stats.InputError] around [ErrMissing] (no parts, no rule, no factor),
// [ErrNegative], [ErrRepeatedID] (two parts of one name), [ErrText] (a name),
// [ErrOutOfDomain] (more than 100 parts, or a factor above 10, as in percent),
// [ErrWeights] (for a weighted sum a weight that is not positive, or a sum other than
// exactly 1; for the others a weight at all), [ErrDigits], [units.ErrAbsolute] or
// [units.ErrRounding].
//
// Source: the weighted sum is that of Florida DOT 334-8.3, the lowest that of
// UFGS 02749.
func Composite(parts []CharacteristicFactor, t CompositeTerms) (decimal.Decimal, error) {
	const fn = "lot.Composite"
	if err := checkParts(fn, parts, t); err != nil {
		return decimal.Decimal{}, err
	}
	if err := namedOnce(fn, parts); err != nil {
		return decimal.Decimal{}, err
	}
	factor := t.Rule.combine(parts)
	if t.Max != nil {
		factor = decimal.Min(factor, *t.Max)
	}
	return t.Rounding.Decimal(factor)
}

func checkParts(fn string, parts []CharacteristicFactor, t CompositeTerms) error {
	if err := placed(fn, "t.Rounding", t.Rounding); err != nil {
		return err
	}
	switch {
	case compositeNames[t.Rule] == "":
		return stats.Refuse(fn, "t.Rule", "", ErrMissing)
	case t.Max != nil && !fewDigits(*t.Max):
		return stats.Refuse(fn, "t.Max", "", ErrDigits)
	case t.Max != nil && checkFactor(*t.Max) != nil:
		return stats.Refuse(fn, "t.Max", digits(*t.Max), checkFactor(*t.Max))
	case len(parts) == 0:
		return stats.Refuse(fn, "parts", "", ErrMissing)
	case len(parts) > maxParts:
		return stats.Refuse(fn, "parts", fmt.Sprint(len(parts)), fmt.Errorf("%w; need at most %d", ErrOutOfDomain, maxParts))
	}
	sum := decimal.Zero
	for i, p := range parts {
		if err := p.check(); err != nil {
			return refuseAt(fn, "parts", i, p.Name, err)
		}
		if weighted := t.Rule == WeightedSum; p.Weight.Sign() < 0 || (p.Weight.Sign() > 0) != weighted {
			return refuseAt(fn, "parts", i, p.Name+" "+p.Weight.String(), ErrWeights)
		}
		sum = sum.Add(p.Weight)
	}
	if t.Rule == WeightedSum && !sum.Equal(decimal.NewFromInt(1)) {
		return stats.Refuse(fn, "parts", sum.String(), ErrWeights)
	}
	return nil
}

// namedOnce refuses a characteristic that comes twice, which would count double. Parts
// without a name are told apart by nothing.
func namedOnce(fn string, parts []CharacteristicFactor) error {
	seen := make(map[string]bool, len(parts))
	for i, p := range parts {
		if seen[p.Name] && p.Name != "" {
			return refuseAt(fn, "parts", i, p.Name, ErrRepeatedID)
		}
		seen[p.Name] = true
	}
	return nil
}

func (p CharacteristicFactor) check() error {
	switch {
	case !plainText(p.Name):
		return ErrText
	case p.Factor == decimal.Decimal{}:
		return fmt.Errorf("factor %w; a rejected characteristic has none, and its lot no composite", errNoNumber)
	case !fewDigits(p.Factor) || !fewDigits(p.Weight):
		return ErrDigits
	}
	if err := checkFactor(p.Factor); err != nil {
		return fmt.Errorf("factor %s %w", digits(p.Factor), err)
	}
	return nil
}

// maxParts bounds the digits of a product.
const maxParts = 100

func (r CompositeRule) combine(parts []CharacteristicFactor) decimal.Decimal {
	switch r {
	case WeightedSum:
		sum := decimal.Zero
		for _, p := range parts {
			sum = sum.Add(p.Weight.Mul(p.Factor))
		}
		return sum
	case Product:
		product := decimal.NewFromInt(1)
		for _, p := range parts {
			product = product.Mul(p.Factor)
		}
		return product
	}
	lowest := parts[0].Factor
	for _, p := range parts[1:] {
		lowest = decimal.Min(lowest, p.Factor)
	}
	return lowest
}
