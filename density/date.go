package density

import (
	"cmp"
	"errors"
	"time"

	"github.com/densilot/densilot/units"
)

// ErrDate is the reason for refusing text that is no calendar day.
var ErrDate = errors.New("not a calendar day")

// Date is a calendar day at the place of the work, without hour and zone. Two equal
// days are ==. The zero value is not given; make one with [ParseDate] or [DateOf].
type Date struct {
	year       int
	month, day int
}

// ParseDate reads a day of the years 1 to 9999 such as "2026-05-12". The error is a
// [*units.ParseError] around [ErrDate] or, for empty text, [units.ErrNotGiven].
//
// Source: RFC 3339, section 5.6, full-date.
func ParseDate(text string) (Date, error) { return parseDate("density.ParseDate", text) }

func parseDate(fn, text string) (Date, error) {
	if text == "" {
		return Date{}, &units.ParseError{Func: fn, Text: text, Err: units.ErrNotGiven}
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil || t.Year() < 1 {
		return Date{}, &units.ParseError{Func: fn, Text: text, Err: ErrDate, Need: "text like 2026-05-12"}
	}
	return Date{t.Year(), int(t.Month()), t.Day()}, nil
}

// DateOf returns the day of an instant at its own offset from UTC, so that an evening
// on the road stays on its day; not given for the zero time or a year that is not 1 to
// 9999.
func DateOf(t time.Time) Date {
	if t.IsZero() || t.Year() < 1 || t.Year() > 9999 {
		return Date{}
	}
	return Date{t.Year(), int(t.Month()), t.Day()}
}

// plus returns the day so many days later.
func (d Date) plus(days int) Date {
	return DateOf(time.Date(d.year, time.Month(d.month), d.day+days, 12, 0, 0, 0, time.UTC))
}

// IsZero reports whether d is not given.
func (d Date) IsZero() bool { return d == Date{} }

// Compare returns -1, 0 or 1 as d is before, on or after other; a day that is not
// given is before all others.
func (d Date) Compare(other Date) int {
	return cmp.Or(cmp.Compare(d.year, other.year), cmp.Compare(d.month, other.month), cmp.Compare(d.day, other.day))
}

// Equal reports whether d and other are the same day.
func (d Date) Equal(other Date) bool { return d == other }

// String returns the day as [ParseDate] reads it, "" if not given.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return time.Date(d.year, time.Month(d.month), d.day, 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
}

// MarshalText returns what String returns. The error is nil.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what [ParseDate] reads, with its errors; empty text means not given.
func (d *Date) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*d = Date{}
		return nil
	}
	parsed, err := parseDate("density.Date.UnmarshalText", string(text))
	if err == nil {
		*d = parsed
	}
	return err
}
