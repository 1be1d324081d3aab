package stats_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/densilot/densilot/stats"
)

func TestTPower(t *testing.T) {
	for _, tt := range []struct {
		name   string
		plan   stats.MeansPlan
		want   float64
		source string
	}{
		{"one sample", stats.MeansPlan{Design: stats.DesignOneSample, N1: 10, StdDev1: 1, Difference: 1, Alpha: 0.05},
			0.803096856633, `R 4.2.2, power.t.test(n=10, delta=1, sd=1, type="one.sample", strict=TRUE)`},
		{"paired, the other direction", stats.MeansPlan{Design: stats.DesignPaired, N1: 10, StdDev1: 1, Difference: -1, Alpha: 0.05},
			0.803096856633, "the same by symmetry"},
		{"pooled", stats.MeansPlan{Design: stats.DesignPooled, N1: 5, N2: 5, StdDev1: 1, Difference: 1.5, Alpha: 0.05},
			0.549385597763, "R 4.2.2, power.t.test(n=5, delta=1.5, sd=1, strict=TRUE)"},
		{"Welch", stats.MeansPlan{Design: stats.DesignWelch, N1: 5, N2: 8, StdDev1: 1, StdDev2: 3, Difference: 2, Alpha: 0.05},
			0.341127245311, "SciPy 1.10.1, testdata/welchpower.py"},
		{"Welch, three and three", stats.MeansPlan{Design: stats.DesignWelch, N1: 3, N2: 3, StdDev1: 1, StdDev2: 1, Difference: 3, Alpha: 0.05},
			0.67691035073, "the same"},
		{"no difference", stats.MeansPlan{Design: stats.DesignPooled, N1: 3, N2: 7, StdDev1: 2, Alpha: 0.01}, 0.01, "the significance, by definition"},
	} {
		got, err := stats.TPower(tt.plan)
		if err != nil || !near(got, tt.want, 5e-11) {
			t.Errorf("%s: %v, %v, want %v (%s)", tt.name, got, err, tt.want, tt.source)
		}
	}
}

func TestSampleSizes(t *testing.T) {
	pooled := stats.MeansPlan{Design: stats.DesignPooled, StdDev1: 1.2, Difference: 1, Alpha: 0.05}
	paired := stats.MeansPlan{Design: stats.DesignPaired, StdDev1: 1.2, Difference: 1, Alpha: 0.01}
	unit := stats.MeansPlan{Design: stats.DesignOneSample, StdDev1: 1, Alpha: 0.05}
	near02 := stats.MeansPlan{Design: stats.DesignPooled, StdDev1: 1, Difference: 0.2, Alpha: 0.05}
	one := stats.Margins{Lower: -1, Upper: 1}
	for _, tt := range []struct {
		name   string
		size   func() (int, error)
		want   int
		source string
	}{
		{"pooled", func() (int, error) { return stats.TSampleSize(pooled, 0.9) }, 32, "R 4.2.2, power.t.test(power=.9, delta=1, sd=1.2, strict=TRUE): n = 31.25"},
		{"paired", func() (int, error) { return stats.TSampleSize(paired, 0.8) }, 21, `R 4.2.2, power.t.test(power=.8, delta=1, sd=1.2, sig.level=.01, type="paired", strict=TRUE): n = 20.20`},
		{"equivalence, one sample", func() (int, error) { return stats.EquivalenceSampleSize(unit, one, 0.8) }, 11, "R 4.2.2, integrate() as in TestEquivalencePower, n counted up"},
		{"equivalence, pooled", func() (int, error) { return stats.EquivalenceSampleSize(near02, one, 0.8) }, 21, "the same"},
		{"variances 4 to 1", func() (int, error) {
			return stats.FSampleSize(stats.VariancesPlan{StdDev1: 2, StdDev2: 1, Alpha: 0.05}, 0.8)
		}, 19, "R 4.2.2, fp as in TestFPower, n counted up"},
	} {
		if got, err := tt.size(); err != nil || got != tt.want {
			t.Errorf("%s: %v, %v, want %v (%s)", tt.name, got, err, tt.want, tt.source)
		}
	}
}

