package stats

import (
	"bytes"
	"encoding"
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

var (
	_ encoding.BinaryAppender    = (*Accumulator)(nil)
	_ encoding.BinaryMarshaler   = (*Accumulator)(nil)
	_ encoding.BinaryUnmarshaler = (*Accumulator)(nil)
)

// What is read back is the same bits, and goes on to the same bits; values come
// from the whole float64 range, and nearly equal ones too.
func TestAccumulatorBinaryRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	for i := range 20000 {
		xs := anyFloats(r, r.IntN(7))
		if i%2 == 0 {
			for k := range xs {
				xs[k] = math.Float64frombits(math.Float64bits(94.1) + r.Uint64N(3))
			}
		}
		a := accumulate(xs...)
		data, err := a.MarshalBinary()
		if a.Err() != nil {
			if !errors.Is(err, a.Err()) {
				t.Fatalf("%v: written with %v, though %v was refused", xs, err, a.Err())
			}
			continue
		}
		var back Accumulator
		if err != nil || back.UnmarshalBinary(data) != nil {
			t.Fatalf("%v: %v, %v", xs, err, back.UnmarshalBinary(data))
		}
		a.Add(93.7)
		back.Add(93.7)
		again, _ := back.AppendBinary(nil)
		if want, _ := a.AppendBinary(nil); !bytes.Equal(again, want) {
			t.Fatalf("%v: %+v became %+v", xs, a, &back)
		}
	}
}

func TestAccumulatorBinaryRefuses(t *testing.T) {
	good, err := accumulate(93.1, 92.4, 94.0).MarshalBinary()
	if err != nil {
		t.Fatal(err)
	}
	with := func(at int, bytes ...byte) []byte {
		return append(append(append([]byte{}, good[:at]...), bytes...), good[at+len(bytes):]...)
	}
	nan := []byte{0x7f, 0xf8, 0, 0, 0, 0, 0, 1}
	for name, data := range map[string][]byte{
		"nothing": nil, "cut": good[:72], "longer": append(append([]byte{}, good...), 0),
		"another version": with(0, 2), "a negative count": with(1, 0xff), "no values but a mean": with(8, 0), "one value with a spread": with(8, 1),
		"mean NaN": with(9, nan...), "mean outside": with(9, 0x40, 0x5f), "smallest NaN": with(57, nan...), "squares below 0": with(25, 0xc0),
	} {
		a := accumulate(1, 2)
		before := *a
		var input *InputError
		if err := a.UnmarshalBinary(data); !errors.Is(err, ErrEncoding) || !errors.As(err, &input) || *a != before {
			t.Errorf("%s: %v, %+v", name, err, a)
		}
	}
}
