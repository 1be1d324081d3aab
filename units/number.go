package units

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// The number of a quantity is a float64 that stands for its shortest decimal
// text. The functions here keep to that decimal.

// maxDigits bounds decimal text from outside, so that no text makes a big number.
const maxDigits = 30

// smallestNormal is the least float64 with all its digits.
const smallestNormal = 0x1p-1022

// appendNumber appends the shortest decimal text of x, without an exponent over
// the range that people write.
func appendNumber(b []byte, x float64) []byte {
	if a := math.Abs(x); a != 0 && (a < 1e-6 || a >= 1e15) {
		return strconv.AppendFloat(b, x, 'e', -1, 64)
	}
	return strconv.AppendFloat(b, x, 'f', -1, 64)
}

// exactNumber returns the decimal that x stands for.
func exactNumber(x float64) *big.Rat {
	var buf [32]byte
	r, _ := new(big.Rat).SetString(string(appendNumber(buf[:0], x)))
	return r
}

// parseNumber reads a decimal number: optional minus sign, digits, an optional
// point with digits on both sides, an optional exponent as [appendNumber] writes
// it. It refuses digits that the float64 would lose.
func parseNumber(s string) (float64, error) {
	mantissa, exponent, hasExponent := strings.Cut(s, "e")
	digits, err := checkDecimal(mantissa)
	if err != nil {
		return 0, err
	}
	if hasExponent && !plainExponent(exponent) {
		return 0, ErrSyntax
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, ErrRange
	}
	// 15 digits survive in a normal number; otherwise only if they read back the same.
	normal := math.Abs(x) >= smallestNormal || x == 0 && !strings.ContainsAny(mantissa, "123456789")
	if (digits > 15 || !normal) && !sameDecimal(s, x) {
		return 0, ErrDigits
	}
	return x + 0, nil // makes -0 plain 0
}

// checkDecimal checks the form -?D+(.D+)? and counts the digits.
func checkDecimal(s string) (digits int, err error) {
	whole, fraction, hasPoint := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	if !allDigits(whole) || hasPoint && !allDigits(fraction) {
		return 0, ErrSyntax
	}
	if digits = len(whole) + len(fraction); digits > maxDigits {
		return 0, ErrDigits
	}
	return digits, nil
}

func plainExponent(s string) bool {
	s = strings.TrimLeft(s, "+-")
	return len(s) <= 3 && allDigits(s)
}

func allDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

func sameDecimal(s string, x float64) bool {
	r, ok := new(big.Rat).SetString(s)
	return ok && r.Cmp(exactNumber(x)) == 0
}

// wholeAt returns x·scale, scale a power of ten, where that is a whole number and x
// has few enough digits for it to stand for its decimal exactly.
func wholeAt(x, scale float64) (whole float64, ok bool) {
	whole = math.Round(x * scale)
	return whole, whole/scale == x && math.Abs(whole) < 1<<51
}

// maxScale is the largest scale that is tried.
const maxScale = 1e11

// addDecimal returns the float64 of the decimal sum of a and b. Where both have
// few enough digits it counts in whole units of the last decimal place, without
// allocation; otherwise it adds the exact decimals.
func addDecimal(a, b float64) float64 {
	for scale := 1.0; scale <= maxScale; scale *= 10 {
		x, okA := wholeAt(a, scale)
		y, okB := wholeAt(b, scale)
		if okA && okB {
			return (x + y) / scale
		}
	}
	sum, _ := new(big.Rat).Add(exactNumber(a), exactNumber(b)).Float64()
	return sum
}

// factor is an exact factor to twice the digits of a float64, high + low.
type factor struct{ high, low float64 }

func newFactor(exact *big.Rat) factor {
	var f factor
	f.high, _ = exact.Float64()
	f.low, _ = new(big.Rat).Sub(exact, new(big.Rat).SetFloat64(f.high)).Float64()
	return f
}

// times returns the float64 nearest to the decimal x times f, without allocation;
// not ok where x has too many digits for that.
//
// Product and quotient carry what their rounding left over, so that 1.001 g/cm3 is
// 1001 kg/m3 and not 1000.9999999999999.
func (f factor) times(x float64) (y float64, ok bool) {
	for scale := 1.0; scale <= maxScale; scale *= 10 {
		if whole, ok := wholeAt(x, scale); ok {
			product := float64(whole * f.high)
			rest := math.FMA(whole, f.low, math.FMA(whole, f.high, -product))
			quotient := product / scale
			return quotient + (math.FMA(-quotient, scale, product)+rest)/scale, true
		}
	}
	return 0, false
}
