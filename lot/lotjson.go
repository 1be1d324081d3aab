package lot

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// lotDocument is how a lot is stored.
var lotDocument = document{format: "densilot/lot", version: 1}

// ParseLot reads a lot from the JSON that [Lot.MarshalJSON] writes and the package comment
// describes, as strictly as [ParsePlan] reads a plan: every value and quantity is a text of at most 30 digits
// without an exponent. Whether the lot can be judged is for [Plan.Evaluate] to say.
//
// Errors are [*FormatError] with the JSON pointer of the place, as those of
// ParsePlan, or around [ErrText] or [ErrNoID].
func ParseLot(data []byte) (Lot, error) {
	const fn = "lot.ParseLot"
	var l Lot
	if err := lotDocument.read(fn, data, l.form); err != nil {
		return Lot{}, err
	}
	return l, nil
}

// MarshalJSON writes the lot in its canonical form.
//
// The error is [*FormatError] for a lot that ParseLot would not read back: a value that is
// missing ([ErrMissing]), a number of more than 30 digits ([ErrDigits]), a text
// ([ErrText]) or an id ([ErrNoID]) that is none, or more than 4 MiB or 200,000 values
// ([ErrTooLarge]).
func (l Lot) MarshalJSON() ([]byte, error) {
	const fn = "lot.Lot.MarshalJSON"
	for i, r := range l.Results {
		if r.Value == (decimal.Decimal{}) { // which would read back as a recorded 0
			return nil, &FormatError{fn, fmt.Sprintf("/results/%d/value", i), errNoNumber}
		}
		if !fewDigits(r.Value) || !fewDigits(r.Quantity) {
			return nil, &FormatError{fn, fmt.Sprintf("/results/%d", i), ErrDigits}
		}
	}
	return readsBack(fn, lotDocument.write(l.form), ParseLot)
}

// UnmarshalJSON is [ParseLot], with its errors.
func (l *Lot) UnmarshalJSON(data []byte) error {
	return readInto(l, data, ParseLot)
}

func (l *Lot) form(f form) {
	idField(f, "id", &l.ID)
	lineField(f, "unit", &l.Unit)
	listField(f, "results", &l.Results, func(f form, r *Result) {
		idField(f, "id", &r.ID)
		decimalField(f, "value", &r.Value)
		decimalField(f, "quantity", &r.Quantity)
		for _, o := range []struct {
			key string
			p   *string
		}{{"origin", &r.Origin}, {"retestOf", &r.RetestOf}, {"cause", &r.Cause}} {
			if f.has(o.key, *o.p != "") {
				lineField(f, o.key, o.p)
			}
		}
		boolField(f, "removed", &r.Removed)
	})
}

func idField(f form, key string, p *string) {
	lineField(f, key, p)
	if *p == "" {
		f.refuse(key, ErrNoID)
	}
}

// lineField handles a text that is one line.
func lineField(f form, key string, p *string) {
	textField(f, key, p)
	if !plainText(*p) {
		f.refuse(key, ErrText)
	}
}
