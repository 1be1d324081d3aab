package stats

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
)

// ErrEncoding is the reason bytes are refused that no [Accumulator] was written as.
var ErrEncoding = errors.New("not the encoding of an accumulator")

// accumulatorSize is a version, the count and eight numbers.
const accumulatorSize = 1 + 8 + 8*8

// accumulatorVersion is the first byte.
const accumulatorVersion = 1

// AppendBinary appends the state of a to b in 73 bytes, so that a part of a sample
// can be summed up on one machine and merged on another: a version, the count, and
// the mean, central moments and extremes, big-endian. It implements
// [encoding.BinaryAppender]; [Accumulator.UnmarshalBinary] gives back the same bits.
//
// An accumulator that has refused a value is not written; the error is that of
// [Accumulator.Err].
func (a *Accumulator) AppendBinary(b []byte) ([]byte, error) {
	if a.err != nil {
		return b, a.err
	}
	b = append(b, accumulatorVersion)
	b = binary.BigEndian.AppendUint64(b, uint64(a.n))
	for _, x := range a.numbers() {
		b = binary.BigEndian.AppendUint64(b, math.Float64bits(*x))
	}
	return b, nil
}

// MarshalBinary returns what [Accumulator.AppendBinary] appends. It implements
// [encoding.BinaryMarshaler], and its errors are those of AppendBinary.
func (a *Accumulator) MarshalBinary() ([]byte, error) {
	return a.AppendBinary(make([]byte, 0, accumulatorSize))
}

// UnmarshalBinary sets a to the accumulator that data was written from. It
// implements [encoding.BinaryUnmarshaler].
//
// Errors are [*InputError] around [ErrEncoding]: another length or version, or
// numbers that no values have. a is then unchanged.
func (a *Accumulator) UnmarshalBinary(data []byte) error {
	const fn = "stats.Accumulator.UnmarshalBinary"
	if len(data) != accumulatorSize || data[0] != accumulatorVersion {
		return Refuse(fn, "data", fmt.Sprintf("%d bytes", len(data)), ErrEncoding)
	}
	n := binary.BigEndian.Uint64(data[1:])
	read := Accumulator{n: int(n)}
	for i, x := range read.numbers() {
		*x = math.Float64frombits(binary.BigEndian.Uint64(data[9+8*i:]))
	}
	if n > math.MaxInt || !read.isPossible() {
		return Refuse(fn, "data", "", ErrEncoding)
	}
	*a = read
	return nil
}

// numbers are the fields that are written, in their order.
func (a *Accumulator) numbers() [8]*float64 {
	return [...]*float64{&a.mean.hi, &a.mean.lo, &a.m2.hi, &a.m2.lo, &a.m3, &a.m4, &a.lo, &a.hi}
}

// isPossible reports whether values could have led to the state of a. The higher
// moments of finite values may be infinite.
func (a *Accumulator) isPossible() bool {
	if a.n <= 1 {
		return *a == Accumulator{} || *a == Accumulator{n: 1, mean: pair{hi: a.lo}, lo: a.lo, hi: a.lo} && isFinite(a.lo)
	}
	mean := a.mean.value()
	return isFinite(a.lo) && isFinite(a.hi) && a.lo <= mean && mean <= a.hi && !(a.m2.value() < 0)
}
