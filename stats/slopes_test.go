package stats

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"
)

// pointKinds draw points that are hard in one way each: unrounded, with ties, rounded
// as recorded, near or on a line (so that slopes differ by roundings), far from 0, over
// the whole float64 range, and so small that differences are subnormal.
var pointKinds = map[string]func(r *rand.Rand, i int) (x, y float64){
	"unrounded": func(r *rand.Rand, _ int) (x, y float64) { return r.NormFloat64(), r.NormFloat64() },
	"ties":      func(r *rand.Rand, _ int) (x, y float64) { return float64(r.IntN(10)), float64(r.IntN(10)) },
	"few values": func(r *rand.Rand, _ int) (x, y float64) {
		return float64(r.IntN(3)) / 10, float64(r.IntN(3)) / 10
	},
	"rounded": func(r *rand.Rand, _ int) (x, y float64) {
		x = math.Round(1450+20*r.NormFloat64()) / 10
		return x, math.Round(10*x+25+8*r.NormFloat64()) / 10
	},
	"falling": func(r *rand.Rand, _ int) (x, y float64) {
		x = math.Round(1450+20*r.NormFloat64()) / 10
		return x, math.Round(2950-10*x+5*r.NormFloat64()) / 10
	},
	"line": func(_ *rand.Rand, i int) (x, y float64) { return float64(i), 0.1 * float64(i) },
	"line in steps": func(_ *rand.Rand, i int) (x, y float64) {
		return float64(i), math.Round(float64(i) / 3)
	},
	"far from 0": func(r *rand.Rand, _ int) (x, y float64) {
		x = 1e9 + 1e-5*r.Float64()
		return x, 1e-3*x + 1e-9*r.Float64()
	},
	"all sizes": func(r *rand.Rand, _ int) (x, y float64) {
		return math.Ldexp(r.NormFloat64(), r.IntN(1900)-950), math.Ldexp(r.NormFloat64(), r.IntN(1900)-950)
	},
	"subnormal": func(r *rand.Rand, _ int) (x, y float64) {
		return float64(r.IntN(20)) * 5e-324, float64(r.IntN(20)) * 5e-324
	},
	"huge": func(r *rand.Rand, _ int) (x, y float64) {
		return 1e308 * (r.Float64() - 0.5), 1e308 * (r.Float64() - 0.5)
	},
}

func drawPoints(r *rand.Rand, n int, point func(r *rand.Rand, i int) (x, y float64)) (xs, ys []float64) {
	for i := range n {
		x, y := point(r, i)
		xs, ys = append(xs, x), append(ys, y)
	}
	return xs, ys
}

// Every place of the sorted slopes is that of forming and sorting all slopes, to the last
// bit, and the counts about -1 are those of the decimals.
func TestSlopesAgainstSorting(t *testing.T) {
	trials := 500
	if *long {
		trials = 20000
	}
	for name, point := range pointKinds {
		r := rand.New(rand.NewPCG(92, uint64(len(name))))
		for trial := range trials {
			n := 3 + r.IntN(50)
			if trial%100 == 0 {
				n = 400
			}
			xs, ys := drawPoints(r, n, point)
			if fault := cmp.Or(slopesFault(r, xs, ys), minusOneFault(xs, ys)); fault != "" {
				t.Fatalf("%s, trial %d, n = %d: %s", name, trial, n, fault)
			}
		}
	}
}

func slopesFault(r *rand.Rand, xs, ys []float64) string {
	s, all := newSlopes(xs, ys), sortedSlopes(xs, ys)
	if s.total.data != int64(len(all)) {
		return fmt.Sprintf("%d slopes, want %d", s.total.data, len(all))
	}
	for range min(4, len(all)) {
		k := r.IntN(len(all))
		if got := s.nth(int64(k)); math.Float64bits(got) != math.Float64bits(all[k]) {
			return fmt.Sprintf("slope %d of %d is %v, want %v", k, len(all), got, all[k])
		}
	}
	return ""
}

func minusOneFault(xs, ys []float64) string {
	below, equal := countedAboutMinusOne(xs, ys)
	if b, e := newSlopes(xs, ys).aboutMinusOne(); b != below || e != equal {
		return fmt.Sprintf("%d below -1 and %d of it, want %d and %d", b, e, below, equal)
	}
	return ""
}

