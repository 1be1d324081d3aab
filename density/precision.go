package density

import (
	"errors"
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ErrPrecision is the reason for refusing a precision statement that is not
// complete.
var ErrPrecision = errors.New("a precision statement needs a standard, who it holds for, and a d2s of more than 0")

// WarnBeyondD2S warns that two results of one test differ by more than they should.
const WarnBeyondD2S stats.WarningCode = "beyond-d2s"

// Operators says between whose results a precision statement holds. The zero
// value says nothing.
type Operators uint8

// The two kinds of precision statement.
const (
	SingleOperator  Operators = iota + 1 // one person, one set of equipment, one laboratory
	Multilaboratory                      // two laboratories
)

// String returns the kind in words.
func (o Operators) String() string {
	switch o {
	case SingleOperator:
		return "single operator"
	case Multilaboratory:
		return "multilaboratory"
	}
	return "no operators"
}

// MarshalText returns the words, empty for no operators. The error is nil.
func (o Operators) MarshalText() ([]byte, error) { return wordsOf(o) }

// UnmarshalText reads the words; empty text means no operators. The error is a
// [*units.ParseError] around [ErrPrecision].
func (o *Operators) UnmarshalText(text []byte) error {
	return readWords(o, Multilaboratory, "density.Operators.UnmarshalText", text, ErrPrecision)
}

// Precision is a precision statement of a test method: the standard deviation s of
// its results and d2s, the difference of two results that is exceeded in about one
// pair of twenty. d2s is 2√2·s before the rounding of the standard, so it is
// recorded beside s and not computed. Fill one from the edition in force, or take
// one of [RememberedPrecision].
type Precision struct {
	Standard  string // such as "AASHTO T 209"
	Edition   string // such as "2012", or "not known"
	Property  string // such as "Gmm without dry-back"
	Operators Operators
	StdDev    decimal.Decimal // s, in the unit of the property
	D2S       decimal.Decimal // in the unit of the property
	Note      string          // how the numbers are known
}

// Validate refuses a statement without a standard, operators, or a D2S of more
// than 0, or with a negative StdDev; the error wraps [ErrPrecision].
func (p Precision) Validate() error { return p.validate("density.Precision.Validate") }

func (p Precision) validate(fn string) error {
	// the exponents first: an absurd one would fill the memory when printed
	if err := errors.Join(checkExponent(p.StdDev), checkExponent(p.D2S)); err != nil {
		return stats.Refuse(fn, "p", "", fmt.Errorf("%w: %w", ErrPrecision, err))
	}
	if p.Standard == "" || p.Operators < SingleOperator || p.Operators > Multilaboratory || !p.D2S.IsPositive() || p.StdDev.IsNegative() {
		return stats.Refuse(fn, "p", p.String(), ErrPrecision)
	}
	return nil
}

// String names the statement, such as "AASHTO T 209 (2012), Gmm without dry-back,
// single operator: s 0.0051, d2s 0.014".
func (p Precision) String() string {
	return fmt.Sprintf("%s (%s), %s, %v: s %v, d2s %v", p.Standard, p.Edition, p.Property, p.Operators, p.StdDev, p.D2S)
}

// Duplicates is the judgement of two results of one test on the same material.
type Duplicates struct {
	Difference decimal.Decimal // without sign, exact
	Within     bool            // Difference is at most d2s
	Precision  Precision       // what it was judged by
	Warnings   []stats.Warning
}

// Duplicates judges two results of the property, in its unit:
//
//	|a - b| ≤ d2s
//
// decided exactly on the decimals. A larger difference comes with [WarnBeyondD2S]
// and the numbers; neither result is dropped, since nothing says which is wrong.
// It assumes the same material and independent results of the operators that p
// names.
//
// Errors are [*stats.InputError] around [ErrPrecision], or [units.ErrRange] for a
// negative result.
//
// Source: ASTM C670, difference two-sigma limit (from memory).
func (p Precision) Duplicates(a, b decimal.Decimal) (Duplicates, error) {
	return p.duplicates("density.Precision.Duplicates", a, b)
}

// GravityDuplicates is [Precision.Duplicates] for two specific gravities. The error
// wraps [units.ErrNotGiven] where one is not given, [ErrNotPositive] where one is not
// more than 0.
func (p Precision) GravityDuplicates(a, b units.SpecificGravity) (Duplicates, error) {
	const fn = "density.Precision.GravityDuplicates"
	if err := errors.Join(gravityGiven(fn, "a", a), gravityGiven(fn, "b", b)); err != nil {
		return Duplicates{}, err
	}
	return p.duplicates(fn, decimal.NewFromFloat(a.Float64()), decimal.NewFromFloat(b.Float64()))
}

func (p Precision) duplicates(fn string, a, b decimal.Decimal) (Duplicates, error) {
	if err := p.validate(fn); err != nil {
		return Duplicates{}, err
	}
	if err := errors.Join(notNegative(fn, "a", a), notNegative(fn, "b", b)); err != nil {
		return Duplicates{}, err
	}
	d := Duplicates{Difference: a.Sub(b).Abs(), Precision: p}
	if d.Within = d.Difference.LessThanOrEqual(p.D2S); !d.Within {
		d.Warnings = []stats.Warning{{Code: WarnBeyondD2S, Text: fmt.Sprintf(
			"%s and %s differ by %s, more than the d2s of %s for %s by %s (%s, %v); test again before either is used",
			a, b, d.Difference, p.D2S, p.Property, p.Standard, p.Edition, p.Operators)}}
	}
	return d, nil
}