func TestDetectableDifference(t *testing.T) {
	p := stats.MeansPlan{Design: stats.DesignPooled, N1: 10, N2: 10, StdDev1: 1.2, Alpha: 0.05}
	got, err := stats.DetectableDifference(p, 0.8)
	if want := 1.58993687109; err != nil || !near(got, want, 1e-10) { // R 4.2.2, power.t.test(power=.8, n=10, sd=1.2, strict=TRUE, tol=1e-12)
		t.Errorf("%v, %v, want %v", got, err, want)
	}
	for _, power := range []float64{0.051, 0.3, 0.999} {
		p.Difference, err = stats.DetectableDifference(p, power)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := stats.TPower(p); err != nil || !near(back, power, 1e-11) {
			t.Errorf("power %v comes back as %v, %v", power, back, err)
		}
	}
}

func TestFPower(t *testing.T) {
	for _, tt := range []struct {
		n, m            int
		s1, s2, a, want float64
	}{{10, 5, 2, 1, 0.05, 0.229263222358}, {10, 2, 2, 1, 0.05, 0.0504215375982}, {4, 9, 1, 2, 0.01, 0.0369011080922}} {
		got, err := stats.FPower(stats.VariancesPlan{N1: tt.n, N2: tt.m, StdDev1: tt.s1, StdDev2: tt.s2, Alpha: tt.a})
		// R 4.2.2, fp <- function(n, m, l, a) pf(qf(1-a/2,n-1,m-1)/l,n-1,m-1,lower=FALSE) + pf(qf(a/2,n-1,m-1)/l,n-1,m-1)
		if err != nil || !near(got, tt.want, 1e-12) {
			t.Errorf("%+v: %v, %v", tt, got, err)
		}
	}
}

// Expected values: the one for Welch by testdata/welchpower.py, the others by R 4.2.2, tc <- qt(1-a, df), integrate(function(w)
// pmax(0, pnorm((U-d)/se-tc*w)-pnorm((L-d)/se+tc*w))*2*df*w*dchisq(df*w^2,df), 0, (U-L)/(2*tc*se), rel.tol=1e-12).
func TestEquivalencePower(t *testing.T) {
	for _, tt := range []struct {
		plan    stats.MeansPlan
		margins stats.Margins
		want    float64
	}{
		{stats.MeansPlan{Design: stats.DesignOneSample, N1: 10, StdDev1: 1, Alpha: 0.05}, stats.Margins{Lower: -1, Upper: 1}, 0.795207266706},
		{stats.MeansPlan{Design: stats.DesignPaired, N1: 10, StdDev1: 1, Difference: 0.3, Alpha: 0.05}, stats.Margins{Lower: -1, Upper: 1.5}, 0.951013237347},
		{stats.MeansPlan{Design: stats.DesignPooled, N1: 12, N2: 12, StdDev1: 1, Difference: 0.2, Alpha: 0.05}, stats.Margins{Lower: -1, Upper: 1}, 0.485781157675},
		{stats.MeansPlan{Design: stats.DesignOneSample, N1: 3, StdDev1: 1, Alpha: 0.05}, stats.Margins{Lower: -1, Upper: 1}, 0.127338427508},
		{stats.MeansPlan{Design: stats.DesignWelch, N1: 5, N2: 8, StdDev1: 1, StdDev2: 3, Difference: 0.5, Alpha: 0.05}, stats.Margins{Lower: -4, Upper: 5}, 0.947625332},
	} {
		if got, err := stats.EquivalencePower(tt.plan, tt.margins); err != nil || !near(got, tt.want, 5e-10) {
			t.Errorf("%+v: %v, %v, want %v", tt.plan, got, err, tt.want)
		}
	}
}

