package lot

import (
	"math"

	"github.com/densilot/densilot/stats"
)

// planScreen is the outlier test of a plan on float64, for simulation. look appends the
// positions that it flags among the values that are left, in the order in which they
// are suspected.
type planScreen struct {
	policy   *OutlierPolicy
	critical []float64 // by the number of results left
	look     func(dst []int, m *judgeMemory, left int) []int
}

// newPlanScreen makes the test for n results, of which up to removed may be gone.
func newPlanScreen(fn string, o *OutlierPolicy, n, removed int) (*planScreen, error) {
	s := &planScreen{policy: o, critical: make([]float64, n+1)}
	s.look = map[OutlierTest]func([]int, *judgeMemory, int) []int{GrubbsTest: s.one, TwoOutliersTest: s.two, GeneralizedESDTest: s.several}[o.Test]
	for left := max(o.fewest(), n-removed-max(0, o.Suspects-1)); left <= n; left++ {
		var err error
		if s.critical[left], err = s.criticalOf(left); err != nil {
			return nil, stats.Renamed(err, fn, "o.N")
		}
	}
	return s, nil
}

func (s *planScreen) criticalOf(n int) (float64, error) {
	switch {
	case s.policy.Test != TwoOutliersTest:
		return stats.GrubbsCritical(n, s.policy.Side, s.policy.Alpha)
	case n > stats.MostForTwoOutliers:
		return 0, nil // the test is not made
	}
	return stats.TwoOutliersCritical(n, s.policy.Alpha)
}

// one is Grubbs' test.
func (s *planScreen) one(dst []int, m *judgeMemory, left int) []int {
	if at, times := s.furthest(m, left); times >= s.critical[left] {
		dst = append(dst, at)
	}
	return dst
}

// several is the generalized ESD test: all up to the last that exceeds its critical
// value.
func (s *planScreen) several(dst []int, m *judgeMemory, left int) []int {
	first, count := len(dst), 0
	for i := range s.policy.Suspects {
		at, times := s.furthest(m, left-i)
		if times > s.critical[left-i] {
			count = i + 1
		}
		dst = append(dst, at)
		m.removed[at] = true
	}
	for _, at := range dst[first:] {
		m.removed[at] = false
	}
	return dst[:first+count]
}

// two compares the sum of squares without the two most extreme with that of all.
func (s *planScreen) two(dst []int, m *judgeMemory, left int) []int {
	lo, hi := m.extremes()
	near, sign := lo, 1.0
	if s.policy.Side == stats.High {
		near, sign = hi, -1
	}
	all := m.squares(left)
	m.removed[near] = true
	lo, hi = m.extremes()
	next := lo
	if sign < 0 {
		next = hi
	}
	m.removed[next] = true
	rest := m.squares(left - 2)
	m.removed[near], m.removed[next] = false, false
	if all > 0 && rest <= s.critical[left]*all {
		dst = append(dst, near, next)
	}
	return dst
}

// furthest returns the most extreme value on the side looked at, of two on either side
// that are as far the upper, and |x - mean|/s, 0 where nothing varies.
func (s *planScreen) furthest(m *judgeMemory, left int) (at int, times float64) {
	lo, hi := m.extremes()
	mean := m.mean(left)
	below, above := mean-m.values[lo], m.values[hi]-mean
	at, far := hi, above
	if side := s.policy.Side; side == stats.Low || side == stats.TwoSide && below > float64(above*(1+1e-12)) {
		at, far = lo, below
	}
	if squares := m.squares(left); squares > 0 {
		times = far / math.Sqrt(squares/float64(left-1))
	}
	return at, times
}

// extremes returns the first of the smallest and of the largest values that are left.
func (m *judgeMemory) extremes() (lo, hi int) {
	lo, hi = -1, -1
	for i, x := range m.values {
		if m.removed[i] {
			continue
		}
		if lo < 0 || x < m.values[lo] {
			lo = i
		}
		if hi < 0 || x > m.values[hi] {
			hi = i
		}
	}
	return lo, hi
}

func (m *judgeMemory) mean(left int) (mean float64) {
	for i, x := range m.values {
		if !m.removed[i] {
			mean += x / float64(left)
		}
	}
	return mean
}

// squares returns Σ(x - mean)² of the values that are left.
func (m *judgeMemory) squares(left int) (sum float64) {
	mean := m.mean(left)
	for i, x := range m.values {
		if !m.removed[i] {
			sum += float64((x - mean) * (x - mean))
		}
	}
	return sum
}
