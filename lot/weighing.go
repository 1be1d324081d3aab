package lot

import "math/big"

// Weighing says what results are worth that weigh differently. With w for the weights,
// W = Σw and c = W - Σw²/W,
//
//	Results = W²/Σw²
//	DF      = c²/(Σw² - 2Σw³/W + (Σw²)²/W²)
//
// The mean of independent results of one variance σ² has the variance σ²/Results, and
// s², which is about σ², has the variance 2σ⁴/DF of one with so many degrees of
// freedom. n results that weigh the same are worth n, with n-1.
//
// Source: the degrees of freedom are those of Satterthwaite, Biometrics Bulletin 2
// (1946) 110 (from memory), for the quadratic form that s² is.
type Weighing struct {
	Results float64 // equal results whose mean is as good
	DF      float64 // degrees of freedom of the standard deviation
}

func equalResults(n int) Weighing { return Weighing{float64(n), float64(n - 1)} }

// times returns what so many times the results are worth, weighing as these do.
func (w Weighing) times(k float64) Weighing { return Weighing{k * w.Results, k*(w.DF+1) - 1} }

// valid reports whether n results can be worth that, but for rounding.
func (w Weighing) valid(n int) bool {
	const slack = 1e-9
	return w.Results >= 1-slack && w.Results <= float64(n)+slack && w.DF >= 1-slack && w.DF <= float64(n-1)+slack
}

// weighing returns what a sample is worth, nil where all of it weighs the same.
func (s sample) weighing() *Weighing {
	if s.weights == nil || !s.differ() {
		return nil
	}
	sum, squares := s.sums()
	part := new(big.Rat).Quo(squares, sum)
	cubes := new(big.Rat)
	for _, w := range s.weights {
		cubes.Add(cubes, new(big.Rat).Mul(w, new(big.Rat).Mul(w, w)))
	}
	spread := cubes.Quo(cubes, sum)
	spread.Sub(squares, spread.Add(spread, spread))
	spread.Add(spread, new(big.Rat).Mul(part, part))
	c := s.divisor()
	results, _ := new(big.Rat).Quo(sum, part).Float64()
	df, _ := c.Quo(c.Mul(c, c), spread).Float64()
	return &Weighing{results, df}
}

func (s sample) differ() bool {
	for _, w := range s.weights {
		if w.Cmp(s.weights[0]) != 0 {
			return true
		}
	}
	return false
}
