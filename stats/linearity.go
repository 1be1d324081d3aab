package stats

import (
	"cmp"
	"math"
	"slices"
)

// LinearityTest asks whether the points above a line and those below it are mixed along
// it, as they are about a straight relation. Its scores, √(L/l) for each of l points
// above, -√(l/L) for each of L below and 0 for one on the line to rounding, are added up
// along the line, in order of x + b·(y-a); points of one place, to rounding, are added
// together, so that the order of the data has no part in it. Then
//
//	h = max |cumulative sum|/√(L+1)
//
// is compared with Kolmogorov's distribution: h above 1.22, 1.36 and 1.63 is
// significant at 10 %, 5 % and 1 %.
//
// That is the rule as published, and only roughly at its level, since the line is fitted
// to the points. Share of straight relations that it rejects at 5 %, by simulation with
// the errors of [FitPassingBablok]:
//
//	n                    10      30      100     1000
//	rejected             0 %     3 %     7 %     9 %
//
// A bend that it rejects with few points is real; with hundreds look at the residuals.
//
// Source: H. Passing and W. Bablok, as for FitPassingBablok (from memory, as restated in
// the R package MethComp).
type LinearityTest struct {
	Above, Below int     // points above and below the line, l and L
	MaxCusum     float64 // largest |cumulative sum|
	H            float64
	P            float64
}

// sided is a point's place along a line, and 1 or -1 above or below it.
type sided struct {
	along float64
	side  int
}

func newLinearityTest(xs, ys []float64, slope, intercept float64) LinearityTest {
	var t LinearityTest
	points := make([]sided, len(xs))
	across, along := roundingBeside(xs, ys, slope, intercept)
	for i, x := range xs {
		points[i] = sided{x + float64(slope*(ys[i]-intercept)), sideOf((ys[i]-float64(slope*x))-intercept, across)}
		t.Above += max(points[i].side, 0)
		t.Below += max(-points[i].side, 0)
	}
	slices.SortFunc(points, func(p, q sided) int { return cmp.Compare(p.along, q.along) })
	t.MaxCusum = maxCusum(points, t.Above, t.Below, along)
	t.H = t.MaxCusum / math.Sqrt(float64(t.Below)+1)
	t.P = kolmogorovTail(t.H)
	return t
}

// roundings is how many of coordinates, slope and intercept add up at most where a point is
// put beside a line.
const roundings = 16

// roundingBeside returns how far rounding may put a point off a line and off its place along
// it. The intercept comes from all points, so the farthest counts.
func roundingBeside(xs, ys []float64, slope, intercept float64) (across, along float64) {
	for i, x := range xs {
		across = max(across, math.Abs(ys[i]), math.Abs(float64(slope*x)))
		along = max(along, math.Abs(x), math.Abs(float64(slope*ys[i])))
	}
	across, along = max(across, math.Abs(intercept)), max(along, math.Abs(float64(slope*intercept)))
	return roundings * roundingIn(across), roundings * roundingIn(along)
}

// sideOf is 1, 0 or -1 as a point is above, on or below the line, on it to the rounding of
// its terms: recorded decimals on an exact line lie off it by roundings, and those have an
// order.
func sideOf(off, noise float64) int {
	if math.Abs(off) <= noise {
		return 0
	}
	return cmp.Compare(off, 0)
}

// maxCusum takes points in order along the line, of which those no farther apart than noise
// have one place. The sum is (L·u - l·v)/√(l·L) after u points above and v below.
func maxCusum(points []sided, above, below int, noise float64) float64 {
	var sum, most float64
	for i, p := range points {
		switch p.side {
		case 1:
			sum += float64(below)
		case -1:
			sum -= float64(above)
		}
		if i+1 == len(points) || points[i+1].along > p.along+noise {
			most = max(most, math.Abs(sum))
		}
	}
	if most == 0 {
		return 0
	}
	return most / math.Sqrt(float64(above)) / math.Sqrt(float64(below))
}

// kolmogorovTail returns P(K > x) = 2Σ(-1)ᵏ⁻¹exp(-2k²x²), below 1 by the series that
// converges there,
//
//	1 - √(2π)/x·Σexp(-(2k-1)²π²/(8x²)).
func kolmogorovTail(x float64) float64 {
	const terms = 6 // leave less than 1e-16 at x = 1
	var sum float64
	if x < 1 {
		for k := 1.0; k <= terms; k++ {
			sum += math.Exp(-square((2*k-1)*math.Pi/x) / 8)
		}
		return 1 - math.Sqrt(2*math.Pi)*sum/max(x, math.SmallestNonzeroFloat64)
	}
	for k := 1.0; k <= terms; k += 2 {
		sum += math.Exp(-2*square(k*x)) - math.Exp(-2*square((k+1)*x))
	}
	return max(2*sum, math.SmallestNonzeroFloat64)
}
