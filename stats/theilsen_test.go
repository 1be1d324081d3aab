package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var theilSen = TheilSenOptions{Level: 0.95, Method: RankNormal}

// The points with ties in both columns of testdata/rankfits.R.
var (
	tiedX = []float64{3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 9, 2}
	tiedY = []float64{3.1, 1.4, 4.2, 0.9, 5.5, 8.6, 2.5, 5.9, 5.5, 3.1, 4.4, 9.2, 3.2}
)

// Expected values: testdata/rankfits.R.
func TestTheilSenTies(t *testing.T) {
	f, err := FitTheilSen(tiedX, tiedY, TheilSenOptions{Level: 0.9, Method: RankNormal})
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-14,
		figure{"slope", f.Slope, 0.933333333333333}, figure{"intercept", f.Intercept, 0.466666666666666},
		figure{"lower", f.SlopeCI.Lo, 0.85}, figure{"upper", f.SlopeCI.Hi, 1.0375},
		figure{"pairs", float64(f.Pairs), 71}, figure{"place", float64(f.LowerRank), 22})
}

// Slope, intercept and limits are those of the sorted slopes to the last bit, whatever
// the order of the points.
func TestTheilSenAgainstSorting(t *testing.T) {
	for name, point := range pointKinds {
		r := rand.New(rand.NewPCG(97, uint64(len(name))))
		for range 150 {
			n := 3 + r.IntN(40)
			xs, ys := drawPoints(r, n, point)
			f, err := FitTheilSen(xs, ys, theilSen)
			if err != nil {
				if all := sortedSlopes(xs, ys); len(all) > 0 && isFinite(all[len(all)/2]) && !errors.Is(err, ErrOverflow) {
					t.Fatalf("%s: %v", name, err)
				}
				continue
			}
			all := sortedSlopes(xs, ys)
			want := all[len(all)/2]
			if len(all)%2 == 0 {
				want = 0.5 * (all[len(all)/2-1] + want)
			}
			if math.Float64bits(f.Slope) != math.Float64bits(want) {
				t.Fatalf("%s: slope %v, want %v", name, f.Slope, want)
			}
			if k := int(f.LowerRank); k > 0 && (f.SlopeCI.Lo != all[k-1] || f.SlopeCI.Hi != all[len(all)-k]) {
				t.Fatalf("%s: limits %v, want %v and %v", name, f.SlopeCI, all[k-1], all[len(all)-k])
			}
			r.Shuffle(n, func(i, j int) { xs[i], xs[j], ys[i], ys[j] = xs[j], xs[i], ys[j], ys[i] })
			if again, err := FitTheilSen(xs, ys, theilSen); err != nil || !cmp.Equal(f, again) {
				t.Fatalf("%s: another order gives %+v, %v", name, again, err)
			}
		}
	}
}

// Powers of two scale the fit without rounding; a shift of whole numbers moves the
// intercept alone.
func TestTheilSenLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(98, 99))
	for range 200 {
		xs, ys := drawPoints(r, 4+r.IntN(30), pointKinds["ties"])
		f, err := FitTheilSen(xs, ys, theilSen)
		if errors.Is(err, ErrNoSpread) {
			continue
		}
		scaledX, shiftedY, tilted := slices.Clone(xs), slices.Clone(ys), slices.Clone(ys)
		for i := range xs {
			scaledX[i] *= -4
			shiftedY[i] += 100
			tilted[i] += 3 * xs[i]
		}
		scaled, err1 := FitTheilSen(scaledX, ys, theilSen)
		shifted, err2 := FitTheilSen(xs, shiftedY, theilSen)
		turned, err3 := FitTheilSen(xs, tilted, theilSen)
		if err := errors.Join(err, err1, err2, err3); err != nil {
			t.Fatal(err)
		}
		if scaled.Slope != -f.Slope/4 || scaled.SlopeCI.Lo != -f.SlopeCI.Hi/4 && f.SlopeCI.Shape == Between || math.Abs(scaled.Intercept-f.Intercept) > 1e-12 {
			t.Errorf("scaled: %+v, was %+v", scaled, f)
		}
		if shifted.Slope != f.Slope || math.Abs(shifted.Intercept-f.Intercept-100) > 1e-12 {
			t.Errorf("shifted: %+v, was %+v", shifted, f)
		}
		if math.Abs(turned.Slope-f.Slope-3) > 1e-14 || math.Abs(turned.SlopeCI.Lo-f.SlopeCI.Lo-3) > 1e-14 && f.SlopeCI.Shape == Between {
			t.Errorf("turned: %+v, was %+v", turned, f)
		}
	}
}

// The orders of seven points counted one by one: testdata/rankfits.R, there 12 times
// where two and three have one x.
func TestDiscordantCounts(t *testing.T) {
	for _, tt := range []struct {
		ties []int
		want []int64
	}{
		{[]int{1, 1, 1, 1, 1, 1, 1}, []int64{1, 6, 20, 49, 98, 169, 259, 359, 455, 531, 573, 573, 531, 455, 359, 259, 169, 98, 49, 20, 6, 1}},
		{[]int{2, 1, 3, 1}, []int64{1, 3, 7, 13, 21, 30, 39, 46, 50, 50, 46, 39, 30, 21, 13, 7, 3, 1}},
	} {
		var got []int64
		for _, c := range discordantCounts(tt.ties) {
			got = append(got, c.Int64())
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%v: %s", tt.ties, diff)
		}
	}
}

