package lot

import "testing"

// Outputs from memory, as published with S. Vigna's splitmix64.c and in the
// documentation of generators that are seeded by it; both sequences also by Python,
// with s and z taken modulo 2**64:
//
//	s += 0x9e3779b97f4a7c15
//	z = (s ^ s >> 30) * 0xbf58476d1ce4e5b9
//	z = (z ^ z >> 27) * 0x94d049bb133111eb
//	print(z ^ z >> 31)
func TestSplitMix64(t *testing.T) {
	for seed, want := range map[uint64][]uint64{
		1234567: {6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821},
		0:       {0xe220a8397b1dcdaf, 0x6e789e6aa1b965f4, 0x06c45d188009454f},
	} {
		g := &splitMix64{seed}
		for i, w := range want {
			if got := g.next(); got != w {
				t.Errorf("seed %d, output %d: %d, want %d", seed, i, got, w)
			}
		}
	}
}

// Seeds found by running the steps backwards, in Python: the first output is 2^64-1,
// the least output that is passed over, and the largest that is not.
func TestNumberHasNoBias(t *testing.T) {
	for _, tt := range []struct {
		seed uint64
		want string
	}{
		{3558559446808474027, "0.026833"},
		{10501194427854921445, "0.471281"},
		{778602002244516981, "0.999999"},
	} {
		g := &splitMix64{tt.seed}
		if got := g.number().StringFixed(numberPlaces); got != tt.want {
			t.Errorf("seed %d: %s, want %s", tt.seed, got, tt.want)
		}
	}
}

// Numbers are spread evenly over ten equal classes: chi-square of 100000 numbers,
// 9 degrees of freedom, below its upper 1e-6 point 44.81 (R 4.2.2, qchisq(1e-6, 9,
// lower.tail = FALSE)).
func TestNumbersAreUniform(t *testing.T) {
	var count [10]int
	g := &splitMix64{20260511}
	for range 100_000 {
		count[g.number().Shift(1).IntPart()]++
	}
	chi := 0.0
	for _, c := range count {
		chi += float64((c-10_000)*(c-10_000)) / 10_000
	}
	if chi > 44.81 {
		t.Errorf("chi-square %.2f of %v", chi, count)
	}
}
