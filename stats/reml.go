package stats

import (
	"fmt"
	"math"
)

// WarnZeroVariance is the code of the warning that the likelihood of a variance is
// greatest at 0.
const WarnZeroVariance WarningCode = "zero-variance"

// REMLComponent is the part of the variance that arises at one level of a nested design,
// by restricted maximum likelihood.
type REMLComponent struct {
	Groups   int      // at this level; for the last component the values
	Variance float64  // not below 0
	StdDev   float64  // √Variance
	StdErr   float64  // of Variance, from the observed information; 0 where Variance is
	CI       Interval // of the variance, by the profile of the likelihood
}

// REMLVariance is the result of [NestedREML].
type REMLVariance struct {
	N             int
	Mean          float64 // weighted by what the components make each group worth
	MeanStdErr    float64 // of Mean as an estimate for the population of top-level groups
	Components    []REMLComponent
	Total         float64 // sum of the Variances
	LogLikelihood float64 // restricted, its greatest value
	Warnings      []Warning
}

// NestedREML splits the variance of values in nested groups as [NestedComponents] does, by
// restricted maximum likelihood: the components, none below 0, under which those
// contrasts of the values that tell nothing of the mean are most likely,
//
//	l = -½(log|V| + log(1'V⁻¹1) + (x-x̂)'V⁻¹(x-x̂) + (N-1)·log 2π),   V = Σ σᵢ²ZᵢZᵢ'
//
// with x̂ = 1'V⁻¹x/1'V⁻¹1 the mean and Zᵢ the groups of level i. In balanced designs
// whose analysis of variance gives no component below 0 both agree. In unbalanced ones
// this uses the data better; where a component is 0 it is taken out of the others too,
// which [NestedComponents] does not. For F tests and intervals without iteration use that.
//
// An interval holds the values of a component at which, with the others as suit it best,
// 2(max l - l) is at most the quantile of chi-square with one degree of freedom. Its lower
// limit is 0 where 0 is among them. Coverage of a nominal 95 % by simulation, k groups of
// 2, 3 and 4 values in turn with both variances 1 (one-way), and two values in each of
// two groups in each of k top groups with all components 1 (nested):
//
//	k                 3      5      10     30
//	one-way, between  98 %   96 %   94 %   95 %
//	one-way, within   94 %   94 %   95 %   95 %
//	nested, top       99 %   98 %   96 %   95 %
//	nested, middle    97 %   95 %   95 %   95 %
//	nested, last      94 %   95 %   95 %   95 %
//
// xs and factors are as for NestedComponents, and the values of some last group must
// differ. The population of groups and the values within are taken to be normal. The
// search starts from the analysis of variance and from equal components, because
// unbalanced designs of three levels may have two maxima, and takes the higher. A fit
// with its intervals takes 0.1 to 0.2 ms per group.
//
// Errors are those of NestedComponents, [ErrNoSpread] also where nothing varies within
// the last groups, and [ErrNotConverged].
//
// Source: H. D. Patterson and R. Thompson, Recovery of inter-block information when block
// sizes are unequal, Biometrika 58 (1971) 545-554. S. R. Searle, G. Casella and C. E.
// McCulloch, Variance Components, Wiley 1992, chapter 6.
func NestedREML(xs []float64, factors [][]string, level float64) (REMLVariance, error) {
	const fn = "stats.NestedREML"
	if err := checkNested(fn, xs, factors); err != nil {
		return REMLVariance{}, err
	}
	if err := checkFraction(fn, "level", level); err != nil {
		return REMLVariance{}, err
	}
	tree := newNestedTree(xs, factors)
	var anova NestedVariance
	if err := tree.fill(fn, &anova); err != nil {
		return REMLVariance{}, err
	}
	if anova.Components[len(factors)].Source.SS == 0 {
		return REMLVariance{}, Refuse(fn, "xs", "", fmt.Errorf("%w within the last groups", ErrNoSpread))
	}
	anova.solve()
	m := newREMLModel(tree, anova)
	best, ok := m.best(anova)
	if !ok {
		return REMLVariance{}, Refuse(fn, "xs", "", ErrNotConverged)
	}
	v, ok := m.result(best, anova, level)
	if !ok {
		return REMLVariance{}, Refuse(fn, "xs", "", ErrNotConverged)
	}
	return v, v.check(fn)
}

// result puts a fit into the units of the data.
func (m *remlModel) result(best remlPoint, anova NestedVariance, level float64) (v REMLVariance, ok bool) {
	unit := square(m.scale)
	v = REMLVariance{N: len(m.tree.levels[0][0].values), Mean: m.centre + m.scale*best.mean, MeanStdErr: m.scale * math.Sqrt(best.meanVariance)}
	v.LogLikelihood = best.likelihood - float64(v.N-1)*(math.Log(m.scale)+0.5*math.Log(2*math.Pi))
	errors := best.standardErrors(m.components)
	for i, c := range anova.Components {
		low, high, ok := m.profile(best, i, level)
		if !ok {
			return v, false
		}
		variance := best.at[i] * unit
		v.Components = append(v.Components, REMLComponent{Groups: c.Groups, Variance: variance, StdDev: math.Sqrt(variance), StdErr: errors[i] * unit,
			CI: Interval{Lo: low * unit, Hi: high * unit, Level: level}})
		v.Total += variance
		if variance == 0 {
			v.Warnings = append(v.Warnings, Warning{Code: WarnZeroVariance, Where: fmt.Sprintf("level %d", i+1),
				Text: fmt.Sprintf("no variance fits these data better than 0; up to %.3g fits too", high*unit)})
		}
	}
	return v, true
}

func (v REMLVariance) check(fn string) error {
	for _, c := range v.Components {
		if !areFinite(c.Variance, c.StdErr, c.CI.Lo, c.CI.Hi) {
			return Refuse(fn, "xs", "", ErrOverflow)
		}
	}
	if !areFinite(v.Mean, v.MeanStdErr, v.Total, v.LogLikelihood) {
		return Refuse(fn, "xs", "", ErrOverflow)
	}
	return nil
}
