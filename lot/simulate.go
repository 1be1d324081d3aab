package lot

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/densilot/densilot/stats"
)

// SimulationOptions say what [Simulate] does. All fields are needed but where a remark
// says otherwise.
type SimulationOptions struct {
	N        int // results of a lot, at least 3
	Limits   Limits
	Source   LotSource
	Schedule Schedule  // over the estimate in percent, from 0
	Each     Limits    // a lot with a result outside is rejected; zero for no such rule
	Lots     int       // most lots
	StdErr   float64   // stop once both standard errors are no more than this; 0 for all lots
	Seed     uint64    // any number; the same one gives the same result
	Workers  int       // goroutines, without influence on the result; 0 means GOMAXPROCS
	Progress func(int) // called now and then with the lots done, never from two goroutines; may be nil
}

// SimulationResult is what happened to the lots. Standard errors are those of
// independent lots.
type SimulationResult struct {
	Lots           int
	Factor         float64 // mean pay factor, a rejected lot counted as 0
	FactorStdErr   float64
	Rejected       float64 // share of lots that are rejected
	RejectedStdErr float64
	Full           float64 // share of lots with a factor of 1 or more
	FullStdErr     float64
	Flagged        float64 // share of lots in which the screen of a plan flags a result
	Samples        float64 // mean number of samples taken
	PWL            float64 // mean of the estimates in percent, or of what else a plan reads its schedule with
	PWLStdErr      float64
	PWLStdDev      float64 // standard deviation of the estimates
}

// mostLots keeps the number of a lot and the sums within an int of 32 bits.
const mostLots = 1_000_000_000

// Simulate draws lots, estimates each as [EstimateLots] does and pays it by the
// schedule: for populations and rules that have no exact answer. For independent
// results of a normal population [ExpectedPay] has one.
//
// Lot i draws from a stream of its own, PCG-DXSM started from Seed and i, and
// sums are added up in the order of lots, so the result is the same for any
// number of workers, bit for bit. Whether StdErr is reached is looked at every
// 65536 lots. With fewer than some hundred rejected lots their standard error is
// itself uncertain; it is worked out from a share of at least 1/lots.
//
// An error of ctx is returned as it is, wrapped. Other errors are
// [*stats.InputError] with the field, around [stats.ErrTooFew], [ErrMissing],
// [ErrNotCovered], [ErrOutOfDomain], those of [Limits.Validate], or those of
// EstimateLots with the number of the lot. It costs some 0.2 µs for a lot of five.
func Simulate(ctx context.Context, o SimulationOptions) (SimulationResult, error) {
	const fn = "lot.Simulate"
	if err := o.check(fn, ctx); err != nil {
		return SimulationResult{}, err
	}
	return newSimulationRounds(o.Lots, o.Workers, o.worker).all(ctx, fn, o.StdErr, o.Progress)
}

func (o *SimulationOptions) check(fn string, ctx context.Context) error {
	for _, f := range []struct {
		arg string
		bad bool
		err error
	}{
		{"ctx", ctx == nil, ErrMissing},
		{"o.Limits", o.Limits.Validate() != nil, o.Limits.Validate()},
		{"o.Each", o.Each != (Limits{}) && o.Each.Validate() != nil, o.Each.Validate()},
		{"o.Source", o.Source == nil, ErrMissing},
		{"o.N", o.N > mostResults, ErrOutOfDomain},
		{"o.Lots", o.Lots < 2 || o.Lots > mostLots, ErrOutOfDomain},
		{"o.StdErr", !(o.StdErr >= 0), ErrOutOfDomain},
		{"o.Workers", o.Workers < 0, ErrOutOfDomain},
	} {
		if f.bad {
			return stats.Refuse(fn, f.arg, "", f.err)
		}
	}
	if o.N < 3 {
		return tooFew(fn, "o.N", o.N)
	}
	return checkPayment(fn, o.Schedule, Retesting{})
}

