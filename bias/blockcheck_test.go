package bias_test

import (
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// blockReadings makes one reading a day from 1 May on; the values are invented.
func blockReadings(xs ...float64) (bs []bias.BlockReading) {
	for i, x := range xs {
		bs = append(bs, bias.BlockReading{At: day(1 + i), Value: units.LbPerFt3.Of(x)})
	}
	return bs
}

func day(n int) time.Time { return time.Date(2025, 5, n, 6, 30, 0, 0, time.UTC) }

func blockToday(n int, x float64) bias.BlockReading {
	return bias.BlockReading{At: day(n), Value: units.LbPerFt3.Of(x)}
}

// R 4.2.2: m <- mean(h); s <- mean(abs(diff(h)))*sqrt(pi)/2; m + c(-3, 3)*s.
func TestCheckBlockByHistory(t *testing.T) {
	history := blockReadings(135.0, 135.2, 134.9, 135.1, 135.0, 134.8, 135.1, 135.0)
	o := bias.BlockOptions{Multiple: 3}
	r, err := bias.CheckBlock(history, blockToday(9, 135.5), o)
	if err != nil || !r.Passed || !r.InDoubt.To.IsZero() || len(r.Kept) != 1 || r.Broken != nil {
		t.Fatalf("%+v, %v", r, err)
	}
	if l := r.Chart.Limits; math.Abs(l.Lo-134.4807638447) > 5e-11 || math.Abs(l.Hi-135.5442361553) > 5e-11 {
		t.Errorf("limits %v", l)
	}
	r, err = bias.CheckBlock(history, blockToday(9, 135.6), o)
	if err != nil || r.Passed || r.InDoubt != (bias.TimeSpan{From: day(8), To: day(9)}) {
		t.Errorf("outside: %+v, %v", r, err)
	}
}

// A drift that stays within the limits 134.68 to 135.50. R 4.2.2, the tabular sum with
// slack σ/2: after today 0.794857776 above 4σ = 0.5454, and last 0 after the tenth check.
func TestCheckBlockSeesADrift(t *testing.T) {
	history := blockReadings(135.0, 135.2, 134.9, 135.1, 135.0, 134.8, 135.1, 135.0, 134.9, 135.1, 135.2, 135.3, 135.3, 135.4)
	slices.Reverse(history)
	r, err := bias.CheckBlock(history, blockToday(15, 135.4), bias.BlockOptions{Multiple: 3, Reference: 0.5, Decision: 4})
	if err != nil || r.Passed || len(r.Broken) != 1 || len(r.Kept) != 1 {
		t.Fatalf("%+v, %v", r, err)
	}
	if got := r.CUSUM.High[14]; math.Abs(got-0.794857776) > 5e-10 {
		t.Errorf("sum %v", got)
	}
	if r.InDoubt != (bias.TimeSpan{From: day(10), To: day(15)}) {
		t.Errorf("in doubt %v", r.InDoubt)
	}
	if history[0].At != day(14) {
		t.Error("the input was sorted")
	}
}

// Turned upside down about 135 the drift goes down and is found by the other sum.
func TestCheckBlockSeesADriftDown(t *testing.T) {
	history := blockReadings(135.0, 134.8, 135.1, 134.9, 135.0, 135.2, 134.9, 135.0, 135.1, 134.9, 134.8, 134.7, 134.7, 134.6)
	r, err := bias.CheckBlock(history, blockToday(15, 134.6), bias.BlockOptions{Multiple: 3, Reference: 0.5, Decision: 4})
	if err != nil || r.Passed || math.Abs(r.CUSUM.Low[14]-0.794857776) > 5e-10 || r.InDoubt.From != day(10) {
		t.Errorf("%+v, %v", r, err)
	}
	steady, err := bias.CheckBlock(history[:8], blockToday(9, 135.0), bias.BlockOptions{Multiple: 3, Reference: 0.5, Decision: 4})
	if err != nil || !steady.Passed || steady.CUSUM == nil || len(steady.Kept) != 2 {
		t.Errorf("steady: %+v, %v", steady, err)
	}
}

// By hand: 135.5 - 135.0 is exactly the tolerance 0.5 and passes; binary 135.6 - 135.1
// would be 0.5000000000000142.
func TestCheckBlockByTolerance(t *testing.T) {
	for _, tt := range []struct {
		assigned, today float64
		passed          bool
	}{{135.0, 135.5, true}, {135.1, 135.6, true}, {135.1, 135.7, false}, {135.1, 134.6, true}, {135.1, 134.5, false}} {
		o := bias.BlockOptions{Assigned: units.LbPerFt3.Of(tt.assigned), Tolerance: units.LbPerFt3.Difference(0.5)}
		r, err := bias.CheckBlock(nil, blockToday(9, tt.today), o)
		if err != nil || r.Passed != tt.passed || r.Passed == (r.Kept == nil) || r.Passed != (r.Broken == nil) || r.InDoubt.To.IsZero() != tt.passed || !r.InDoubt.From.IsZero() {
			t.Errorf("%v of %v: %+v, %v", tt.today, tt.assigned, r, err)
		}
	}
	// a coarse display whose history gives no limits: the tolerance alone judges
	o := bias.BlockOptions{Assigned: units.LbPerFt3.Of(135), Tolerance: units.LbPerFt3.Difference(1.5), Multiple: 3}
	r, err := bias.CheckBlock(blockReadings(135, 135, 135), blockToday(4, 136), o)
	if err != nil || !r.Passed || r.Chart != nil || !has(r.Warnings, stats.WarnConstant) {
		t.Errorf("%+v, %v", r, err)
	}
}

// A check that failed itself ends no doubt: yesterday's was off as well, the last in
// order is that of 7 May. By hand for the tolerance; the limits of the history with the
// bad check in it are wide, which is warned of.
func TestDoubtReachesBackToTheLastCheckInOrder(t *testing.T) {
	history := blockReadings(135.0, 135.2, 134.9, 135.1, 135.0, 134.8, 135.1, 136.0)
	byTolerance := bias.BlockOptions{Assigned: units.LbPerFt3.Of(135), Tolerance: units.LbPerFt3.Difference(0.5)}
	r, err := bias.CheckBlock(history, blockToday(9, 136.1), byTolerance)
	if err != nil || r.Passed || r.InDoubt != (bias.TimeSpan{From: day(7), To: day(9)}) {
		t.Errorf("%+v, %v", r.InDoubt, err)
	}
	for at, want := range map[time.Time]bool{day(7): false, day(7).Add(time.Hour): true, day(8): true, day(9): true, day(9).Add(time.Hour): false} {
		if got := r.InDoubt.Contains(at); got != want {
			t.Errorf("%v in doubt: %v", at, got)
		}
	}
	if (bias.TimeSpan{}).Contains(day(1)) || !(bias.TimeSpan{To: day(9)}).Contains(day(1)) {
		t.Error("no span, or one without a beginning")
	}
	r, err = bias.CheckBlock(history, blockToday(9, 136.8), bias.BlockOptions{Multiple: 3})
	if err != nil || r.Passed || r.InDoubt.From != day(7) || !has(r.Warnings, bias.WarnHistory) {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestCheckBlockRefuses(t *testing.T) {
	history, today := blockReadings(135.0, 135.2, 134.9), blockToday(9, 135)
	byHistory := bias.BlockOptions{Multiple: 3}
	lb := units.LbPerFt3
	for _, tt := range []struct {
		name    string
		history []bias.BlockReading
		today   bias.BlockReading
		o       bias.BlockOptions
		want    error
	}{
		{"judged by nothing", history, today, bias.BlockOptions{}, units.ErrNotGiven},
		{"sums without limits", history, today, bias.BlockOptions{Assigned: lb.Of(135), Tolerance: lb.Difference(1), Decision: 4}, stats.ErrParameter},
		{"no value of the block", history, today, bias.BlockOptions{Tolerance: lb.Difference(1)}, units.ErrNotGiven},
		{"tolerance 0", history, today, bias.BlockOptions{Assigned: lb.Of(135), Tolerance: lb.Difference(0)}, density.ErrNotPositive},
		{"tolerance in another unit", history, today, bias.BlockOptions{Assigned: lb.Of(135), Tolerance: units.KgPerM3.Difference(10)}, density.ErrUnitMismatch},
		{"a NaN multiple", history, today, bias.BlockOptions{Multiple: math.NaN()}, stats.ErrParameter},
		{"an endless decision", history, today, bias.BlockOptions{Multiple: 3, Decision: math.Inf(1)}, stats.ErrParameter},
		{"one check", history[:1], today, byHistory, stats.ErrTooFew},
		{"none", nil, today, byHistory, stats.ErrTooFew},
		{"equal history", blockReadings(135, 135, 135), today, byHistory, stats.ErrNoSpread},
		{"today not given", history, bias.BlockReading{At: day(9)}, byHistory, units.ErrNotGiven},
		{"no instant", history, bias.BlockReading{Value: lb.Of(135)}, byHistory, units.ErrNotGiven},
		{"today negative", history, blockToday(9, -135), byHistory, density.ErrNotPositive},
		{"history in another unit", []bias.BlockReading{{At: day(1), Value: units.KgPerM3.Of(2160)}}, today, byHistory, density.ErrUnitMismatch},
		{"a file pasted twice", append(history[:3:3], history...), today, byHistory, stats.ErrParameter},
		{"history after today", history, blockToday(2, 135), byHistory, stats.ErrParameter},
	} {
		if r, err := bias.CheckBlock(tt.history, tt.today, tt.o); !errors.Is(err, tt.want) || r.Passed {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}
