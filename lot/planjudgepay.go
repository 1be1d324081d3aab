package lot

import (
	"math"

	"github.com/densilot/densilot/stats"
)

// pay estimates the measure of the results that count and reads the schedule.
func (c *countJudge) pay(m *judgeMemory, out *lotOutcome) error {
	if c.terms.Estimation.Weights == NoWeights { // such as in the table for small lots
		m.weights = m.weights[:0]
	}
	s := drawnOf(m.used, m.weights)
	if c.terms.Limits.p != nil && !c.terms.AnyScale && c.terms.Limits.pair().otherScale(s.mean) {
		return ErrScale
	}
	measure, err := c.measure(m, &s, c.terms.Limits.pair())
	if err != nil {
		return err
	}
	out.measure = measure
	factor, rejected, err := c.read(c.first, measure)
	if err == nil && c.second != nil && (rejected || factor < c.below) {
		if measure, err = c.measure(m, &s, c.terms.Second.Limits.pair()); err != nil {
			return err
		}
		factor, rejected, err = c.read(c.second, measure)
	}
	if err != nil {
		return err
	}
	out.factor, out.rejected = factor, rejected || factor < c.reject
	return nil
}

// read returns the rounded factor of a measure.
func (c *countJudge) read(rows []fastRow, measure float64) (factor float64, rejected bool, err error) {
	factor, rejected, err = Schedule{fast: rows}.FactorAt(measure)
	return c.rounding.factor.of(factor), rejected, err
}

// drawn is what a simulated lot's results come to.
type drawn struct{ mean, stdDev, min, max float64 }

// drawnOf weighs the values, none where all weigh the same.
func drawnOf(values, weights []float64) drawn {
	s := drawn{min: math.Inf(1), max: math.Inf(-1)}
	sum, squares := float64(len(values)), float64(len(values))
	if len(weights) > 0 {
		sum, squares = weightSums(weights)
	}
	for i, x := range values {
		s.mean += float64(x*weightAt(weights, i)) / sum
		s.min, s.max = min(s.min, x), max(s.max, x)
	}
	for i, x := range values {
		s.stdDev += float64(weightAt(weights, i) * (x - s.mean) * (x - s.mean))
	}
	s.stdDev = math.Sqrt(s.stdDev / (sum - squares/sum))
	return s
}

// weightSums returns Σw and Σw².
func weightSums(weights []float64) (sum, squares float64) {
	for _, w := range weights {
		sum += w
		squares += float64(w * w)
	}
	return sum, squares
}

func weightAt(weights []float64, i int) float64 {
	if len(weights) == 0 {
		return 1
	}
	return weights[i]
}

// measure returns the rounded quality measure.
func (c *countJudge) measure(m *judgeMemory, s *drawn, limits *limitPair) (measure float64, err error) {
	switch c.terms.Estimation.Method {
	case MeanDeviation:
		measure = c.deviation(m)
	case AverageWithin:
		measure = c.averages(m.used, limits)
	default:
		measure, err = c.within(m.used, s, limits)
	}
	return c.rounding.measure.of(twelveDigits(measure)), err
}

// deviation weighs the results where the terms do: a table for small lots does not.
func (c *countJudge) deviation(m *judgeMemory) (off float64) {
	target, sum := c.terms.Estimation.Target.InexactFloat64(), 0.0
	for i, x := range m.used {
		w := weightAt(m.weights, i)
		off += float64(w * math.Abs(x-target))
		sum += w
	}
	return off / sum
}

func (c *countJudge) averages(values []float64, limits *limitPair) float64 {
	window := c.terms.Estimation.Window
	all, within := len(values)-window+1, 0
	for i := range all {
		mean := c.rounding.mean.of(twelveDigits(drawnOf(values[i:i+window], nil).mean))
		if limits.allWithin([]float64{mean}) {
			within++
		}
	}
	return 100 * float64(within) / float64(all)
}

// within takes off the tail beyond each limit.
func (c *countJudge) within(values []float64, s *drawn, limits *limitPair) (float64, error) {
	if s.min == s.max {
		if limits.allWithin(values[:1]) {
			return 100, nil
		}
		return 0, nil
	}
	spread := s.stdDev
	if c.terms.Estimation.Method == RangeWithin {
		spread = c.ofRanges(values)
	}
	used := c.rounding.stdDev.of(spread)
	switch {
	case spread == 0:
		return 0, ErrNoRange
	case used == 0:
		return 0, ErrRoundedAway
	case !isFinite(spread):
		return 0, stats.ErrOverflow
	}
	mean, beyond := c.rounding.mean.of(s.mean), 0.0
	if limits.lower != nil {
		beyond += c.tail((mean-limits.lower.float)/used, used, s)
	}
	if limits.upper != nil {
		beyond += c.tail((limits.upper.float-mean)/used, used, s)
	}
	return max(0, 100-beyond), nil
}

func (c *countJudge) ofRanges(values []float64) (sum float64) {
	group := c.constant.Group
	for i := 0; i < len(values); i += group {
		part := drawnOf(values[i:i+group], nil)
		sum += part.max - part.min
	}
	return sum / float64(len(values)/group) / c.constant.C.InexactFloat64()
}

// tail returns the percent beyond a limit.
func (c *countJudge) tail(q, spread float64, s *drawn) float64 {
	q = c.rounding.q.of(q)
	if c.terms.Estimation.Method == TableWithin {
		return 100 - c.row(q)
	}
	return float64(100 * c.kernel.within(-snap(q*c.kernel.toY, spread, max(-s.min, s.max))))
}

// row returns the percentage that the table of the plan gives.
func (c *countJudge) row(q float64) float64 {
	if q < 0 && c.terms.Estimation.Table.Negative == MirrorNegative {
		return 100 - c.signedRow(-q)
	}
	return c.signedRow(q)
}

// signedRow returns the lowest row whose printed index is not below q. One that is
// equal but for rounding error is equal.
func (c *countJudge) signedRow(q float64) float64 {
	q -= float64(1e-12 * max(1, math.Abs(q)))
	lo, hi := 0, 100
	for lo < hi {
		if middle := (lo + hi) / 2; c.table[middle] < q {
			lo = middle + 1
		} else {
			hi = middle
		}
	}
	return float64(lo)
}
