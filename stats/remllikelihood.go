package stats

import "math"

// remlModel is a nested design as the restricted likelihood sees it: the scatter within
// the last groups, and their means, centred and scaled.
type remlModel struct {
	tree          nestedTree
	components    int // of which the last is the variance of single values
	centre, scale float64
	within        float64 // sum of squares within the last groups
	means         []float64
}

func newREMLModel(tree nestedTree, anova NestedVariance) *remlModel {
	m := &remlModel{tree: tree, components: len(anova.Components)}
	var all float64
	for _, c := range anova.Components {
		all += c.Source.SS
	}
	_, exponent := math.Frexp(math.Sqrt(all / float64(len(tree.levels[0][0].values))))
	m.scale = math.Ldexp(1, exponent)
	middle := tree.levels[0][0].mean
	m.centre = middle.hi
	m.within = anova.Components[m.components-1].Source.SS / m.scale / m.scale
	for _, g := range tree.levels[m.components-1] {
		m.means = append(m.means, g.mean.sub(middle).value()/m.scale)
	}
	return m
}

// remlPoint is the restricted likelihood at some variances, without its constants.
type remlPoint struct {
	at           [mostFactors + 1]float64
	likelihood   float64
	gradient     [mostFactors + 1]float64
	expected     [mostFactors + 1][mostFactors + 1]float64 // information, lower triangle
	observed     [mostFactors + 1][mostFactors + 1]float64
	mean         float64
	meanVariance float64
}

// estimate is what a group knows of its own centre.
type estimate struct{ centre, variance jet }

// evaluate works from the last groups up to all values. In a group whose members have
// centres yₕ with variances sₕ, all that the likelihood needs of them are
//
//	½Σ log sₕ + ½ log Σ 1/sₕ   and   Σ (yₕ-y)²/sₕ,   y = Σ yₕ/sₕ / Σ 1/sₕ
//
// after which the group is one member, centre y, of the group above. The first part
// depends on the design alone, so that its second derivatives are the expected
// information.
func (m *remlModel) evaluate(at [mostFactors + 1]float64) remlPoint {
	last := m.components - 1
	groups := m.tree.levels[last]
	single := variable(at[last], last)
	free := float64(len(m.tree.levels[0][0].values) - len(groups))
	spread := jet{}.add(single.log(), 0.5*free)
	distance := jet{}.add(single.inverse(), m.within)
	members := make([]estimate, len(groups))
	for i, g := range groups {
		n := float64(len(g.values))
		spread.value += 0.5 * math.Log(n)
		members[i] = estimate{centre: jet{value: m.means[i]}, variance: jet{}.add(single, 1/n)}
	}
	for level := last; level > 0; level-- {
		own := variable(at[level-1], level-1)
		for i := range members {
			members[i].variance = members[i].variance.add(own, 1)
		}
		members = m.join(level, members, &spread, &distance)
	}
	return newREMLPoint(at, spread, distance, members[0])
}

// join makes the members of each group of the level above one.
func (m *remlModel) join(level int, members []estimate, spread, distance *jet) []estimate {
	groups := m.tree.levels[level]
	above := make([]estimate, len(m.tree.levels[level-1])) // variance holds Σ 1/sₕ until the end
	weights := make([]jet, len(members))
	for i, member := range members {
		*spread = spread.add(member.variance.log(), 0.5)
		weights[i] = member.variance.inverse()
		g := &above[groups[i].parent]
		g.centre = g.centre.add(member.centre.times(weights[i]), 1)
		g.variance = g.variance.add(weights[i], 1)
	}
	for i := range above {
		*spread = spread.add(above[i].variance.log(), 0.5)
		above[i].variance = above[i].variance.inverse()
		above[i].centre = above[i].centre.times(above[i].variance)
	}
	for i, member := range members {
		off := member.centre.add(above[groups[i].parent].centre, -1)
		*distance = distance.add(off.times(off).times(weights[i]), 1)
	}
	return above
}

func newREMLPoint(at [mostFactors + 1]float64, spread, distance jet, all estimate) remlPoint {
	p := remlPoint{at: at, likelihood: -spread.value - 0.5*distance.value, mean: all.centre.value, meanVariance: all.variance.value}
	for i := range p.gradient {
		p.gradient[i] = -spread.first[i] - 0.5*distance.first[i]
		for j := range i + 1 {
			p.expected[i][j] = -spread.second[i][j]
			p.observed[i][j] = spread.second[i][j] + 0.5*distance.second[i][j]
		}
	}
	return p
}
