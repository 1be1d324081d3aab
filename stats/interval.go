package stats

// Interval is a two-sided interval with the confidence it attains.
type Interval struct {
	Lo, Hi float64
	Level  float64 // confidence attained, as a fraction: 0.95
}

// HalfWidth returns (Hi-Lo)/2.
func (i Interval) HalfWidth() float64 { return i.Hi/2 - i.Lo/2 }

// Contains reports whether x lies in the interval, ends included.
func (i Interval) Contains(x float64) bool { return i.Lo <= x && x <= i.Hi }

// between returns the interval of two ends, which a level near 0 may leave crossed by
// rounding.
func between(lo, hi, level float64) Interval {
	return Interval{Lo: min(lo, hi), Hi: max(lo, hi), Level: level}
}
