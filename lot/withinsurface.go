package lot

import "math"

// withinSurface is the estimate of percent within limits as a function of the mean
// m and the standard deviation w of a sample, both in units of the population's
// standard deviation and seen from its mean.
type withinSurface struct {
	kernel       *kernel
	lower, upper float64 // the limits; infinite for none
	n            int
}

// estimateLevel is an estimate where something changes, as a fraction.
type estimateLevel struct {
	within float64
	y      float64 // the y of one limit at which the estimate is that
	middle float64 // the y of two limits on both sides of the mean at which it is
}

func (s *withinSurface) level(percent float64) estimateLevel {
	p := min(1, max(0, percent/100))
	y, _ := s.kernel.beta.Quantile(p)
	middle, _ := s.kernel.beta.UpperQuantile((1 - p) / 2)
	return estimateLevel{p, y, middle}
}

func (s *withinSurface) both() bool { return !math.IsInf(s.lower, 0) && !math.IsInf(s.upper, 0) }

// percent returns the estimate.
func (s *withinSurface) percent(m, w float64) float64 {
	scale := s.kernel.toY / w
	beyond := s.kernel.within((s.lower-m)*scale) + s.kernel.within((m-s.upper)*scale)
	return max(0, 100-100*beyond)
}

// means appends the means at which, for a standard deviation w, the estimate is one
// of the levels, reaches 0 or 100 or changes its form.
func (s *withinSurface) means(dst []float64, w float64, levels []estimateLevel) []float64 {
	unit := w / s.kernel.toY
	switch {
	case s.both():
		return s.meansOfBoth(dst, unit, levels)
	case math.IsInf(s.upper, 0):
		dst = append(dst, s.lower-unit, s.lower+unit)
		for _, l := range levels {
			dst = append(dst, s.lower+l.y*unit)
		}
	default:
		dst = append(dst, s.upper-unit, s.upper+unit)
		for _, l := range levels {
			dst = append(dst, s.upper-l.y*unit)
		}
	}
	return dst
}

// lines returns the places that are a limit and a multiple of w. With two limits
// some are not places for every w, which does no harm.
func (s *withinSurface) lines(levels []estimateLevel) (lines []line) {
	ys := []float64{-1, 1}
	for _, l := range levels {
		ys = append(ys, l.y)
	}
	for _, y := range ys {
		if !math.IsInf(s.lower, 0) {
			lines = append(lines, line{s.lower, y / s.kernel.toY})
		}
		if !math.IsInf(s.upper, 0) {
			lines = append(lines, line{s.upper, -y / s.kernel.toY})
		}
	}
	return lines
}

// meansOfBoth counts v from the middle in units of y, as [Estimator.atLeastBoth]
// does: from |1-a| to 1+a one tail is exactly zero and the estimate falls; inside,
// where a < 1, both tails count.
func (s *withinSurface) meansOfBoth(dst []float64, unit float64, levels []estimateLevel) []float64 {
	middle, a := s.lower/2+s.upper/2, (s.upper-s.lower)/2/unit
	add := func(v float64) { dst = append(dst, middle-v*unit, middle+v*unit) }
	add(math.Abs(1 - a))
	add(1 + a)
	for _, l := range levels {
		if v := a - l.y; v >= math.Abs(1-a) {
			add(v)
		}
		if a < 1 && s.n != 4 {
			if v, ok := s.inside(a, l.within); ok {
				add(v)
			}
		}
	}
	return dst
}

// inside halves the part between the middle and 1-a, along which the estimate goes
// one way.
func (s *withinSurface) inside(a, within float64) (v float64, ok bool) {
	excess := func(v float64) float64 { return s.kernel.within(a+v) + s.kernel.within(a-v) - 1 - within }
	lo, hi := 0.0, 1-a
	first, last := excess(lo), excess(hi)
	if first*last >= 0 {
		return 0, false
	}
	for range 45 {
		if middle := (lo + hi) / 2; excess(middle)*first > 0 {
			lo = middle
		} else {
			hi = middle
		}
	}
	return hi, true
}

// spreads appends the standard deviations at which the means of levels come, go or
// change their form.
func (s *withinSurface) spreads(dst []float64, levels []estimateLevel) []float64 {
	if !s.both() {
		return dst
	}
	half := (s.upper - s.lower) / 2 * s.kernel.toY
	dst = append(dst, half)
	for _, l := range levels {
		if l.y > -1 {
			dst = append(dst, 2*half/(1+l.y))
		}
		if l.middle > 0 {
			dst = append(dst, half/l.middle)
		}
	}
	return dst
}
