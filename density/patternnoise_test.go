package density_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

var halfPound = density.PatternOptions{Tolerance: units.LbPerFt3.Difference(0.5)}

// at makes passes of readings at spots A, B, C; nil names leave them out.
func at(spots []string, rows ...[]float64) (ps []density.Pass) {
	for _, row := range rows {
		ps = append(ps, density.Pass{Readings: readings(row...), Spots: spots})
	}
	return ps
}

var (
	abc     = []string{"A", "B", "C"}
	plateau = [][]float64{{136.9, 137.8, 139.3}, {140.2, 141.9, 142.7}, {142.8, 143.5, 145.4}, {143.6, 145.2, 146.2},
		{144.4, 145.3, 146.8}, {143.9, 145.6, 146.7}, {144.6, 145.6, 146.9}, {144.2, 145.4, 146.9}}
	overRolled = [][]float64{{137.0, 138.0, 139.0}, {140.4, 142.4, 143.2}, {143.4, 145.1, 145.3}, {145.1, 146.2, 146.7},
		{145.0, 147.1, 147.1}, {144.2, 145.7, 146.0}, {142.7, 144.4, 145.5}, {142.9, 143.8, 145.0}}
)

// Noise and peak test of invented readings, against an independent computation:
// Python fractions for the sums, decimals of 45 digits and Abramowitz and Stegun 26.7.4 (a finite sum for
// even degrees of freedom) for the tail of Student's t.
func TestPatternNoiseAndPeak(t *testing.T) {
	for _, tt := range []struct {
		name         string
		passes       []density.Pass
		outcome      density.PatternOutcome
		stdDev       float64
		df           int
		bySpot       bool
		drop, t, p   float64
		peak, events int // events: warnings of break-over
	}{
		{"plateau, spots known", at(abc, plateau...), density.Plateau, 0.22795676281761354, 14, true, 0.2, 1.074541379034671, 1, 7, 0},
		{"plateau, spots not known", at(nil, plateau...), density.Plateau, 1.286953767623375, 16, false, 0.2, 0.19033238057235458, 1, 7, 0},
		{"break-over, spots known", at(abc, overRolled...), density.BreakOver, 0.3176363599194165662436, 14, true, 1.9333333333333333333333, 9.1299371417545575854805, 9.9727328057308642e-07, 5, 1},
		{"break-over, spots not known", at(nil, overRolled...), density.BreakOver, 1.1368817000902072748606, 16, false, 1.9333333333333333333333, 2.5508370833745463033623, 0.0747847197189860034078, 5, 1},
	} {
		p, err := density.RollerPattern(tt.passes, halfPound)
		if err != nil || p.Noise == nil || p.PeakTest == nil {
			t.Fatalf("%s: %+v, %v", tt.name, p, err)
		}
		for _, v := range []struct {
			what      string
			got, want float64
		}{{"s", p.Noise.StdDev, tt.stdDev}, {"drop", p.PeakTest.Drop.In(units.LbPerFt3), tt.drop}, {"t", p.PeakTest.T, tt.t}, {"P", p.PeakTest.P, tt.p},
			{"standard error", p.StdErrs[0].In(units.LbPerFt3), tt.stdDev / math.Sqrt(3)}} {
			if math.Abs(v.got-v.want) > 1e-12*math.Abs(v.want) {
				t.Errorf("%s: %s = %.17g, want %.17g", tt.name, v.what, v.got, v.want)
			}
		}
		if p.Outcome != tt.outcome || p.Noise.DF != tt.df || p.Noise.BySpot != tt.bySpot || p.Peak != tt.peak || p.PeakTest.Compared != 7 ||
			codes(p.Warnings)[density.WarnOverRolled] != tt.events {
			t.Errorf("%s: %+v", tt.name, p)
		}
	}
}

// A steady difference between spots changes neither noise nor peak test once the
// spots are named, whatever their order, and the order of the readings is not
// trusted.
func TestSpotsCancel(t *testing.T) {
	want, err := density.RollerPattern(at(abc, overRolled...), halfPound)
	if err != nil {
		t.Fatal(err)
	}
	var shifted []density.Pass
	for i, row := range overRolled {
		if i%2 == 0 {
			shifted = append(shifted, density.Pass{Spots: []string{"C", "A", "B"}, Readings: readings(row[2]+3, row[0]-3, row[1])})
		} else {
			shifted = append(shifted, density.Pass{Spots: abc, Readings: readings(row[0]-3, row[1], row[2]+3)})
		}
	}
	got, err := density.RollerPattern(shifted, halfPound)
	if err != nil || math.Abs(got.Noise.StdDev-want.Noise.StdDev) > 1e-14 || got.PeakTest.P != want.PeakTest.P || got.Outcome != want.Outcome {
		t.Errorf("shifted spots: %+v, %v; want %+v", got, err, want)
	}
}

