package stats

import (
	"errors"
	"fmt"
	"math"
)

// ErrUnderflow is the reason a spread is refused whose squares a float64 cannot
// hold; values in a larger unit can be summarized.
var ErrUnderflow = errors.New("spread is too small for its square to be held by a float64")

// ErrNoSpread is the reason a ratio is refused that has the spread of equal
// values below the line.
var ErrNoSpread = errors.New("all values are equal")

// Accumulator takes values one at a time and knows their count, mean, central
// moments and extremes at any moment, without keeping the values. Two of them
// that saw parts of a sample merge into the one that would have seen it all, so
// parts can be worked on by different goroutines. The zero value is empty and
// ready; a copy goes its own way from there. An Accumulator that one goroutine
// adds to must not be read by another meanwhile.
//
// With δ = x - mean of the n-1 values before, a value adds
//
//	mean += δ/n,   M2 += δ²(n-1)/n
//
// and the like for M3 and M4. The mean and M2 are carried with twice the
// precision, so a large common part of the values costs no digits: mean and
// standard deviation agree with [Describe] to a few units in the last place.
// The same values in the same order give the same bits; another order or
// another cut into parts may change the last ones.
//
// A value that is NaN or infinite, or so far out that its distance from the mean
// overflows, is not taken in. It is remembered: from then on every result is
// the error that [Accumulator.Err] returns.
//
// Source: T. F. Chan, G. H. Golub and R. J. LeVeque, The American Statistician
// 37 (1983) 242-247, for the second moment; P. Pébay, Formulas for robust,
// one-pass parallel computation of covariances and arbitrary-order statistical
// moments, Sandia report SAND2008-6212 (2008), for the others.
type Accumulator struct {
	n      int
	mean   pair
	m2     pair
	m3, m4 float64
	lo, hi float64
	err    error
}

// Add takes in one value.
func (a *Accumulator) Add(x float64) {
	delta := pair{hi: x}.sub(a.mean).value()
	if a.err != nil || !isFinite(delta) {
		a.refuse(x)
		return
	}
	before := float64(a.n)
	a.n++
	n := float64(a.n)
	if a.n == 1 {
		a.mean, a.lo, a.hi = pair{hi: x}, x, x
		return
	}
	step := delta / n
	square := float64(float64(delta*step) * before)
	step2 := float64(step * step)
	spread := a.m2.value()
	a.m4 += float64(float64(square*step2)*(float64(n*(n-3))+3)) +
		float64(float64(6*step2)*spread) - float64(float64(4*step)*a.m3)
	a.m3 += float64(float64(square*step)*(n-2)) - float64(float64(3*step)*spread)
	a.m2 = a.m2.addFloat(square)
	a.mean = a.mean.addFloat(step)
	a.lo, a.hi = min(a.lo, x), max(a.hi, x)
}

// AddSlice takes in every value of xs in order. xs is not changed.
func (a *Accumulator) AddSlice(xs []float64) {
	for _, x := range xs {
		a.Add(x)
	}
}

// refuse remembers the first value that could not be taken in.
func (a *Accumulator) refuse(x float64) {
	if a.err != nil {
		return
	}
	reason := ErrOverflow
	if !isFinite(x) {
		reason = ErrNotFinite
	}
	a.err = &InputError{Func: "stats.Accumulator.Add", Arg: "x", Index: a.n, Value: text(x), Err: reason}
}

// Merge takes in all that b has seen, as if its values followed those of a. b is
// not changed, and nil has seen none; a.Merge(a) counts every value twice. The errors of b
// become those of a unless a has one of its own; a count beyond an int is one of its own,
// around [ErrOverflow].
func (a *Accumulator) Merge(b *Accumulator) {
	switch {
	case a.err != nil || b == nil || b.n == 0 && b.err == nil:
		return
	case b.err != nil:
		a.err = b.err
		return
	case a.n == 0:
		*a = *b
		return
	case a.n > math.MaxInt-b.n:
		a.err = Refuse("stats.Accumulator.Merge", "b", fmt.Sprintf("%d values beside %d", b.n, a.n), ErrOverflow)
		return
	}
	delta := b.mean.sub(a.mean).value()
	if !isFinite(delta) {
		a.refuse(b.mean.hi)
		return
	}
	*a = a.joined(b, delta)
}

// joined returns the moments of both, whose means differ by delta.
func (a *Accumulator) joined(b *Accumulator, delta float64) Accumulator {
	na, nb := float64(a.n), float64(b.n)
	n := na + nb
	wa, wb := na/n, nb/n
	delta2 := float64(delta * delta)
	square := float64(delta2 * float64(na*wb))
	spreadA, spreadB := a.m2.value(), b.m2.value()
	c := Accumulator{n: a.n + b.n, lo: min(a.lo, b.lo), hi: max(a.hi, b.hi)}
	c.mean = a.mean.addFloat(float64(delta * wb))
	c.m2 = a.m2.add(b.m2).addFloat(square)
	c.m3 = a.m3 + b.m3 + float64(float64(square*delta)*(wa-wb)) +
		float64(float64(3*delta)*(float64(wa*spreadB)-float64(wb*spreadA)))
	c.m4 = a.m4 + b.m4 +
		float64(float64(square*delta2)*(float64(wa*wa)-float64(wa*wb)+float64(wb*wb))) +
		float64(float64(6*delta2)*(float64(float64(wa*wa)*spreadB)+float64(float64(wb*wb)*spreadA))) +
		float64(float64(4*delta)*(float64(wa*b.m3)-float64(wb*a.m3)))
	return c
}