// countedAboutMinusOne takes the slope of each pair of points as written in decimals where
// that is near -1.
func countedAboutMinusOne(xs, ys []float64) (below, equal int64) {
	for i, x := range xs {
		for j := range i {
			switch slope := (ys[i] - ys[j]) / (x - xs[j]); {
			case x == xs[j]:
			case isMinusOneAsWritten(slope, x, ys[i], xs[j], ys[j]):
				equal++
			case slope < -1:
				below++
			}
		}
	}
	return below, equal
}

func isMinusOneAsWritten(slope, x, y, otherX, otherY float64) bool {
	if math.Abs(slope+1) > 1e-6 {
		return false
	}
	var sum, term big.Rat
	for _, text := range []string{text(x), text(y), text(-otherX), text(-otherY)} {
		term.SetString(text)
		sum.Add(&sum, &term)
	}
	return slope == -1 || sum.Sign() == 0
}

// Pairs with equal x but not equal y, counted by hand: three at x = 1 (two of them
// equal), two at x = 2.
func TestSlopesCountPairs(t *testing.T) {
	s := newSlopes([]float64{1, 2, 1, 2, 1}, []float64{5, 7, 6, 8, 5})
	if s.total.data != 6 || s.vertical != 3 || len(s.points) != 4 {
		t.Errorf("%d slopes, %d vertical, %d points", s.total.data, s.vertical, len(s.points))
	}
}

// Memory is O(n): at n = 3000 it stays far below the 36 MB of all slopes, also where
// these all agree to a few roundings.
func TestSlopesMemory(t *testing.T) {
	for name, point := range pointKinds {
		xs, ys := drawPoints(rand.New(rand.NewPCG(93, 94)), 3000, point)
		got := testing.Benchmark(func(b *testing.B) {
			b.ReportAllocs()
			s := newSlopes(xs, ys)
			sink += s.nth(s.total.data / 2)
		}).AllocedBytesPerOp()
		if name != "huge" && name != "all sizes" && name != "subnormal" && got > 6e6 { // those compare by big numbers
			t.Errorf("%s: %d bytes", name, got)
		}
	}
}

func TestWeightedNth(t *testing.T) {
	r := rand.New(rand.NewPCG(95, 96))
	for range 2000 {
		var ws []weightedSlope
		var all []float64
		for range 1 + r.IntN(60) {
			w := weightedSlope{float64(r.IntN(20)), 1 + r.Int64N(3)}
			ws = append(ws, w)
			for range w.weight {
				all = append(all, w.slope)
			}
		}
		slices.Sort(all)
		k := r.IntN(len(all))
		if got := weightedNth(ws, int64(k)); got != all[k] {
			t.Fatalf("place %d of %v: %v, want %v", k, all, got, all[k])
		}
	}
}

// FuzzSlopes holds the selection to sorting, on values recorded to a tenth, which tie, and
// on any float64.
func FuzzSlopes(f *testing.F) {
	f.Add([]byte("a place, a gauge and a core: 145.2 147.9, 144.8 147.3"), true)
	f.Add([]byte("\x00\x01\x00\x01\x00\x02\x00\x01\x00\x01\x00\x02\x00\x02\x00\x02"), true)
	f.Add([]byte("\x40\x62\x20\x00\x00\x00\x00\x00\x40\x62\x30\x00\x00\x00\x00\x00 every bit of three points, twice"), false)
	f.Fuzz(func(t *testing.T, data []byte, recorded bool) {
		xs, ys := pointsOf(data[:min(len(data), 1600)], recorded)
		if _, err := slopesOf("", xs, ys); err != nil {
			return
		}
		if fault := slopesFault(rand.New(rand.NewPCG(uint64(len(data)), 96)), xs, ys); fault != "" {
			t.Errorf("%v, %v: %s", xs, ys, fault)
		}
		if !recorded { // where the decimals of any float64 do not say what is -1 to rounding
			return
		}
		if fault := minusOneFault(xs, ys); fault != "" {
			t.Errorf("%v, %v: %s", xs, ys, fault)
		}
	})
}

func pointsOf(data []byte, recorded bool) (xs, ys []float64) {
	size, value := 8, func(b []byte) float64 { return math.Float64frombits(binary.BigEndian.Uint64(b)) }
	if recorded {
		size, value = 2, func(b []byte) float64 { return float64(int16(binary.BigEndian.Uint16(b))) / 10 }
	}
	for ; len(data) >= 2*size; data = data[2*size:] {
		xs, ys = append(xs, value(data)), append(ys, value(data[size:]))
	}
	return xs, ys
}