func TestPatternSaysWhatItLacks(t *testing.T) {
	one, err := density.RollerPattern(passes([]float64{138, 142, 144, 144.2, 144.1}, nil), halfPound)
	if err != nil || one.Noise != nil || one.PeakTest != nil || one.StdErrs != nil || codes(one.Warnings)[density.WarnNoNoise] != 1 || one.Outcome != density.Plateau {
		t.Errorf("one reading per pass: %+v, %v", one, err)
	}
	changed := at(abc, plateau...)
	changed[3].Spots = []string{"A", "B", "D"}
	p, err := density.RollerPattern(changed, halfPound)
	if err != nil || codes(p.Warnings)[density.WarnSpots] != 1 || p.Noise.BySpot {
		t.Errorf("a changed spot: %+v, %v", p, err)
	}
	// s = 1.287 within passes, so two averages of three differ by 1.05 by chance.
	if codes(p.Warnings)[density.WarnNoisy] != 1 {
		t.Errorf("noisy averages: %v", p.Warnings)
	}
	wider := halfPound
	for tolerance, want := range map[float64]int{1.05: 1, 1.051: 0} { // 1.286953767…·√(2/3) = 1.0507933…
		wider.Tolerance = units.LbPerFt3.Difference(tolerance)
		if p, err = density.RollerPattern(at(nil, plateau...), wider); err != nil || codes(p.Warnings)[density.WarnNoisy] != want {
			t.Errorf("tolerance %v: %v, %v", tolerance, p.Warnings, err)
		}
	}
	same := at(abc, []float64{138, 138, 138}, []float64{142, 142, 142}, []float64{141, 141, 141})
	if p, err = density.RollerPattern(same, halfPound); err != nil || p.Noise == nil || p.Noise.StdDev != 0 || p.PeakTest != nil {
		t.Errorf("no scatter at all: %+v, %v", p, err)
	}
}

func TestSpotsAreChecked(t *testing.T) {
	for _, tt := range []struct {
		name  string
		spots []string
		want  error
	}{
		{"too few", []string{"A", "B"}, stats.ErrLength},
		{"repeated", []string{"A", "B", "A"}, density.ErrRepeatedID},
		{"empty", []string{"A", "", "C"}, units.ErrNotGiven},
		{"a line break", []string{"A", "B\n", "C"}, density.ErrText},
	} {
		ps := at(abc, plateau...)
		ps[4].Spots = tt.spots
		if _, err := density.RollerPattern(ps, halfPound); !errors.Is(err, tt.want) || !strings.Contains(err.Error(), "passes[4].Spots") {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// On a mat that is level, or levels off at pass 5, P is at most α in no more than α
// of the patterns, which is what an upper bound has to do, and on the level mat not
// in so few that it says nothing. The noise is unbiased, the steady difference
// between spots left out. Seeded, 1200 patterns each of 8 passes at 3 spots, s = 0.6.
func TestPeakProbabilityOnLevelMats(t *testing.T) {
	const trials, alpha, s = 1200, 0.10, 0.6
	rng := rand.New(rand.NewPCG(20, 26))
	for _, tt := range []struct {
		name  string
		below []float64 // the level by pass
		least float64   // share of small P that shows the bound is not empty
	}{
		{"level", make([]float64, 8), alpha / 4},
		{"rises and levels off", []float64{7, 3.5, 1.5, 0.5, 0, 0, 0, 0}, 0},
	} {
		rejected, variance := 0, 0.0
		for range trials {
			p, err := density.RollerPattern(at(abc, simulated(rng, s, tt.below)...), halfPound)
			if err != nil {
				t.Fatal(err)
			}
			variance += p.Noise.StdDev * p.Noise.StdDev / trials
			if p.PeakTest != nil && p.PeakTest.P <= alpha {
				rejected++
			}
		}
		share, wobble := float64(rejected)/trials, 3*math.Sqrt(alpha*(1-alpha)/trials)
		if share > alpha+wobble || share < tt.least {
			t.Errorf("%s: P ≤ %v in %v of the patterns; want at most that and at least %v", tt.name, alpha, share, tt.least)
		}
		// Var(s²) = 2σ⁴/df with 14 degrees of freedom; four standard errors.
		if tolerance := 4 * s * s * math.Sqrt(2.0/14/trials); math.Abs(variance-s*s) > tolerance {
			t.Errorf("%s: mean s² = %v, want %v ± %v", tt.name, variance, s*s, tolerance)
		}
	}
}

// simulated draws readings at three spots of 144, 145.5 and 146, less what is
// missing to the level after each pass.
func simulated(rng *rand.Rand, s float64, below []float64) (rows [][]float64) {
	for _, missing := range below {
		var row []float64
		for _, spot := range []float64{144, 145.5, 146} {
			row = append(row, spot-missing+s*rng.NormFloat64())
		}
		rows = append(rows, row)
	}
	return rows
}
