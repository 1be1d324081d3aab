package units

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"
)

// unit is what the unit types have in common: a small number whose dimension
// knows names and factors.
type unit interface {
	~uint8
	dimension() *dimension
}

// quantity is what the exported quantities have in common: the number that was
// recorded and its unit. They wrap it, so that each has its own type and its own
// documentation.
type quantity[U unit] struct {
	value float64
	unit  U
}

func of[U unit](x float64, u U) quantity[U] {
	if math.IsNaN(x) || math.IsInf(x, 0) || !u.dimension().has(uint8(u)) {
		return quantity[U]{}
	}
	return quantity[U]{x + 0, u} // +0 makes -0 plain 0
}

func (q quantity[U]) given() bool { return q.unit != 0 }

// in converts to u, as the float64 nearest to the exact conversion: 0 where nothing
// is given or u is no unit.
func (q quantity[U]) in(u U, step bool) float64 {
	d := u.dimension()
	switch {
	case !q.given() || !d.has(uint8(u)):
		return 0
	case q.unit == u:
		return q.value
	case step || d.scales[q.unit-1].zero == nil && d.scales[u-1].zero == nil:
		if x, ok := d.ratio[q.unit-1][u-1].times(q.value); ok {
			return x
		}
	}
	x, _ := q.exact(u, step).Float64()
	return finite(x)
}

// finite keeps a conversion that no float64 holds at the largest one, so that
// order survives and no infinity gets out.
func finite(x float64) float64 { return min(max(x, -math.MaxFloat64), math.MaxFloat64) }

// exact converts to u without rounding: nil where in gives 0 for want of a value.
func (q quantity[U]) exact(u U, step bool) *big.Rat {
	d := u.dimension()
	if !q.given() || !d.has(uint8(u)) {
		return nil
	}
	x := exactNumber(q.value)
	if q.unit == u {
		return x
	}
	return d.convert(x, uint8(q.unit), uint8(u), step)
}

// to records q anew in u, as the float64 nearest to the exact conversion.
func (q quantity[U]) to(u U, step bool) quantity[U] {
	if q.unit == u {
		return q
	}
	x := q.exact(u, step)
	if x == nil {
		return quantity[U]{}
	}
	value, _ := x.Float64()
	return of(value, u)
}

// compare orders by amount, exactly; a quantity that is not given comes first.
func (q quantity[U]) compare(other quantity[U], step bool) int {
	switch {
	case !q.given() || !other.given():
		return cmpBool(q.given(), other.given())
	case q.unit == other.unit:
		return cmpFloat(q.value, other.value)
	}
	return q.exact(q.unit, step).Cmp(other.exact(q.unit, step))
}

func cmpBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// plus adds a step to q in the unit of q; the result is not given where either
// is not, or where the step or the sum is too large for a number.
func (q quantity[U]) plus(step quantity[U], sign float64) quantity[U] {
	return q.add(step.to(q.unit, true), sign)
}

// minus returns the step from other to q in the unit of q.
func (q quantity[U]) minus(other quantity[U]) quantity[U] { return q.add(other.to(q.unit, false), -1) }

// add adds what is in the unit of q already.
func (q quantity[U]) add(other quantity[U], sign float64) quantity[U] {
	if !q.given() || !other.given() {
		return quantity[U]{}
	}
	return of(addDecimal(q.value, sign*other.value), q.unit)
}

func (q quantity[U]) appendText(b []byte) []byte {
	if !q.given() {
		return b
	}
	return appendUnit(appendNumber(b, q.value), q.unit)
}

func appendUnit[U unit](b []byte, u U) []byte {
	if name := u.dimension().name(uint8(u)); name != "" {
		b = append(b, ' ')
		b = append(b, name...)
	}
	return b
}

// text converts for people: 12 significant digits, trailing zeros dropped; "" where
// there is nothing, or too much for a number, to convert.
func (q quantity[U]) text(u U, step bool) string {
	converted := q.to(u, step)
	if !converted.given() {
		return ""
	}
	return string(appendUnit([]byte(significant(converted.value).String()), u))
}

