package density

import (
	"fmt"
	"math"
	"math/big"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// PeakTest compares the highest pass average with the passes after it. Where the
// mat had levelled by the peak, noise alone would show a peak at least this far
// above what follows with a probability of at most P:
//
//	t = (peak average - mean of all later readings)/(s √(1/n + 1/N))
//	P = min(1, c · P(T > t)),   T Student's t with the degrees of freedom of s
//
// s is the [PatternNoise], n counts the readings of the peak pass, N those of all
// later passes. The peak was picked because it is the highest, so the tail is
// multiplied by the number c of passes that have a pass after them and could have
// been picked (Bonferroni's inequality): P is an upper bound, never too small.
//
// It assumes readings that scatter independently and normally about the level of
// their pass (and spot) with one standard deviation. It is nil where there is no
// noise, where the noise is 0, or where no pass follows the peak. A small P
// supports a break-over; a large one says that the peak is not told from a plateau.
type PeakTest struct {
	Drop     units.DensityDifference // peak average - mean of all later readings
	StdErr   float64                 // of Drop, in its unit
	T        float64                 // Drop/StdErr
	DF       int                     // degrees of freedom, those of the noise
	Compared int                     // c
	P        float64                 // upper bound of the probability that noise alone shows such a peak
}

func testPeak(passes []Pass, peak int, noise *PatternNoise, unit units.DensityUnit) *PeakTest {
	if noise == nil || noise.StdDev == 0 || peak == len(passes)-1 {
		return nil
	}
	later := 0
	sum := new(big.Rat)
	for _, pass := range passes[peak+1:] {
		later += len(pass.Readings)
		addAll(sum, exactOf(pass.Readings))
	}
	top := passes[peak].Readings
	drop := addAll(new(big.Rat), exactOf(top))
	drop.Quo(drop, ratOf(len(top))).Sub(drop, sum.Quo(sum, ratOf(later)))
	t := PeakTest{Drop: unit.Difference(float(drop)), DF: noise.DF, Compared: len(passes) - 1,
		StdErr: noise.StdDev * math.Sqrt(1/float64(len(top))+1/float64(later))}
	t.T = float(drop) / t.StdErr
	return t.withTail()
}

// withTail fills P; nil where a number is out of reach of float64.
func (t PeakTest) withTail() *PeakTest {
	d, err := stats.NewStudentT(float64(t.DF))
	if err != nil {
		return nil
	}
	tail, err := d.Survival(t.T)
	if err != nil || math.IsInf(t.T, 0) || math.IsInf(t.StdErr, 0) {
		return nil
	}
	t.P = min(1, float64(t.Compared)*tail)
	return &t
}

func (t *PeakTest) text() string {
	if t == nil {
		return ""
	}
	return fmt.Sprintf("; noise alone would show such a peak with a probability of at most %.2g", t.P)
}

func addAll(sum *big.Rat, xs []*big.Rat) *big.Rat {
	for _, x := range xs {
		sum.Add(sum, x)
	}
	return sum
}
