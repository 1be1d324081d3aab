package stats

import (
	"context"
	"fmt"
	"math/bits"
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"
)

// resample fills sample with draws from xs with replacement, from the stream
// that belongs to seed and replicate.
func resample(sample, xs []float64, seed uint64, replicate int) {
	var source rand.PCG
	source.Seed(mix64(seed), mix64(uint64(replicate)))
	for i := range sample {
		sample[i] = xs[drawBelow(&source, uint64(len(xs)))]
	}
}

// mix64 is a bijection that spreads neighbouring numbers over all of 64 bits, the
// output function of SplitMix64.
//
// Source: G. L. Steele, D. Lea and C. H. Flood, Fast splittable pseudorandom
// number generators, OOPSLA 2014, 453-472.
func mix64(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// drawBelow returns a number in 0..n-1, each as likely as the others. It is
// written out because the sequence it draws is part of the result.
//
// Source: D. Lemire, Fast random integer generation in an interval, ACM
// Transactions on Modeling and Computer Simulation 29 (2019) 3.
func drawBelow(source *rand.PCG, n uint64) uint64 {
	high, low := bits.Mul64(source.Uint64(), n)
	if low < n {
		for unfair := -n % n; low < unfair; {
			high, low = bits.Mul64(source.Uint64(), n)
		}
	}
	return high
}

// evaluation computes a statistic of many samples on several goroutines.
type evaluation struct {
	fn        string
	statistic func([]float64) (float64, error)
	length    int // of the longest sample
	workers   int
}

// failure is what stopped a worker, and at which sample.
type failure struct {
	index    int
	err      error
	panicked any
	exited   bool // the statistic called runtime.Goexit
}

// run returns the statistic of count samples, the i-th made by fill in the slice
// it gets. Samples are handed out in order, and a worker that was given some stops
// before the last of them only for a failure of its own or the context, so the
// failure of the lowest index, which is the one reported, does not depend on
// timing.
func (e *evaluation) run(ctx context.Context, what string, count int, fill func(i int, sample []float64) []float64) ([]float64, error) {
	values := make([]float64, count)
	workers := min(e.workers, (count+handful-1)/handful)
	failures := make([]*failure, workers)
	var next atomic.Int64
	var wait sync.WaitGroup
	for w := range failures {
		wait.Add(1)
		go func() {
			defer wait.Done()
			defer func() {
				if failures[w] != nil {
					next.Store(int64(count)) // the others need not go on
				}
			}()
			failures[w] = &failure{index: count, exited: true} // unless work returns
			failures[w] = e.work(ctx, &next, values, fill)
		}()
	}
	wait.Wait()
	if f := firstFailure(failures); f != nil {
		return nil, f.report(e.fn, what)
	}
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("%s: %w", e.fn, context.Cause(ctx))
	}
	return values, nil
}

// work takes samples until none is left, the context ends or one fails.
func (e *evaluation) work(ctx context.Context, next *atomic.Int64, values []float64, fill func(int, []float64) []float64) *failure {
	sample := make([]float64, e.length)
	for ctx.Err() == nil {
		first := int(next.Add(handful)) - handful
		if first >= len(values) {
			return nil
		}
		for i := first; i < min(first+handful, len(values)) && ctx.Err() == nil; i++ {
			value, f := e.evaluate(fill(i, sample))
			if f != nil {
				f.index = i
				return f
			}
			values[i] = value
		}
	}
	return nil
}

// handful is how many samples a worker takes at a time, so that workers seldom
// meet.
const handful = 16

// evaluate calls the statistic and catches a panic in it.
func (e *evaluation) evaluate(sample []float64) (value float64, f *failure) {
	defer func() {
		if p := recover(); p != nil {
			f = &failure{panicked: p}
		}
	}()
	value, err := e.statistic(sample)
	switch {
	case err != nil:
		return 0, &failure{err: err}
	case !isFinite(value):
		return 0, &failure{err: fmt.Errorf("%w (%v)", ErrNotFinite, value)}
	}
	return value, nil
}

func firstFailure(failures []*failure) (first *failure) {
	for _, f := range failures {
		if f != nil && (first == nil || f.index < first.index) {
			first = f
		}
	}
	return first
}

// report returns the error of a failure, or carries a panic on.
func (f *failure) report(fn, what string) error {
	switch {
	case f.exited:
		runtime.Goexit()
	case f.panicked != nil:
		panic(f.panicked)
	}
	return &InputError{Func: fn, Arg: what, Index: f.index, Err: f.err}
}
