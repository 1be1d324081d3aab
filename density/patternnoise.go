package density

import (
	"fmt"
	"math"
	"math/big"
	"sort"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// PatternNoise is how much one reading differs by chance from another after the
// same pass, pooled over the passes.
//
// Where every pass was read once at each of the same named spots, the steady
// differences between spots are taken out,
//
//	s² = Σ(x - pass mean - spot mean + mean)²/((k-1)(m-1)),   k passes, m spots
//
// because they cancel in the difference of two averages. Otherwise
//
//	s² = ΣΣ(x - pass mean)²/Σ(n-1)
//
// which holds the differences between spots as well and so is too large for the
// comparison of averages of the same spots: note the spots. The sums are exact.
type PatternNoise struct {
	StdDev float64 // s, of one reading in the unit of the readings
	DF     int     // degrees of freedom, the divisor
	BySpot bool    // the differences between spots are taken out
}

// spotState says what is known of the spots of a pattern.
type spotState uint8

const (
	spotsUnknown spotState = iota
	spotsSame
	spotsChanged
)

// sameSpots checks the names of the spots and compares them between passes.
func sameSpots(fn string, passes []Pass) (spotState, error) {
	state := spotsSame
	var first []string
	for i, pass := range passes {
		if pass.Spots == nil {
			state = spotsUnknown
			continue
		}
		if err := checkSpots(fn, i, pass); err != nil {
			return 0, err
		}
		spots := sorted(pass.Spots)
		if first == nil {
			first = spots
		}
		if state == spotsSame && fmt.Sprintf("%q", spots) != fmt.Sprintf("%q", first) {
			state = spotsChanged
		}
	}
	return state, nil
}

func checkSpots(fn string, i int, pass Pass) error {
	arg := fmt.Sprintf("passes[%d].Spots", i)
	if len(pass.Spots) != len(pass.Readings) {
		return stats.Refuse(fn, arg, "", fmt.Errorf("%w (%d spots, %d readings)", stats.ErrLength, len(pass.Spots), len(pass.Readings)))
	}
	seen := map[string]bool{}
	for j, spot := range pass.Spots {
		if err := checkID(fn, arg, j, spot); err != nil {
			return err
		}
		if seen[spot] {
			return &stats.InputError{Func: fn, Arg: arg, Index: j, ID: spot, Err: ErrRepeatedID}
		}
		seen[spot] = true
	}
	return nil
}

func sorted(names []string) []string {
	out := append([]string(nil), names...)
	sort.Strings(out)
	return out
}

// estimateNoise returns nil where no pass holds a second reading to compare.
func estimateNoise(passes []Pass, spots spotState) *PatternNoise {
	squares, df := withinPasses(passes)
	bySpot := spots == spotsSame && len(passes) > 1
	if bySpot {
		squares.Sub(squares, betweenSpots(passes))
		df -= len(passes[0].Readings) - 1
	}
	if df < 1 {
		return nil
	}
	return &PatternNoise{StdDev: sqrt(squares.Quo(squares, ratOf(df))), DF: df, BySpot: bySpot}
}

// withinPasses returns ΣΣ(x - pass mean)² and its degrees of freedom.
func withinPasses(passes []Pass) (*big.Rat, int) {
	squares, df := new(big.Rat), 0
	for _, pass := range passes {
		squares.Add(squares, scatter(exactOf(pass.Readings)))
		df += len(pass.Readings) - 1
	}
	return squares, df
}

// betweenSpots returns the share of ΣΣ(x - pass mean)² that the spots explain, for
// passes that each hold every spot once: k times the scatter of the spot means.
func betweenSpots(passes []Pass) *big.Rat {
	totals := map[string]*big.Rat{}
	for _, pass := range passes {
		for j, x := range exactOf(pass.Readings) {
			if totals[pass.Spots[j]] == nil {
				totals[pass.Spots[j]] = new(big.Rat)
			}
			totals[pass.Spots[j]].Add(totals[pass.Spots[j]], x)
		}
	}
	sums := make([]*big.Rat, 0, len(totals))
	for _, spot := range sorted(passes[0].Spots) {
		sums = append(sums, totals[spot])
	}
	return new(big.Rat).Quo(scatter(sums), ratOf(len(passes)))
}

func exactOf(readings []Reading) (xs []*big.Rat) {
	for _, r := range readings {
		xs = append(xs, r.d.Exact(r.d.Unit()))
	}
	return xs
}

// scatter returns Σ(x - mean)².
func scatter(xs []*big.Rat) *big.Rat {
	sum, squares := new(big.Rat), new(big.Rat)
	for _, x := range xs {
		sum.Add(sum, x)
		squares.Add(squares, new(big.Rat).Mul(x, x))
	}
	sum.Mul(sum, sum)
	return squares.Sub(squares, sum.Quo(sum, ratOf(len(xs))))
}

func (n *PatternNoise) stdErrs(passes []Pass, unit units.DensityUnit) (all []units.DensityDifference) {
	if n == nil {
		return nil
	}
	for _, pass := range passes {
		all = append(all, unit.Difference(n.StdDev/math.Sqrt(float64(len(pass.Readings)))))
	}
	return all
}

// warnOfNoise says what the noise means for the tolerance.
func (p *Pattern) warnOfNoise(unit units.DensityUnit, spots spotState) {
	if spots == spotsChanged {
		p.warnAt(WarnSpots, 0, "the passes were not read at the same spots, so their averages differ by the spots as well; read every spot after every pass")
	}
	if p.Noise == nil {
		p.warnAt(WarnNoNoise, 0, "one reading per pass gives no estimate of the noise; read two or more spots after every pass and note which")
		return
	}
	least := math.Inf(1)
	for _, e := range p.StdErrs {
		least = min(least, e.In(unit))
	}
	if difference := math.Sqrt2 * least; p.Options.Tolerance.In(unit) < difference {
		p.warnAt(WarnNoisy, 0, "the tolerance %v is less than the standard error %.2f %v of a difference of two averages; read more spots per pass or allow more",
			p.Options.Tolerance, difference, unit)
	}
}
