package examples_test

import (
	"testing"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

// Another machine's Exp and Log, and its fused multiplications, move the last place
// or two, and a sum or a root of them a few more. A quantile of the noncentral t is
// searched until the tail is right to its last place: the place of a t near 0 may
// then be off by more.
const (
	fewUlps  = 8
	rootUlps = 64
)

// analyticVectors are of the float64 path.
func analyticVectors(t *testing.T) []vector {
	return append(distributionVectors(t), sampleVectors(t)...)
}

// collector keeps numbers and stops at an error.
type collector struct {
	t  *testing.T
	xs []float64
}

func (m *collector) add(x float64, err error) {
	m.t.Helper()
	if err != nil {
		m.t.Fatal(err)
	}
	m.xs = append(m.xs, x)
}

func (m *collector) two(x, y float64, err error) {
	m.t.Helper()
	m.add(x, err)
	m.add(y, err)
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// distributionVectors call each distribution on a grid of sizes and places.
func distributionVectors(t *testing.T) []vector {
	var symmetric, symmetricQuantile, studentT, studentQuantile, chi, fisher, fisherQuantile, noncentral, noncentralQuantile, normal collector
	for _, m := range []*collector{&symmetric, &symmetricQuantile, &studentT, &studentQuantile, &chi, &fisher, &fisherQuantile, &noncentral, &noncentralQuantile, &normal} {
		m.t = t
	}
	z, err := stats.NewNormal(0, 1)
	check(t, err)
	for k := 1; k <= 40; k++ {
		df, p := float64(k)/2+0.5, float64(k)/41
		beta, err := stats.NewSymmetricBeta(df / 2)
		check(t, err)
		symmetric.add(beta.CDF(2*p - 1))
		symmetricQuantile.add(beta.Quantile(p / 10))
		student, err := stats.NewStudentT(df)
		check(t, err)
		studentT.add(student.Survival(6 * p))
		studentQuantile.add(student.Quantile(p / 20))
		square, err := stats.NewChiSquared(df)
		check(t, err)
		chi.add(square.Survival(40 * p))
		chi.add(square.Quantile(p))
		ratio, err := stats.NewFDistribution(df, 21-df/2)
		check(t, err)
		fisher.add(ratio.Survival(5 * p))
		fisherQuantile.add(ratio.Quantile(p))
		shifted, err := stats.NewNoncentralT(df + 1)
		check(t, err)
		noncentral.add(shifted.CDF(8*p-2, 4*p))
		noncentralQuantile.add(shifted.Quantile(p, 2))
		normal.add(z.Survival(10 * p))
		normal.add(z.Quantile(p / 100))
	}
	return []vector{
		{name: "symmetric beta", numbers: symmetric.xs, ulps: fewUlps},
		{name: "symmetric beta quantile", numbers: symmetricQuantile.xs, ulps: fewUlps},
		{name: "Student t", numbers: studentT.xs, ulps: fewUlps},
		{name: "Student t quantile", numbers: studentQuantile.xs, ulps: fewUlps},
		{name: "chi-squared", numbers: chi.xs, ulps: fewUlps},
		{name: "F", numbers: fisher.xs, ulps: fewUlps},
		{name: "F quantile", numbers: fisherQuantile.xs, ulps: fewUlps},
		{name: "noncentral t", numbers: noncentral.xs, ulps: fewUlps},
		{name: "noncentral t quantile", numbers: noncentralQuantile.xs, ulps: rootUlps},
		{name: "normal", numbers: normal.xs, ulps: fewUlps},
	}
}

// sampleVectors call what takes data, on data of two decimals.
func sampleVectors(t *testing.T) []vector {
	var moments, within, bounds, tests, outliers, fits, tolerance, design collector
	for _, m := range []*collector{&moments, &within, &bounds, &tests, &outliers, &fits, &tolerance, &design} {
		m.t = t
	}
	for i := range 20 {
		random := vectorSource(400 + uint64(i))
		n := 4 + i
		xs, ys := floatsIn(t, hundredths(random, n, 90, 600)), floatsIn(t, hundredths(random, n, 91, 700))
		d, err := stats.Describe(xs)
		moments.two(d.Mean, d.StdDev, err)
		moments.add(stats.LagOne(xs))
		w, err := lot.EstimateWithin(xs, lot.Between(91, 97))
		within.two(w.PWL, w.QL, err)
		within.add(lot.QualityIndex(float64(50+2*i), n))
		one, err := lot.WithinInterval(xs, lot.AtLeast(91), 0.9)
		bounds.two(one.CI.Lo, one.CI.Hi, err)
		e, err := stats.MeanInterval(xs, 0.95)
		tests.two(e.CI.Lo, e.CI.Hi, err)
		welch, err := stats.WelchT(xs, ys, 0.95)
		tests.two(welch.T.Value, welch.T.P, err)
		f, err := stats.EqualVariances(xs, ys, 0.95)
		tests.two(f.F.Value, f.F.P, err)
		g, err := stats.Grubbs(xs, stats.TwoSide, 0.05)
		outliers.two(g.G, g.P, err)
		outliers.two(stats.GrubbsCriticalBounds(n, stats.High, 0.05))
		line, err := stats.FitLine(xs, ys)
		fits.two(line.Intercept.Value, line.Slope.StdErr, err)
		deming, err := stats.FitDeming(xs, ys, stats.DemingOptions{Level: 0.95, VarYOverVarX: 1, Method: stats.DemingJackknife})
		fits.add(deming.Slope.Value, err)
		tolerance.add(stats.ToleranceOneSided(n, 0.9, 0.95))
		risk, err := lot.NewEstimator(n, lot.QualityOneLimit(90))
		check(t, err)
		design.add(risk.AtLeast(75))
	}
	return []vector{
		{name: "moments", numbers: moments.xs, ulps: fewUlps},
		{name: "percent within limits", numbers: within.xs, ulps: fewUlps},
		{name: "interval of percent within", numbers: bounds.xs, ulps: fewUlps},
		{name: "tests", numbers: tests.xs, ulps: fewUlps},
		{name: "outliers", numbers: outliers.xs, ulps: fewUlps},
		{name: "fits", numbers: fits.xs, ulps: fewUlps},
		{name: "tolerance", numbers: tolerance.xs, ulps: rootUlps},
		{name: "acceptance", numbers: design.xs, ulps: fewUlps},
	}
}
