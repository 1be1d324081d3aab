package stats

import (
	"fmt"
	"math"
	"slices"
)

// Repeatability is the scatter of measurements of one thing, pooled over the things.
type Repeatability struct {
	StdDev float64
	DF     float64 // 0 where nothing was measured twice
}

// replicates are the means of things and the scatter within them.
type replicates struct {
	means               []float64
	variance, df, share float64 // share is the mean of 1/mᵢ
	noise               float64 // that rounding leaves in a mean
}

// newReplicates takes values that are off by noise, 0 for recorded ones: where those of one
// thing agree to it they are equal.
func newReplicates(fn, arg string, groups [][]float64, noise float64) (replicates, error) {
	r := replicates{noise: noise}
	var ss pair
	for i, group := range groups {
		name := fmt.Sprintf("%s[%d]", arg, i)
		if len(group) == 0 {
			return r, tooFew(fn, name, 0, 1)
		}
		if err := checkFinite(fn, name, group); err != nil {
			return r, err
		}
		mean := pairMean(group)
		for _, x := range group {
			r.noise = max(r.noise, roundingIn(x))
		}
		if slices.Max(group)-slices.Min(group) > noise {
			ss = ss.add(squaresAboutMean(group, mean))
		}
		r.means = append(r.means, mean.hi)
		r.df += float64(len(group) - 1)
		r.share += 1 / float64(len(group)) / float64(len(groups))
	}
	if ss.hi != 0 {
		if err := checkSquare(fn, arg, ss); err != nil {
			return r, err
		}
		r.variance = ss.value() / r.df
	}
	return r, nil
}

func (r replicates) repeatability() Repeatability {
	return Repeatability{StdDev: math.Sqrt(r.variance), DF: r.df}
}

// variance refuses a square that is out of range.
func (s Summary) variance(fn, arg string) (float64, error) {
	ms := square(s.StdDev)
	if s.StdDev == 0 {
		return 0, nil
	}
	return ms, checkSquare(fn, arg, pair{hi: ms})
}