// A level that is just attained: of the 20 orders of two threes 1, 1, 2, 3, 3, 3, 3, 2, 1
// and 1 have 0 to 9 pairs the wrong way round.
func TestExactRankAtLevel(t *testing.T) {
	for _, tt := range []struct {
		level float64
		r     int64
	}{{0.9, 1}, {0.8, 2}, {0.6, 3}, {0.3, 4}, {0.9000001, 0}, {0.8000001, 1}} {
		if r, attained := exactRank([]int{3, 3}, tt.level); r != tt.r || r > 0 && attained < tt.level-1e-15 {
			t.Errorf("level %v: place %d, %v", tt.level, r, attained)
		}
	}
}

// The exact distribution has the variance that RankNormal uses.
func TestKendallDeviation(t *testing.T) {
	for _, ties := range [][]int{{1, 1, 1}, {2, 1, 3, 1}, {4, 4, 4}, {1, 1, 1, 1, 1, 1, 1, 1, 1, 5}} {
		counts := discordantCounts(ties)
		var all, squares float64
		for k, c := range counts {
			weight, _ := c.Float64()
			all += weight
			squares += weight * square(float64(len(counts)-1-2*k))
		}
		checkFigures(t, 1e-13, figure{"deviation", kendallDeviation(ties), math.Sqrt(squares / all)})
	}
}

func TestTheilSenRefuses(t *testing.T) {
	ten, many := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, make([]float64, 51)
	for i := range many {
		many[i] = float64(i)
	}
	for _, tt := range []struct {
		name   string
		xs, ys []float64
		o      TheilSenOptions
		want   error
	}{
		{"nothing", nil, nil, theilSen, ErrTooFew}, {"two", ten[:2], ten[:2], theilSen, ErrTooFew},
		{"lengths", ten, ten[:9], theilSen, ErrLength}, {"x all equal", []float64{2, 2, 2}, ten[:3], theilSen, ErrNoSpread},
		{"a NaN", []float64{1, math.NaN(), 3}, ten[:3], theilSen, ErrNotFinite}, {"infinite", ten[:3], []float64{1, 2, math.Inf(1)}, theilSen, ErrNotFinite},
		{"range of x", []float64{-1e308, 0, 1e308}, ten[:3], theilSen, ErrOverflow}, {"range of y", ten[:3], []float64{-1e308, 0, 1e308}, theilSen, ErrOverflow},
		{"infinite slope", []float64{0, 5e-324, 1e-323}, ten[:3], theilSen, ErrOverflow},
		{"no method", ten, ten, TheilSenOptions{Level: 0.95}, ErrParameter}, {"level", ten, ten, TheilSenOptions{Level: 95, Method: RankExact}, ErrLevel},
		{"too many for exact", many, many, TheilSenOptions{Level: 0.95, Method: RankExact}, ErrParameter},
	} {
		if f, err := FitTheilSen(tt.xs, tt.ys, tt.o); !errors.Is(err, tt.want) || f.N != 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	f, err := FitTheilSen(ten[:3], ten[:3], theilSen)
	if err != nil || f.SlopeCI.Shape != Everything || f.SlopeCI.Level != 0.95 || f.Warnings[0].Code != WarnUnbounded {
		t.Errorf("three points: %+v, %v", f, err)
	}
	// subnormal x whose slopes are finite are no worse than others
	if f, err := FitTheilSen([]float64{5e-324, 1e-323, 2e-323}, []float64{1e-320, 2e-320, 4e-320}, theilSen); err != nil || math.Abs(f.Slope-2024) > 1 {
		t.Errorf("subnormal: %+v, %v", f, err)
	}
}

func TestTheilSenCoverage(t *testing.T) {
	holds := func(method RankMethod, twos int) func(t *testing.T, r *rand.Rand, n int) bool {
		return func(t *testing.T, r *rand.Rand, n int) bool {
			var xs, ys []float64
			for i := range n {
				x := float64(i / twos)
				xs, ys = append(xs, x), append(ys, x+r.NormFloat64())
			}
			return must[TheilSenFit](t)(FitTheilSen(xs, ys, TheilSenOptions{Level: 0.95, Method: method})).SlopeCI.Contains(1)
		}
	}
	attained := coverage{} // 1 - 2·P of cutting off, as RankExact reports it
	for k, n := range []int{3, 5, 10, 30} {
		attained.byN[k] = 1
		if r, level := exactRank(slices.Repeat([]int{1}, n), 0.95); r > 0 {
			attained.byN[k] = level
		}
	}
	checkCoverage(t, 74,
		simulated{"exact, even", holds(RankExact, 1), attained},
		simulated{"normal, even", holds(RankNormal, 1), about(100, 100, 97, 95)},
		simulated{"exact, twos", holds(RankExact, 2), about(100, 100, 97, 95)},
		simulated{"normal, twos", holds(RankNormal, 2), about(100, 100, 97, 95)},
	)
}
