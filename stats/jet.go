package stats

import "math"

// jet is a number with its first and second derivatives by the variances of the levels
// of a nested design.
type jet struct {
	value  float64
	first  [mostFactors + 1]float64
	second [mostFactors + 1][mostFactors + 1]float64 // row i holds columns 0 to i
}

// variable is a number that is variance i itself.
func variable(value float64, i int) jet {
	a := jet{value: value}
	a.first[i] = 1
	return a
}

// add returns a + f·b.
func (a jet) add(b jet, f float64) jet {
	a.value += f * b.value
	for i := range a.first {
		a.first[i] += f * b.first[i]
		for j := range i + 1 {
			a.second[i][j] += f * b.second[i][j]
		}
	}
	return a
}

func (a jet) times(b jet) jet {
	c := jet{value: a.value * b.value}
	for i := range c.first {
		c.first[i] = a.value*b.first[i] + b.value*a.first[i]
		for j := range i + 1 {
			c.second[i][j] = a.value*b.second[i][j] + b.value*a.second[i][j] + a.first[i]*b.first[j] + a.first[j]*b.first[i]
		}
	}
	return c
}

// through returns f(a) from f and its derivatives there.
func (a jet) through(f, slope, bend float64) jet {
	c := jet{value: f}
	for i := range c.first {
		c.first[i] = slope * a.first[i]
		for j := range i + 1 {
			c.second[i][j] = slope*a.second[i][j] + bend*a.first[i]*a.first[j]
		}
	}
	return c
}

func (a jet) inverse() jet {
	f := 1 / a.value
	return a.through(f, -f*f, 2*f*f*f)
}

func (a jet) log() jet {
	f := 1 / a.value
	return a.through(math.Log(a.value), f, -f*f)
}