// worker returns a function that draws, estimates and pays blocks of lots.
func (o *SimulationOptions) worker() blockFunc {
	var w struct {
		stream rand.PCG
		_      [128]byte // keeps the streams of two workers out of one cache line
	}
	random := rand.New(&w.stream)
	memory, estimates := make([]float64, blockLots*o.N), make([]Within, blockLots)
	each := o.Each.pair()
	return func(first, lots int) (sums lotSums, err error) {
		results, within := memory[:lots*o.N], estimates[:lots]
		for i := range lots {
			lotStream(&w.stream, o.Seed, first+i)
			o.Source(results[i*o.N:(i+1)*o.N:(i+1)*o.N], random)
		}
		if err := EstimateLots(within, results, o.N, o.Limits); err != nil {
			return sums, err
		}
		for i := range within {
			factor, reject, err := o.Schedule.FactorAt(within[i].PWL)
			if err != nil {
				return sums, refuseAt("", "", i, "", err)
			}
			reject = reject || !each.allWithin(results[i*o.N:(i+1)*o.N])
			sums.add(lotOutcome{measure: within[i].PWL, factor: factor, rejected: reject, samples: 1})
		}
		return sums, nil
	}
}

// lotOutcome is what became of one lot.
type lotOutcome struct {
	measure, factor   float64
	rejected, flagged bool
	samples           int
}

// lotSums are sums over lots. Those of estimates are of what they lack of 100,
// which is small where most is within, so that their squares keep their digits.
type lotSums struct {
	lots, rejected, full, flagged int
	samples                       float64
	factor, factor2               float64
	deficit, deficit2             float64 // of 100 - estimate
}

// add counts a lot in.
func (s *lotSums) add(o lotOutcome) {
	if o.rejected {
		o.factor = 0
		s.rejected++
	} else if o.factor >= 1 {
		s.full++
	}
	if o.flagged {
		s.flagged++
	}
	s.lots++
	s.samples += float64(o.samples)
	s.factor += o.factor
	s.factor2 += float64(o.factor * o.factor)
	missing := 100 - o.measure
	s.deficit += missing
	s.deficit2 += float64(missing * missing)
}

func (s *lotSums) join(other *lotSums) {
	s.lots += other.lots
	s.rejected += other.rejected
	s.full += other.full
	s.flagged += other.flagged
	s.samples += other.samples
	s.factor += other.factor
	s.factor2 += other.factor2
	s.deficit += other.deficit
	s.deficit2 += other.deficit2
}

func (s *lotSums) result() SimulationResult {
	lots := float64(s.lots)
	r := SimulationResult{Lots: s.lots, Samples: s.samples / lots}
	r.Rejected, r.RejectedStdErr = simulatedShare(s.rejected, lots)
	r.Full, r.FullStdErr = simulatedShare(s.full, lots)
	r.Flagged, _ = simulatedShare(s.flagged, lots)
	var factorStdDev float64
	r.Factor, factorStdDev = meanAndSpread(s.factor, s.factor2, lots)
	r.FactorStdErr = factorStdDev / math.Sqrt(lots)
	deficit, spread := meanAndSpread(s.deficit, s.deficit2, lots)
	r.PWL, r.PWLStdDev, r.PWLStdErr = 100-deficit, spread, spread/math.Sqrt(lots)
	return r
}

// simulatedShare returns a share and its standard error, worked out from a share of at
// least one lot.
func simulatedShare(count int, lots float64) (share, stdErr float64) {
	share = float64(count) / lots
	safe := min(max(share, 1/lots), 1-1/lots)
	return share, math.Sqrt(safe * (1 - safe) / lots)
}

// meanAndSpread returns the mean and the standard deviation with divisor n-1.
func meanAndSpread(sum, squares, n float64) (mean, stdDev float64) {
	mean = sum / n
	return mean, math.Sqrt(max(0, squares-sum*mean) / (n - 1))
}

// lotError gives the error of a block of lots the number that the lot has in the
// simulation.
func lotError(fn string, err error, first int) error {
	e, ok := err.(*stats.InputError)
	if !ok || e.Index < 0 {
		return fmt.Errorf("%s: %w", fn, err)
	}
	return refuseAt(fn, "o.Source, lot", first+e.Index, "", e.Err)
}
