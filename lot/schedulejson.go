package lot

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// scheduleField handles a schedule as the list of its rows.
func scheduleField(f form, key string, s *Schedule) {
	rows := s.Rows()
	listField(f, key, &rows, segmentForm)
	if s.IsZero() {
		read, err := NewSchedule(rows...)
		f.refuse(key, err)
		*s = read
	}
}

func segmentForm(f form, r *Segment) {
	decimalField(f, "from", &r.From)
	boolField(f, "after", &r.After)
	if f.has("pay", !r.Reject) {
		f.object("pay", r.Pay.form)
	}
	optionalDecimal(f, "max", &r.Max)
	boolField(f, "reject", &r.Reject)
	for _, key := range []string{"pay", "max"} {
		if r.Reject && f.has(key, false) {
			f.refuse(key, ErrUnused)
		}
	}
	if missing := !f.has("pay", true); missing && !r.Reject {
		f.refuse("pay", ErrMissing)
	}
}

// form handles a curve as its coefficients or, for a line through two points,
// those, because its slope may be no decimal.
func (c *Curve) form(f form) {
	if f.has("through", c.through) {
		f.texts("through", c.texts(), func(all []string) error {
			x, err := decimalsOf(all, 4, 4)
			if err == nil {
				*c, err = Through(x[0], x[1], x[2], x[3])
			}
			return err
		})
		return
	}
	f.texts("coefficients", c.texts(), func(all []string) error {
		x, err := decimalsOf(all, 1, 3)
		*c = curveOf(x...)
		return err
	})
}

func (c *Curve) texts() []string {
	if len(c.recorded) == 0 {
		return []string{"0"}
	}
	all := make([]string, len(c.recorded))
	for i, x := range c.recorded {
		all[i] = digits(x)
	}
	return all
}

func decimalsOf(texts []string, least, most int) ([]decimal.Decimal, error) {
	if len(texts) < least || len(texts) > most {
		return nil, fmt.Errorf("%w: have %d numbers, need %d to %d", ErrOutOfDomain, len(texts), least, most)
	}
	all := make([]decimal.Decimal, len(texts))
	for i, text := range texts {
		x, err := recordedDecimal(text)
		if err != nil {
			return nil, err
		}
		all[i] = x
	}
	return all, nil
}
