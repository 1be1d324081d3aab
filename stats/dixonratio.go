package stats

import (
	"fmt"
	"slices"
)

// DixonRatio names one of Dixon's ratios. For a suspected largest value of n sorted ones
//
//	r(i,j) = (x(n) - x(n-i)) / (x(n) - x(j+1))
//
// and the mirror image for a suspected smallest. With i = 2 a second outlier beside the
// suspect does no harm, with j = 1 or 2 one or two at the other end. The zero value is
// no ratio and is refused.
type DixonRatio int

// Dixon's ratios.
const (
	DixonR10 DixonRatio = iota + 1 // gap to the neighbour over the range
	DixonR11                       // without the value at the other end
	DixonR12                       // without the two values at the other end
	DixonR20                       // gap to the second neighbour over the range
	DixonR21                       // without the value at the other end
	DixonR22                       // without the two values at the other end
)

// String returns the usual name, such as "r10".
func (r DixonRatio) String() string {
	if !r.valid() {
		return fmt.Sprintf("DixonRatio(%d)", int(r))
	}
	return fmt.Sprintf("r%d%d", r.gap(), r.spared())
}

func (r DixonRatio) valid() bool { return r >= DixonR10 && r <= DixonR22 }

// gap is i, spared is j.
func (r DixonRatio) gap() int { return 1 + int(r-DixonR10)/3 }

func (r DixonRatio) spared() int { return int(r-DixonR10) % 3 }

// fewest is the n from which the ratio is not 1 for every sample.
func (r DixonRatio) fewest() int { return r.gap() + r.spared() + 2 }

// UsualDixonRatio returns the ratio that is common for n ≥ 3 values: r10 to 7, r11 to
// 10, r21 to 13, r22 beyond (printed tables end at 30). [Dixon] accepts any other.
//
// The error is an [*InputError] around [ErrTooFew].
//
// Source: W. J. Dixon, Processing data for outliers, Biometrics 9 (1953) 74, followed
// by ASTM E178 (both from memory).
func UsualDixonRatio(n int) (DixonRatio, error) {
	switch {
	case n < 3:
		return 0, tooFew("stats.UsualDixonRatio", "n", n, 3)
	case n <= 7:
		return DixonR10, nil
	case n <= 10:
		return DixonR11, nil
	case n <= 13:
		return DixonR21, nil
	}
	return DixonR22, nil
}

// dixonParts holds a ratio as its parts: Value = 1 - rest, each from differences of the
// values themselves, so that neither loses digits.
type dixonParts struct {
	value, rest float64
	tie         bool // whether both ends have this ratio, to rounding
}

// of returns the ratio for the largest of the sorted values. A suspect level with the
// far value is no outlier: 0.
func (r DixonRatio) of(sorted []float64) dixonParts {
	last := len(sorted) - 1
	top, near, far := 0.5*sorted[last], 0.5*sorted[last-r.gap()], 0.5*sorted[r.spared()] // halved: no difference overflows
	if top == far {
		return dixonParts{rest: 1}
	}
	return dixonParts{value: (top - near) / (top - far), rest: (near - far) / (top - far)}
}

// mirrored returns the values with the other sign, sorted.
func mirrored(sorted []float64) []float64 {
	other := slices.Clone(sorted)
	slices.Reverse(other)
	for i := range other {
		other[i] = -other[i]
	}
	return other
}
