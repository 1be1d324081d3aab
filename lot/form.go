package lot

import (
	"fmt"
	"strconv"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/units"
)

// form is a JSON object that is being read or written. One description of the
// fields serves both, so that what is written is what is read: a writer takes the
// values that are handed to it, a reader sets them.
type form interface {
	// has reports whether an optional key is there; a writer is told by given.
	has(key string, given bool) bool
	// scalar handles a text, number or truth value by its text.
	scalar(key string, kind kind, text string, set func(text string) error)
	// object handles an object.
	object(key string, fields func(form))
	// list handles a list of n objects; a reader takes as many as there are.
	list(key string, n int, element func(f form, i int))
	// texts handles a list of texts.
	texts(key string, all []string, set func(all []string) error)
	// refuse says that what was read under a key does not do; nil is no refusal.
	refuse(key string, err error)
}

// kind is a kind of JSON value.
type kind byte

const (
	kindText   kind = 's'
	kindNumber kind = 'n'
	kindBool   kind = 'b'
	kindNull   kind = '0'
	kindObject kind = '{'
	kindList   kind = '['
)

var kindNames = map[kind]string{kindText: "a text", kindNumber: "a number", kindBool: "true or false", kindNull: "null", kindObject: "an object", kindList: "a list"}

func textField(f form, key string, p *string) {
	f.scalar(key, kindText, *p, func(text string) error {
		*p = text
		return nil
	})
}

// optionalText leaves out an empty text.
func optionalText(f form, key string, p *string) {
	if f.has(key, *p != "") {
		textField(f, key, p)
	}
}

// decimalField writes a number of too many digits as one that does not read back.
func decimalField(f form, key string, p *decimal.Decimal) {
	f.scalar(key, kindText, short(*p), func(text string) (err error) {
		*p, err = recordedDecimal(text)
		return err
	})
}

// recordedDecimal reads a number as [units.ParseDecimal] does, without blanks.
func recordedDecimal(text string) (decimal.Decimal, error) {
	d, err := units.ParseDecimal(text)
	if err == nil && digits(d) != text {
		return d, fmt.Errorf("%w: write it as %s", units.ErrSyntax, digits(d))
	}
	return d, err
}

func optionalDecimal(f form, key string, p **decimal.Decimal) {
	optional(f, key, p, func(d *decimal.Decimal) { decimalField(f, key, d) })
}

// optional handles a key whose value is pointed to, nil where there is none.
func optional[T any](f form, key string, p **T, field func(*T)) {
	if !f.has(key, *p != nil) {
		return
	}
	if *p == nil {
		*p = new(T)
	}
	field(*p)
}

func optionalObject[T any](f form, key string, p **T, fields func(form, *T)) {
	optional(f, key, p, func(v *T) { f.object(key, func(f form) { fields(f, v) }) })
}

func listField[T any](f form, key string, p *[]T, fields func(form, *T)) {
	f.list(key, len(*p), func(f form, i int) {
		if i == len(*p) {
			var empty T
			*p = append(*p, empty)
		}
		fields(f, &(*p)[i])
	})
}

// optionalList leaves out a list of nothing.
func optionalList[T any](f form, key string, p *[]T, fields func(form, *T)) {
	if f.has(key, len(*p) > 0) {
		listField(f, key, p, fields)
	}
}

func optionalTexts(f form, key string, p *[]string) {
	if !f.has(key, len(*p) > 0) {
		return
	}
	f.texts(key, *p, func(all []string) error {
		*p = all
		return nil
	})
}

// intField handles a count that a plan may name.
func intField(f form, key string, p *int) { countField(f, key, p, maxCount) }

// countField handles a whole number up to most, either way.
func countField(f form, key string, p *int, most int) {
	f.scalar(key, kindNumber, strconv.Itoa(*p), func(text string) (err error) {
		*p, err = strconv.Atoi(text)
		if err != nil || strconv.Itoa(*p) != text || *p < -most || *p > most {
			return fmt.Errorf("%.40q: %w; need a whole number from -%d to %d", text, ErrOutOfDomain, most, most)
		}
		return nil
	})
}

// optionalInt leaves out 0.
func optionalInt(f form, key string, p *int) {
	if f.has(key, *p != 0) {
		intField(f, key, p)
	}
}

func boolField(f form, key string, p *bool) {
	f.scalar(key, kindBool, strconv.FormatBool(*p), func(text string) error {
		*p = text == "true"
		return nil
	})
}

// plainField handles a number that a person wrote down, as a decimal.
func plainField(f form, key string, p *float64) {
	f.scalar(key, kindText, decimal.NewFromFloat(*p).String(), func(text string) error {
		d, err := recordedDecimal(text)
		if err != nil {
			return err
		}
		*p = d.InexactFloat64()
		if !decimal.NewFromFloat(*p).Equal(d) {
			return fmt.Errorf("%w: more than a float64 keeps", ErrDigits)
		}
		return nil
	})
}

// optionalPlain leaves out 0.
func optionalPlain(f form, key string, p *float64) {
	if f.has(key, *p != 0) {
		plainField(f, key, p)
	}
}

// floatField handles a computed number, as the shortest text that reads back.
func floatField(f form, key string, p *float64) {
	f.scalar(key, kindText, shortest(*p), func(text string) (err error) {
		*p, err = parseShortest(text)
		return err
	})
}

// shortest writes a number with the fewest digits that read back to it.
func shortest(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// parseShortest reads what shortest writes of a finite number, and nothing else.
func parseShortest(text string) (float64, error) {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || shortest(x) != text || !isFinite(x) {
		return 0, fmt.Errorf("%.40q: %w; need a finite number in its shortest form", text, units.ErrSyntax)
	}
	return x, nil
}

// wordField handles an enum by its words.
func wordField[T comparable](f form, key string, p *T, words map[T]string) {
	f.scalar(key, kindText, words[*p], func(text string) error {
		for v, word := range words {
			if word == text {
				*p = v
				return nil
			}
		}
		return fmt.Errorf("%.40q: %w; need one of %s", text, ErrOutOfDomain, quotedWords(words))
	})
}
