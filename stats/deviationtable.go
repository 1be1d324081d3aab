package stats

import "math"

// reach returns the largest scaled deviation that the least of n-1 values can have
// if it is no less than the one taken away, whose scaled deviation among n was u:
//
//	u·√(n/(n-2))/√(1-u²)
//
// From the limit u² = (n-2)/(2(n-1)) on it is 1 or more and restricts nothing.
func reach(n int, u float64) float64 {
	return u * math.Sqrt(float64(n)/float64(n-2)/((1-u)*(1+u)))
}

// deviationCells is the number of cells of a table between the least deviation and
// the limit, denser at the ends, where the distribution is not smooth.
const deviationCells = 256

// deviationTable is the distribution of the scaled deviation u = G/max of the least
// of n normal values from their mean, G as in [Grubbs], one-sided:
//
//	P(U > u) = n·P(T beyond u)                          from the limit on
//	P(U > u) = P(U > limit) + ∫ n·f(x)·F(reach(n, x)) dx  below, from u to limit
//
// where f is the density of one deviation and F the distribution for n-1, so that
// tables are built one on the other from n = 3, for which the first line is all.
//
// Source: the recursion is that of F. E. Grubbs, Annals of Mathematical Statistics
// 21 (1950) 27, written for the studentized deviation.
type deviationTable struct {
	n            int
	beta         SymmetricBeta
	least, limit float64
	lnTail       []float64 // ln P(U > u) at the nodes
	slope        []float64 // its derivative by the angle, in cells
}

func newDeviationTable(n int) deviationTable {
	table := emptyDeviationTable(3)
	for m := 4; m <= n; m++ {
		next := emptyDeviationTable(m)
		next.fill(table)
		table = next
	}
	return table
}

func emptyDeviationTable(n int) deviationTable {
	return deviationTable{n: n, beta: newSymmetricBeta(float64(n)/2 - 1),
		least: 1 / float64(n-1), limit: math.Sqrt(float64(n-2) / float64(2*(n-1)))}
}

// at returns the u of an angle in cells: u = middle - half·cos(π·cell/cells).
func (d deviationTable) at(cell float64) (u, slope float64) {
	half := 0.5 * (d.limit - d.least)
	sine, cosine := math.Sincos(math.Pi * cell / deviationCells)
	return d.least + half*(1-cosine), half * sine * math.Pi / deviationCells
}

// fill integrates cell by cell from the limit down, by the Lobatto rule of four points
// in the angle, and keeps ln P with its slope.
func (d *deviationTable) fill(smaller deviationTable) {
	d.lnTail, d.slope = make([]float64, deviationCells+1), make([]float64, deviationCells+1)
	falls := func(cell float64) float64 {
		u, slope := d.at(cell)
		return float64(d.n) * d.beta.density(u) * smaller.below(reach(d.n, u)) * slope
	}
	const inner = 0.5 - 0.5/2.23606797749978969640917366873127623 // √5
	tail, last := float64(d.n)*d.beta.below(-d.limit), falls(deviationCells)
	d.lnTail[deviationCells], d.slope[deviationCells] = math.Log(tail), -last/tail
	for i := deviationCells - 1; i >= 0; i-- {
		cell := float64(i)
		first := falls(cell)
		tail += (first + last + 5*(falls(cell+inner)+falls(cell+1-inner))) / 12
		d.lnTail[i], d.slope[i] = math.Log(tail), -first/tail
		last = first
	}
}

// above returns P(U > u), between nodes by the cubic of ln P with their slopes.
func (d deviationTable) above(u float64) float64 {
	switch {
	case u >= d.limit:
		return min(1, float64(d.n)*d.beta.below(-min(u, 1)))
	case u <= d.least:
		return 1
	}
	half := 0.5 * (d.limit - d.least)
	place := math.Acos(max(-1, 1-(u-d.least)/half)) * deviationCells / math.Pi
	i := min(int(place), deviationCells-1)
	t := place - float64(i)
	s := 1 - t
	lnP := d.lnTail[i]*(1+2*t)*s*s + d.lnTail[i+1]*(1+2*s)*t*t + d.slope[i]*t*s*s - d.slope[i+1]*s*t*t
	return min(1, math.Exp(lnP))
}

// below returns P(U ≤ u).
func (d deviationTable) below(u float64) float64 {
	if u <= d.least {
		return 0
	}
	return 1 - d.above(u)
}