// format writes q for package fmt: %v and %s as recorded, %f with the
// precision asked for, rounded half-even in decimal; + shows the sign.
func (q quantity[U]) format(f fmt.State, verb rune, name string) {
	var b []byte
	switch {
	case !q.given() && strings.ContainsRune("vsf", verb):
		b = []byte("not given")
	case verb == 'v' || verb == 's':
		b = q.appendText(nil)
	case verb == 'f':
		b = appendUnit([]byte(q.fixed(f)), q.unit)
	default:
		fmt.Fprintf(f, "%%!%c(units.%s=%s)", verb, name, q.appendText(nil))
		return
	}
	if f.Flag('+') && q.given() && q.value > 0 {
		b = append([]byte{'+'}, b...)
	}
	pad(f, b)
}

func (q quantity[U]) fixed(f fmt.State) string {
	places, ok := f.Precision()
	if !ok {
		places = 6
	}
	places = min(places, maxDigits)
	return decimal.NewFromFloat(q.value).RoundBank(int32(places)).StringFixed(int32(places))
}

func pad(f fmt.State, b []byte) {
	width, _ := f.Width()
	blanks := strings.Repeat(" ", max(0, min(width, 1000)-len([]rune(string(b)))))
	if f.Flag('-') {
		fmt.Fprint(f, string(b), blanks)
		return
	}
	fmt.Fprint(f, blanks, string(b))
}

// parse reads a number and a unit, with blanks around and between them.
func parse[U unit](fn, s string) (quantity[U], error) {
	var none U
	d := none.dimension()
	number, name := splitUnit(strings.Trim(s, " \t"))
	if number == "" && name == "" {
		return quantity[U]{}, &ParseError{Func: fn, Text: s, Err: ErrNotGiven}
	}
	x, err := parseNumber(number)
	if err != nil {
		return quantity[U]{}, &ParseError{Func: fn, Text: s, Err: err, Need: d.record()}
	}
	u := d.lookup(name)
	switch {
	case u == 0 && !likeUnit(name):
		return quantity[U]{}, &ParseError{Func: fn, Text: s, Err: ErrSyntax, Need: d.record()}
	case u == 0:
		return quantity[U]{}, &ParseError{Func: fn, Text: s, Err: ErrUnit, Need: d.names()}
	}
	return of(x, U(u)), nil
}

// likeUnit reports whether what follows a number begins like a unit or is missing.
// Where it does not, the number is at fault: 92,4 or 1_000 or a no-break space.
func likeUnit(name string) bool {
	first, _ := utf8.DecodeRuneInString(name)
	return name == "" || first == '°' || unicode.IsLetter(first)
}

// splitUnit cuts before the first character that no number holds. The e of an
// exponent is followed by a digit or a sign, that of a unit is not.
func splitUnit(s string) (number, name string) {
	end := len(s)
	for i := range len(s) {
		c := s[i]
		exponent := c == 'e' && i > 0 && i+1 < len(s) && strings.IndexByte("+-0123456789", s[i+1]) >= 0
		sign := (c == '-' || c == '+') && (i == 0 || s[i-1] == 'e')
		if c >= '0' && c <= '9' || c == '.' || exponent || sign {
			continue
		}
		end = i
		break
	}
	return s[:end], strings.Trim(s[end:], " \t")
}

func (q *quantity[U]) unmarshal(fn string, text []byte) error {
	if len(text) == 0 {
		*q = quantity[U]{}
		return nil
	}
	parsed, err := parse[U](fn, string(text))
	if err == nil {
		*q = parsed
	}
	return err
}

// scan reads what a database column holds: text with unit, or NULL.
func (q *quantity[U]) scan(fn string, src any) error {
	switch v := src.(type) {
	case nil:
		*q = quantity[U]{}
		return nil
	case string:
		return q.unmarshal(fn, []byte(v))
	case []byte:
		return q.unmarshal(fn, v)
	}
	return &ParseError{Func: fn, Text: fmt.Sprint(src), Err: ErrUnit, Need: "text with a unit, or NULL"}
}

func parseUnit[U unit](fn, s string) (U, error) {
	var none U
	d := none.dimension()
	u := d.lookup(strings.Trim(s, " \t"))
	if u == 0 {
		return none, &ParseError{Func: fn, Text: s, Err: ErrUnit, Need: d.names()}
	}
	return U(u), nil
}

func unmarshalUnit[U unit](u *U, fn string, text []byte) error {
	if len(text) == 0 {
		*u = 0
		return nil
	}
	parsed, err := parseUnit[U](fn, string(text))
	if err == nil {
		*u = parsed
	}
	return err
}
