package lot_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

func estimator(t testing.TB, n int, q lot.Quality) lot.Estimator {
	t.Helper()
	e, err := lot.NewEstimator(n, q)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// value returns a function that fails the test for an error and otherwise hands
// the value on.
func value(t testing.TB) func(x float64, err error) float64 {
	return func(x float64, err error) float64 {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
}

func pay(t testing.TB, e lot.Estimator, s lot.Schedule, r lot.Retesting) lot.Pay {
	t.Helper()
	p, err := lot.ExpectedPay(e, s, r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func rows(t testing.TB, segments ...lot.Segment) lot.Schedule {
	t.Helper()
	s, err := lot.NewSchedule(segments...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var (
	straight = lot.Segment{From: d("0"), Pay: lot.Formula(d("0.55"), d("0.005"))}
	level    = lot.Segment{From: d("90"), Pay: lot.Step(d("1"))}
)

// Output of testdata/estimatorone.R, to its last digit.
func TestEstimatorAndPayWithOneLimit(t *testing.T) {
	bent := rows(t, lot.Segment{From: d("0"), Reject: true},
		lot.Segment{From: d("55"), Pay: lot.Formula(d("-0.12"), d("0.014"))},
		lot.Segment{From: d("75"), Pay: lot.Formula(d("0.55"), d("0.005"))},
		lot.Segment{From: d("90"), Pay: lot.Formula(d("0.10"), d("0.01"))},
		lot.Segment{From: d("96"), Pay: lot.Step(d("1.06"))})
	get := value(t)
	for _, tt := range []struct {
		n                                                        int
		pwl, sd, full, ninety, seventyFive, low, line, cap, bent float64
	}{
		{3, 90, 15.304, 0.6402, 0.6654, 0.7925, 0.0273, 100.000, 96.757, 97.243},
		{3, 80, 20.710, 0.4216, 0.4443, 0.5748, 0.1214, 95.000, 92.854, 83.541},
		{3, 70, 23.810, 0.2696, 0.2867, 0.3926, 0.2661, 90.000, 88.624, 67.017},
		{3, 50, 25.997, 0.0918, 0.0988, 0.1464, 0.6080, 80.000, 79.530, 33.672},
		{5, 90, 11.152, 0.3087, 0.5898, 0.8803, 0.0053, 100.000, 97.680, 99.765},
		{5, 80, 15.240, 0.1317, 0.3104, 0.6273, 0.0574, 95.000, 93.879, 88.717},
		{5, 70, 17.491, 0.0563, 0.1514, 0.3835, 0.1916, 90.000, 89.481, 71.856},
		{5, 50, 19.009, 0.0081, 0.0257, 0.0907, 0.6156, 80.000, 79.918, 31.368},
		{10, 90, 7.645, 0.0158, 0.5566, 0.9569, 0.0001, 100.000, 98.443, 100.776},
		{10, 80, 10.507, 0.0020, 0.1871, 0.6862, 0.0122, 95.000, 94.583, 92.678},
		{10, 70, 12.014, 0.0003, 0.0494, 0.3410, 0.1054, 90.000, 89.904, 77.503},
		{10, 50, 12.980, 0.0000, 0.0016, 0.0286, 0.6551, 80.000, 79.997, 26.484},
		{20, 90, 5.344, 0.0000, 0.5388, 0.9926, 0.0000, 100.000, 98.923, 100.867},
		{20, 80, 7.354, 0.0000, 0.0854, 0.7531, 0.0007, 95.000, 94.886, 94.154},
		{20, 70, 8.390, 0.0000, 0.0071, 0.2779, 0.0380, 90.000, 89.992, 82.312},
		{20, 50, 9.041, 0.0000, 0.0000, 0.0033, 0.7125, 80.000, 80.000, 20.966},
	} {
		e := estimator(t, tt.n, lot.QualityOneLimit(tt.pwl))
		for _, c := range []struct {
			what           string
			got, want, tol float64
		}{
			{"standard deviation", get(e.StdDev()), tt.sd, 5e-4},
			{"P(100)", get(e.AtLeast(100)), tt.full, 5e-5},
			{"P(≥ 90)", get(e.AtLeast(90)), tt.ninety, 5e-5},
			{"P(≥ 75)", get(e.AtLeast(75)), tt.seventyFive, 5e-5},
			{"P(< 55)", 1 - get(e.AtLeast(55)), tt.low, 5e-5},
			{"line", 100 * pay(t, e, rows(t, straight), lot.Retesting{}).Factor, tt.line, 5e-4},
			{"capped line", 100 * pay(t, e, rows(t, straight, level), lot.Retesting{}).Factor, tt.cap, 5e-4},
			{"steps and lines", 100 * pay(t, e, bent, lot.Retesting{}).Factor, tt.bent, 5e-4},
			{"rejected", pay(t, e, bent, lot.Retesting{}).Rejected, tt.low, 5e-5},
		} {
			if !(math.Abs(c.got-c.want) <= c.tol*1.0001) {
				t.Errorf("n = %d, PWL %v, %s: %.6f, want %v", tt.n, tt.pwl, c.what, c.got, c.want)
			}
		}
	}
}

// Output of testdata/estimatorboth.R, to its last digit.
func TestAtLeastWithTwoLimits(t *testing.T) {
	for _, tt := range []struct {
		n       int
		quality lot.Quality
		pwl     float64
		want    float64
	}{
		{3, lot.Quality{Below: 5, Above: 5}, 90, 0.6597905383},
		{3, lot.Quality{Below: 20, Above: 10}, 60, 0.6246177121},
		{3, lot.Quality{Below: 25, Above: 25}, 95, 0.0917232876},
		{4, lot.Quality{Below: 5, Above: 5}, 85, 0.6958416446},
		{4, lot.Quality{Below: 30, Above: 20}, 50, 0.4215336320},
		{5, lot.Quality{Below: 5, Above: 5}, 90, 0.5917277541},
		{5, lot.Quality{Below: 8, Above: 2}, 85, 0.7027218615},
		{5, lot.Quality{Below: 20, Above: 30}, 60, 0.2291069069},
		{5, lot.Quality{Below: 45, Above: 45}, 20, 0.0305915595},
		{7, lot.Quality{Below: 10, Above: 5}, 75, 0.7965847161},
		{10, lot.Quality{Below: 5, Above: 5}, 90, 0.5550947387},
		{10, lot.Quality{Below: 15, Above: 15}, 70, 0.4746410091},
		{20, lot.Quality{Below: 10, Above: 2}, 85, 0.7032379041},
	} {
		for _, q := range []lot.Quality{tt.quality, {Below: tt.quality.Above, Above: tt.quality.Below}} {
			if got := value(t)(estimator(t, tt.n, q).AtLeast(tt.pwl)); !(math.Abs(got-tt.want) <= 1e-9) {
				t.Errorf("n = %d, %+v, P(≥ %v) = %.12f, want %.10f", tt.n, q, tt.pwl, got, tt.want)
			}
		}
	}
}

// The estimate is unbiased: over its whole distribution, the atom at 100 and all, a
// straight line pays by the true percentage. A parabola pays by the mean square, of
// which [Estimator.StdDev] has a closed form of its own.
func TestEstimateIsUnbiased(t *testing.T) {
	line := rows(t, straight)
	parabola := rows(t, lot.Segment{From: d("0"), Pay: lot.Quadratic(d("0"), d("0"), d("0.0001"))})
	for _, n := range []int{3, 4, 5, 6, 9, 20, 60, 250} {
		for _, q := range []lot.Quality{{Below: 1e-6}, {Below: 0.5}, {Above: 10}, {Below: 50}, {Below: 97},
			{Below: 0.1, Above: 0.1}, {Below: 5, Above: 5}, {Below: 20, Above: 1}, {Below: 25, Above: 25}, {Below: 48, Above: 42}} {
			if n > 9 && q.Below > 0 && q.Above > 0 && (n != 20 || q.PWL() < 75) {
				continue // slow
			}
			e := estimator(t, n, q)
			if mean := value(t)(e.Mean()); mean != q.PWL() {
				t.Errorf("n = %d, %+v: mean %.12f", n, q, mean)
			}
			if p := pay(t, e, line, lot.Retesting{}); !(math.Abs(p.Factor-0.55-0.005*q.PWL()) <= 1e-10) || p.Rejected != 0 || p.Samples != 1 {
				t.Errorf("n = %d, %+v: %+v", n, q, p)
			}
			share := q.PWL() / 100
			want := pay(t, e, parabola, lot.Retesting{}).Factor - share*share
			if sd := value(t)(e.StdDev()) / 100; !(math.Abs(sd*sd-want) <= 1e-9) {
				t.Errorf("n = %d, %+v: variance %v, want %v", n, q, sd*sd, want)
			}
		}
	}
}

// For 200 results and more the estimate is next to the maximum likelihood one, with
// the variance of that, φ(z)²·(1+z²/2)/n for one limit, but for terms of order 1/n².
func TestStdDevOfManyResults(t *testing.T) {
	for _, n := range []int{200, 1000, 10000} {
		for _, pwl := range []float64{60, 90, 99} {
			z := math.Sqrt2 * math.Erfinv(2*pwl/100-1)
			density := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
			want := 100 * density * math.Sqrt((1+z*z/2)/float64(n))
			for _, q := range []lot.Quality{lot.QualityOneLimit(pwl), {Below: 100 - pwl, Above: 1e-12}} {
				if got := value(t)(estimator(t, n, q).StdDev()); !(math.Abs(got/want-1) <= 5/float64(n)) {
					t.Errorf("n = %d, %+v: %v, want %v", n, q, got, want)
				}
			}
		}
	}
}

// A second limit far out changes nothing, though it is another way of computing.
func TestFarSecondLimit(t *testing.T) {
	for _, n := range []int{3, 4, 5, 8, 25, 120} {
		for _, below := range []float64{0.01, 10, 40, 80} {
			for _, pwl := range []float64{1, 50, 85, 99, 100} {
				one := value(t)(estimator(t, n, lot.Quality{Below: below}).AtLeast(pwl))
				two := value(t)(estimator(t, n, lot.Quality{Below: below, Above: 1e-30}).AtLeast(pwl))
				if !(math.Abs(one-two) <= 1e-11) {
					t.Errorf("n = %d, %v below, P(≥ %v): %v, %v", n, below, pwl, one, two)
				}
			}
		}
	}
}

// With four results the kernel is level: P(100) and the distribution come from
// gonum's noncentral t directly, PWL = 50 + 50·y, √4·Q = 3y.
func TestOneLimitAgainstGonum(t *testing.T) {
	for _, pwl := range []float64{55, 75, 90, 100} {
		want := 1 - distuv.NoncentralT{Nu: 3, Mu: 2 * distuv.UnitNormal.Quantile(0.9)}.CDF(3*(pwl-50)/50)
		if got := value(t)(estimator(t, 4, lot.QualityOneLimit(90)).AtLeast(pwl)); !(math.Abs(got-want) <= 1e-11) {
			t.Errorf("P(≥ %v) = %v, gonum %v", pwl, got, want)
		}
	}
}

func TestCertainQualities(t *testing.T) {
	get := value(t)
	for _, n := range []int{3, 4, 5, 30} {
		for _, q := range []lot.Quality{{}, {Below: 100}, {Above: 100}, {Below: 50, Above: 50}} {
			e := estimator(t, n, q)
			all := boolean(q.PWL() == 100)
			for _, pwl := range []float64{1e-300, 1, 50, 100} {
				if got := get(e.AtLeast(pwl)); got != all {
					t.Errorf("n = %d, %+v, P(≥ %v) = %v", n, q, pwl, got)
				}
			}
			if got := get(e.AtLeast(0)); got != 1 {
				t.Errorf("n = %d, %+v, P(≥ 0) = %v", n, q, got)
			}
			if m, s := get(e.Mean()), get(e.StdDev()); math.Abs(m-100*all) > 1e-10 || s > 1e-5 {
				t.Errorf("n = %d, %+v: mean %v, standard deviation %v", n, q, m, s)
			}
		}
	}
}

func boolean(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// By hand, with S = P(≥ 80) and a plan that pays 1 from 80 on: the best of three
// passes with 1 - (1-S)³, at most three tests likewise and 1 + q + q² are taken,
// testing until it passes pays 1 and takes 1/S.
func TestRetesting(t *testing.T) {
	s := rows(t, lot.Segment{From: d("0"), Reject: true}, lot.Segment{From: d("80"), Pay: lot.Step(d("1"))})
	for _, quality := range []lot.Quality{{Below: 10}, {Below: 30, Above: 2}} {
		e := estimator(t, 5, quality)
		p := value(t)(e.AtLeast(80))
		q := 1 - p
		for _, tt := range []struct {
			name            string
			r               lot.Retesting
			factor, samples float64
		}{
			{"once", lot.Retesting{}, p, 1},
			{"best of one", lot.BestOf(1), p, 1},
			{"best of three", lot.BestOf(3), 1 - q*q*q, 3},
			{"one test", lot.RetestBelow(80, 1), p, 1},
			{"three tests", lot.RetestBelow(80, 3), 1 - q*q*q, 1 + q + q*q},
			{"until it passes", lot.RetestBelow(80, math.MaxInt), 1, 1 / p},
			{"again below 60 only", lot.RetestBelow(60, 2), p * (2 - value(t)(e.AtLeast(60))), 2 - value(t)(e.AtLeast(60))},
		} {
			got := pay(t, e, s, tt.r)
			if !(math.Abs(got.Factor-tt.factor) <= 1e-12 && math.Abs(got.Samples-tt.samples) <= 1e-12*tt.samples && math.Abs(got.Rejected-1+tt.factor) <= 1e-12) {
				t.Errorf("%+v, %s: %+v, want %v, %v", quality, tt.name, got, tt.factor, tt.samples)
			}
		}
	}
}

// A line with retests is the mixture of what each sample gives: with the part of
// the mean that lies at or above 70, M = E(X; X ≥ 70), a second sample below 70
// gives M·(1+q) + q·(E(X) - M).
func TestRetestedLine(t *testing.T) {
	e := estimator(t, 5, lot.QualityOneLimit(75))
	above := rows(t, lot.Segment{From: d("0")}, lot.Segment{From: d("70"), Pay: lot.Formula(d("0"), d("0.01"))})
	whole := rows(t, lot.Segment{From: d("0"), Pay: lot.Formula(d("0"), d("0.01"))})
	m := pay(t, e, above, lot.Retesting{}).Factor
	q := 1 - value(t)(e.AtLeast(70))
	if got, want := pay(t, e, whole, lot.RetestBelow(70, 2)).Factor, m*(1+q)+q*(0.75-m); !(math.Abs(got-want) <= 1e-10) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Probabilities stay between 0 and 1 and fall with the estimate, and a rising
// schedule pays between its ends, however extreme the quality is.
func TestRiskStaysInRange(t *testing.T) {
	s := schedule(t)
	tails := []float64{0, 1e-300, 1e-17, 1e-3, 0.3, 4, 20, 49.9, 70, 99.9, 100 - 1e-12}
	for _, n := range []int{3, 4, 5, 6, 11} {
		for _, below := range tails {
			for _, above := range tails {
				q := lot.Quality{Below: below, Above: above}
				if q.Validate() != nil || n > 6 && q.PWL() < 50 && above > 0 {
					continue // refused, or slow
				}
				e, before := estimator(t, n, q), 1.0
				for _, pwl := range []float64{0, 1e-300, 1e-9, 0.1, 20, 50, 75, 99, 100 - 1e-9, 100} {
					p := value(t)(e.AtLeast(pwl))
					if !(p >= 0 && p <= before+1e-12) {
						t.Errorf("n = %d, %+v: P(≥ %v) = %v after %v", n, q, pwl, p, before)
					}
					before = p
				}
				for _, r := range []lot.Retesting{{}, lot.BestOf(3), lot.RetestBelow(60, math.MaxInt)} {
					p := pay(t, e, s, r)
					if !(p.Factor >= -1e-12 && p.Factor <= 1.02+1e-12 && p.Rejected >= 0 && p.Rejected <= 1 && p.Samples >= 1-1e-12) {
						t.Errorf("n = %d, %+v, %+v: %+v", n, q, r, p)
					}
				}
			}
		}
	}
}

func TestRiskRefuses(t *testing.T) {
	good, line := estimator(t, 5, lot.QualityOneLimit(90)), rows(t, straight)
	late := rows(t, level)
	one := make([]lot.Quality, 1)
	nan := math.NaN()
	for _, tt := range []struct {
		name string
		f    func() error
		want error
	}{
		{"two results", func() error { _, err := lot.NewEstimator(2, lot.Quality{}); return err }, stats.ErrTooFew},
		{"too many results", func() error { _, err := lot.NewEstimator(10001, lot.Quality{}); return err }, lot.ErrOutOfDomain},
		{"NaN below", func() error { _, err := lot.NewEstimator(5, lot.Quality{Below: nan}); return err }, lot.ErrOutOfDomain},
		{"more than all", func() error { _, err := lot.NewEstimator(5, lot.Quality{Below: 60, Above: 41}); return err }, lot.ErrOutOfDomain},
		{"empty estimator", func() error { _, err := lot.Estimator{}.AtLeast(90); return err }, lot.ErrEmptyRisk},
		{"empty estimator, mean", func() error { _, err := lot.Estimator{}.Mean(); return err }, lot.ErrEmptyRisk},
		{"empty estimator, spread", func() error { _, err := lot.Estimator{}.StdDev(); return err }, lot.ErrEmptyRisk},
		{"empty estimator, pay", func() error { _, err := lot.ExpectedPay(lot.Estimator{}, line, lot.Retesting{}); return err }, lot.ErrEmptyRisk},
		{"NaN percent", func() error { _, err := good.AtLeast(nan); return err }, lot.ErrOutOfDomain},
		{"no schedule", func() error { _, err := lot.ExpectedPay(good, lot.Schedule{}, lot.Retesting{}); return err }, lot.ErrMissing},
		{"schedule from 90", func() error { _, err := lot.ExpectedPay(good, late, lot.Retesting{}); return err }, lot.ErrNotCovered},
		{"best of none", func() error { _, err := lot.ExpectedPay(good, line, lot.BestOf(0)); return err }, lot.ErrOutOfDomain},
		{"retest below NaN", func() error { _, err := lot.ExpectedPay(good, line, lot.RetestBelow(nan, 2)); return err }, lot.ErrOutOfDomain},
		{"curve of another length", func() error { return lot.AcceptanceCurve(nil, one, 5, 90) }, stats.ErrLength},
		{"curve at NaN", func() error { return lot.AcceptanceCurve(make([]float64, 1), one, 5, nan) }, lot.ErrOutOfDomain},
		{"curve of bad quality", func() error {
			return lot.AcceptanceCurve(make([]float64, 1), []lot.Quality{{Below: -1}}, 5, 90)
		}, lot.ErrOutOfDomain},
		{"pay curve of two results", func() error { return lot.PayCurve(make([]lot.Pay, 1), one, 2, line, lot.Retesting{}) }, stats.ErrTooFew},
		{"one point", func() error { _, err := lot.QualityRange(0, 100, 1, lot.QualityOneLimit); return err }, lot.ErrOutOfDomain},
		{"no limit", func() error { _, err := lot.QualityOf(93, 1, lot.Limits{}); return err }, lot.ErrNoLimit},
		{"no spread", func() error { _, err := lot.QualityOf(93, 0, lot.AtLeast(92)); return err }, stats.ErrParameter},
		{"NaN mean", func() error { _, err := lot.QualityOf(nan, 1, lot.AtLeast(92)); return err }, stats.ErrNotFinite},
		{"too wide", func() error { _, err := lot.QualityOffCentre(90, 5, lot.Between(92, 97)); return err }, lot.ErrOutOfDomain},
		{"spread NaN", func() error {
			_, err := lot.QualitiesOverSpread(94, []float64{1, nan}, lot.AtLeast(92))
			return err
		}, stats.ErrParameter},
		{"risks of two", func() error { _, err := lot.RisksOf(2, 80, lot.Quality{}, lot.Quality{}); return err }, stats.ErrTooFew},
		{"qualities as fractions", func() error {
			_, err := lot.DesignAcceptance(lot.WantedRisks{AQL: lot.QualityOneLimit(0.9), RQL: lot.QualityOneLimit(0.5), Seller: 0.1, Buyer: 0.1})
			return err
		}, lot.ErrOutOfDomain},
		{"risks at fractions", func() error {
			_, err := lot.RisksOf(5, 75, lot.QualityOneLimit(0.9), lot.QualityOneLimit(0.5))
			return err
		}, lot.ErrOutOfDomain},
		{"levels in the wrong order", func() error {
			_, err := lot.DesignAcceptance(lot.WantedRisks{AQL: lot.QualityOneLimit(50), RQL: lot.QualityOneLimit(90), Seller: 0.1, Buyer: 0.1})
			return err
		}, lot.ErrOutOfDomain},
		{"no seller's risk", func() error {
			_, err := lot.DesignAcceptance(lot.WantedRisks{AQL: lot.QualityOneLimit(90), RQL: lot.QualityOneLimit(50), Buyer: 0.1})
			return err
		}, stats.ErrLevel},
		{"levels too close", func() error {
			_, err := lot.DesignAcceptance(lot.WantedRisks{AQL: lot.QualityOneLimit(90), RQL: lot.QualityOneLimit(89.9), Seller: 0.1, Buyer: 0.1})
			return err
		}, lot.ErrNoPlan},
		{"cap without bonus", func() error { _, err := lot.FairPayLine(good, 0.005, 1); return err }, lot.ErrOutOfDomain},
		{"slope NaN", func() error { _, err := lot.FairPayLine(good, nan, 1.05); return err }, lot.ErrOutOfDomain},
	} {
		var bad *stats.InputError
		if err := tt.f(); !errors.Is(err, tt.want) || !errors.As(err, &bad) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}
