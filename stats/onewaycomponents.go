package stats

import "strconv"

// OneWayVariance is the result of [OneWayComponents]. Components[0] is the variance
// between groups, Components[1] that within.
type OneWayVariance struct {
	NestedVariance
	ICC   float64 // between as a fraction of Total: correlation of two values of one group
	ICCCI Interval
}

// OneWayComponents splits the variance of values in groups, such as readings in
// locations, into the part between and the part within:
//
//	σ²(within) = MS within,   σ²(between) = (MS between - MS within)/n₀,
//	n₀ = (N - Σnᵢ²/N)/(k-1)
//
// groups holds k ≥ 2 groups of at least one finite value, more values than groups; they
// are not changed. The population of groups and the values within are taken to be
// normal. An estimate below 0 is reported as it is, with 0 as Variance.
//
// Intervals: within, exact. Between, by the method named; in unbalanced data MS between
// is replaced for it by the variance of the group means times the harmonic mean h of
// the sizes, after Thomas and Hultquist. Intraclass correlation, with F = MSB/MSW,
//
//	(F/F₁ - 1)/(F/F₁ + n - 1),   F₁ = F(1-α/2; k-1, N-k) below, F(α/2; k-1, N-k) above,
//
// not less than 0: exact in balanced data, with h and that mean square otherwise.
//
// Coverage by simulation, nominal 95 %, k groups of 3, both variances 1:
//
//	k                               3      5      10     30
//	between, modified large sample  95 %   95 %   95 %   95 %
//	between, Satterthwaite          74 %   86 %   94 %   96 %
//	total, modified large sample    96 %   95 %   95 %   95 %
//	total, Satterthwaite            95 %   95 %   94 %   95 %
//	intraclass correlation          95 %   95 %   95 %   95 %
//
// and groups of 2, 3 and 4 in turn, between by modified large sample and intraclass
// correlation: 95 % throughout.
//
// Errors are those of [NestedComponents].
//
// Source: S. R. Searle, G. Casella and C. E. McCulloch, Variance Components, Wiley
// 1992, chapter 3. N. Ting et al., Confidence intervals on linear combinations of
// variance components that are unrestricted in sign, Journal of Statistical Computation
// and Simulation 35 (1990) 135-143. J. D. Thomas and R. A. Hultquist, Interval
// estimation for the unbalanced case of the one-way random effects model, Annals of
// Statistics 6 (1978) 582-587.
func OneWayComponents(groups [][]float64, o ComponentOptions) (OneWayVariance, error) {
	const fn = "stats.OneWayComponents"
	if _, err := checkGroups(fn, groups); err != nil {
		return OneWayVariance{}, err
	}
	var xs []float64
	var names []string
	for i, group := range groups {
		for _, x := range group {
			xs, names = append(xs, x), append(names, strconv.Itoa(i))
		}
	}
	nested, err := nestedComponents(fn, xs, [][]string{names}, o)
	if err != nil {
		return OneWayVariance{}, err
	}
	v := OneWayVariance{NestedVariance: nested, ICC: nested.Components[0].Variance / nested.Total}
	if err := v.inferOneWay(groups, o); err != nil {
		return OneWayVariance{}, err
	}
	if !areFinite(v.ICC, v.ICCCI.Lo, v.ICCCI.Hi) {
		return OneWayVariance{}, Refuse(fn, "groups", "", ErrOverflow)
	}
	return v, nil
}

func (v *OneWayVariance) inferOneWay(groups [][]float64, o ComponentOptions) error {
	between, within := &v.Components[0], v.Components[1]
	size := between.Expected[0]
	own := meanSquare{ms: between.Source.MS, df: float64(between.Source.DF)}
	under := meanSquare{ms: within.Source.MS, df: float64(within.Source.DF), factor: 1 / size}
	if !v.Balanced {
		var err error
		if own.ms, size, err = unweighted(groups); err != nil {
			return err
		}
		under.factor = 1 / size
	}
	own.factor = 1 / size
	scaled := meanSquare{ms: under.value(), df: under.df, factor: 1}
	between.CI = componentInterval(o, own, scaled)
	v.ICCCI = iccInterval(o.Level, size, own, under)
	return nil
}

// unweighted returns the variance of the group means times the harmonic mean of the
// sizes, and that mean.
func unweighted(groups [][]float64) (ms, size float64, err error) {
	means := make([]float64, len(groups))
	inverse := 0.0
	for i, group := range groups {
		means[i] = pairMean(group).hi
		inverse += 1 / float64(len(group)) / float64(len(groups))
	}
	d, err := describe("stats.OneWayComponents", "groups", means)
	return square(d.StdDev) / inverse, 1 / inverse, err
}

// iccInterval holds (B - F₁W)/(B + (n-1)F₁W) for both F₁.
func iccInterval(level, size float64, between, within meanSquare) Interval {
	alpha := 1 - level
	f := FDistribution{df1: between.df, df2: within.df}
	limit := func(quantile float64) float64 {
		w := quantile * within.ms
		if between.ms == 0 || between.ms <= w {
			return 0
		}
		return (between.ms - w) / (between.ms + (size-1)*w)
	}
	return Interval{Lo: limit(f.quantile(1-alpha/2, alpha/2)), Hi: limit(f.quantile(alpha/2, 1-alpha/2)), Level: level}
}
