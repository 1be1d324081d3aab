package stats

import (
	"fmt"
	"math"
	"strconv"
)

// WarnSaturated marks an estimated fraction that has reached 0 or 1 because so
// few values cannot tell more.
const WarnSaturated WarningCode = "saturated"

// Conforming is the estimated fraction of a normal population on the right side
// of one limit, with its confidence interval. Q and N decide everything.
type Conforming struct {
	N        int
	Q        float64  // distance of the mean from the limit in standard deviations, positive on the right side
	Value    float64  // minimum variance unbiased estimate of the fraction
	Within   Interval // of the true fraction
	Beyond   Interval // of its complement, to full relative accuracy
	Warnings []Warning
}

// ConformingInterval returns the estimated fraction of a normal population that
// conforms to one limit, and its equal-tailed confidence interval, from a
// sample's summary. side is the side of the population on which the limit lies:
// [Low] for a lower limit, where conforming means at least limit, [High] for an
// upper one. The limit has the unit of the summary; see [ConformingIntervalOf]
// for the formula.
//
// Errors are [*InputError] around [ErrTooFew] (N < 3), [ErrNotFinite],
// [ErrParameter] (side, or no spread, which leaves Q without meaning),
// [ErrLevel] or [ErrOverflow].
func ConformingInterval(s Summary, limit float64, side Side, level float64) (Conforming, error) {
	const fn = "stats.ConformingInterval"
	if err := s.check(fn, "s", 3); err != nil {
		return Conforming{}, err
	}
	switch {
	case !isFinite(limit):
		return Conforming{}, Refuse(fn, "limit", text(limit), ErrNotFinite)
	case side != Low && side != High:
		return Conforming{}, outOfRange(fn, "side", side.String(), oneSide)
	case s.StdDev == 0:
		return Conforming{}, outOfRange(fn, "s.StdDev", "0", positive)
	}
	q := (0.5*s.Mean - 0.5*limit) / s.StdDev * 2
	if side == High {
		q = -q
	}
	return conforming(fn, q, s.N, level)
}

// ConformingIntervalOf is [ConformingInterval] for a caller who holds only the
// quality index Q = (mean - lower limit)/s, or (upper limit - mean)/s, and n:
//
//	estimate  P(U ≤ u),  u = Q·√n/(n-1),  U symmetric beta with shape n/2 - 1
//	bounds    Φ(δ/√n),   P(T ≤ √n·Q; n-1, δ) = 1 - α/2 and α/2,   α = 1 - level
//
// with T noncentral t. n is 3 to 1e9; level is a fraction in (0, 1). Each end alone is a
// one-sided bound with confidence (1+level)/2: for a lower bound with 95 %
// confidence ask for level 0.90 and take Lo.
//
// It assumes n independent values from one normal population; the bounds are
// exact then, the estimate unbiased.
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrParameter] (n),
// [ErrLevel] or [ErrOverflow].
//
// Source: Owen and Hua, Communications in Statistics B6 (1977) 285, for the
// bounds; Lieberman and Resnikoff, Journal of the American Statistical
// Association 50 (1955) 457, for the estimate (both from memory).
func ConformingIntervalOf(q float64, n int, level float64) (Conforming, error) {
	const fn = "stats.ConformingIntervalOf"
	if n < 3 {
		return Conforming{}, tooFew(fn, "n", n, 3)
	}
	return conforming(fn, q, n, level)
}

func conforming(fn string, q float64, n int, level float64) (Conforming, error) {
	if !isFinite(q) {
		return Conforming{}, Refuse(fn, "q", text(q), ErrNotFinite)
	}
	if n > mostValues {
		return Conforming{}, outOfRange(fn, "n", strconv.Itoa(n), mostN)
	}
	if err := checkFraction(fn, "level", level); err != nil {
		return Conforming{}, err
	}
	root := math.Sqrt(float64(n))
	d := newNoncentralT(float64(n - 1))
	tail := (1 - level) / 2
	low, err := d.finiteNCP(fn, 1-tail, tail, q*root)
	if err != nil {
		return Conforming{}, err
	}
	high, err := d.finiteNCP(fn, tail, 1-tail, q*root)
	if err != nil {
		return Conforming{}, err
	}
	low, high = min(low, high), max(low, high) // a level near 0 leaves rounding between them
	kernel := newSymmetricBeta(float64(n)/2 - 1)
	c := Conforming{N: n, Q: q, Value: kernel.below(q / maxDeviation(n))}
	c.Within = Interval{Lo: normalTail(-low / root), Hi: normalTail(-high / root), Level: level}
	c.Beyond = Interval{Lo: normalTail(high / root), Hi: normalTail(low / root), Level: level}
	if c.Value == 0 || c.Value == 1 {
		c.Warnings = append(c.Warnings, Warning{Code: WarnSaturated, Text: fmt.Sprintf(
			"with %d values the estimate is exactly %g from |Q| = %.4f on; the interval says what is known", n, c.Value, maxDeviation(n))})
	}
	return c, nil
}