// The powers for Welch are averages over the sample variances; this holds them to
// what the tests do, with samples of equal and of unequal size.
func TestWelchPowerBySimulation(t *testing.T) {
	trials := simulationTrials(8000, 100000)
	rng := rand.New(rand.NewPCG(21, 22))
	margins := stats.Margins{Lower: -6, Upper: 6}
	for _, tt := range []struct {
		n, m   int
		s1, s2 float64
	}{{3, 3, 1, 4}, {3, 3, 1, 1}, {10, 10, 1, 3}, {10, 20, 3, 1}} {
		p := stats.MeansPlan{Design: stats.DesignWelch, N1: tt.n, N2: tt.m, StdDev1: tt.s1, StdDev2: tt.s2, Difference: 3, Alpha: 0.05}
		power, err := stats.TPower(p)
		if err != nil {
			t.Fatal(err)
		}
		shown, err := stats.EquivalencePower(p, margins)
		if err != nil {
			t.Fatal(err)
		}
		rejected, equivalent := 0, 0
		for range trials {
			xs, ys := normals(rng, tt.n, 3, tt.s1), normals(rng, tt.m, 0, tt.s2)
			r, err := stats.WelchT(xs, ys, 0.95)
			if err != nil {
				t.Fatal(err)
			}
			e, err := stats.WelchEquivalence(xs, ys, margins, 0.05)
			if err != nil {
				t.Fatal(err)
			}
			if r.T.P <= 0.05 {
				rejected++
			}
			if e.Equivalent {
				equivalent++
			}
		}
		noise := 4 * math.Sqrt(0.25/float64(trials))
		t.Logf("%+v: t %.4f, simulated %.4f; equivalence %.4f, simulated %.4f", tt, power, share(rejected, trials), shown, share(equivalent, trials))
		if !near(power, share(rejected, trials), noise) || !near(shown, share(equivalent, trials), noise) {
			t.Errorf("%+v: outside ±%v", tt, noise)
		}
	}
}

func TestPowerRefuses(t *testing.T) {
	good := stats.MeansPlan{Design: stats.DesignPooled, N1: 5, N2: 5, StdDev1: 1, Difference: 1, Alpha: 0.05}
	change := func(edit func(p *stats.MeansPlan)) stats.MeansPlan {
		p := good
		edit(&p)
		return p
	}
	for _, tt := range []struct {
		name string
		plan stats.MeansPlan
		want error
	}{
		{"no design", change(func(p *stats.MeansPlan) { p.Design = 0 }), stats.ErrParameter},
		{"one value", change(func(p *stats.MeansPlan) { p.N1 = 1 }), stats.ErrTooFew},
		{"no second sample", change(func(p *stats.MeansPlan) { p.N2 = 0 }), stats.ErrTooFew},
		{"no standard deviation", change(func(p *stats.MeansPlan) { p.StdDev1 = 0 }), stats.ErrParameter},
		{"Welch without the second", change(func(p *stats.MeansPlan) { p.Design = stats.DesignWelch }), stats.ErrParameter},
		{"no alpha", change(func(p *stats.MeansPlan) { p.Alpha = 0 }), stats.ErrLevel},
		{"NaN", change(func(p *stats.MeansPlan) { p.Difference = math.NaN() }), stats.ErrNotFinite},
	} {
		if _, err := stats.TPower(tt.plan); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	good.Difference = 0
	if n, err := stats.TSampleSize(good, 0.8); !errors.Is(err, stats.ErrParameter) {
		t.Errorf("a size for no difference: %v, %v", n, err)
	}
	good.Difference = 2
	if n, err := stats.EquivalenceSampleSize(good, stats.Margins{Lower: -1, Upper: 1}, 0.8); !errors.Is(err, stats.ErrParameter) {
		t.Errorf("a size outside the margins: %v, %v", n, err)
	}
	if d, err := stats.DetectableDifference(good, 0.05); !errors.Is(err, stats.ErrParameter) {
		t.Errorf("a difference for the significance itself: %v, %v", d, err)
	}
}
