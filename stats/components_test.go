package stats

import (
	"errors"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

var modified = ComponentOptions{Level: 0.95, Method: ModifiedLargeSample}

// Thickness of an oxide layer, Å: 3 sites in 3 wafers in 8 lots. R. C. Littell et al.,
// SAS System for Mixed Models (1996), as data set Oxide of the R package nlme.
var oxide = []float64{
	2006, 1999, 2007, 1980, 1988, 1982, 2000, 1998, 2007, 1991, 1990, 1988, 1987, 1989, 1988, 1985, 1983, 1989,
	2000, 2004, 2004, 2001, 1996, 2004, 1999, 2000, 2002, 1997, 1994, 1996, 1996, 2000, 2002, 1987, 1990, 1995,
	2013, 2004, 2009, 2023, 2018, 2010, 2020, 2023, 2015, 2032, 2036, 2030, 2018, 2022, 2026, 2009, 2010, 2011,
	1984, 1993, 1993, 1992, 1992, 1990, 1996, 1993, 1987, 1996, 1989, 1996, 1997, 1993, 1996, 1990, 1989, 1992,
}

// Fat in dried eggs, %: 2 readings of 2 samples by 2 technicians in 6 laboratories.
// C. I. Bliss, Statistics in Biology (1967), as data set eggs of the R package faraway.
var eggs = []float64{
	0.62, 0.55, 0.34, 0.24, 0.8, 0.68, 0.76, 0.65, 0.3, 0.4, 0.33, 0.43, 0.39, 0.4, 0.29, 0.18,
	0.46, 0.38, 0.27, 0.37, 0.37, 0.42, 0.45, 0.54, 0.18, 0.47, 0.53, 0.32, 0.4, 0.37, 0.31, 0.43,
	0.35, 0.39, 0.37, 0.33, 0.42, 0.36, 0.2, 0.41, 0.37, 0.43, 0.28, 0.36, 0.18, 0.2, 0.26, 0.06,
}

// counted returns names for groups of the given size in order.
func counted(n, size int) []string {
	names := make([]string, n)
	for i := range names {
		names[i] = strconv.Itoa(i / size)
	}
	return names
}

// At a low level the exact interval of a mean square with few degrees of freedom lies above
// it: 0.5/χ² at 0.6 and 0.4 with one, by R's qchisq.
func TestVarianceAtLowLevel(t *testing.T) {
	v, err := OneWayComponents([][]float64{{1, 2}, {4}}, ComponentOptions{Level: 0.2, Method: ModifiedLargeSample})
	if err != nil {
		t.Fatal(err)
	}
	within := v.Components[1]
	checkFigures(t, 1e-12, figure{"lower", within.CI.Lo, 0.705889361209273}, figure{"upper", within.CI.Hi, 1.81820894104291})
}

// An interval of a difference of mean squares holds that of every lower level.
func TestDifferenceIntervalGrows(t *testing.T) {
	for _, df := range []float64{1, 2, 5, 30} {
		for _, under := range []float64{1, 3, 20, 1000} {
			for _, ratio := range []float64{1e-6, 0.3, 1, 1.5, 5, 100} {
				before := Interval{Lo: math.MaxFloat64}
				for _, level := range []float64{1e-9, 0.05, 0.2, 0.35, 0.5, 0.7, 0.95, 0.99} {
					i := differenceInterval(level, meanSquare{ms: ratio, df: df, factor: 1}, meanSquare{ms: 1, df: under, factor: 1})
					if i.Lo > i.Hi || i.Lo > before.Lo+1e-9*ratio || i.Hi < before.Hi-1e-9*ratio {
						t.Errorf("ratio %v, %v and %v degrees, level %v: %v after %v", ratio, df, under, level, i, before)
					}
					before = i
				}
			}
		}
	}
}

// Dyestuff: O. L. Davies, Statistical Methods in Research and Production, data as in R
// package lme4. Figures: testdata/components.R; F and intraclass figures:
// testdata/regression.R; P: R, pf(11271.5/2451.25, 5, 24, lower = FALSE).
func TestOneWayComponentsDyestuff(t *testing.T) {
	v, err := OneWayComponents([][]float64{
		{1545, 1440, 1440, 1520, 1580}, {1540, 1555, 1490, 1560, 1495}, {1595, 1550, 1605, 1510, 1560},
		{1445, 1440, 1595, 1465, 1545}, {1595, 1630, 1515, 1635, 1625}, {1520, 1455, 1450, 1480, 1445}}, modified)
	if err != nil {
		t.Fatal(err)
	}
	between, within := v.Components[0], v.Components[1]
	checkFigures(t, 1e-9,
		figure{"batch", between.Estimate, 1764.05}, figure{"sd", between.StdDev, 42.00059523}, figure{"sd within", within.StdDev, 49.51009998},
		figure{"F", between.F, 4.598266191}, figure{"mean", v.Mean, 1527.5}, figure{"its standard error", v.MeanStdErr, 19.38341215},
		figure{"intraclass", v.ICC, 0.4184874149}, figure{"lower", v.ICCCI.Lo, 0.08383605066}, figure{"upper", v.ICCCI.Hi, 0.8478768155},
		figure{"total df", v.TotalDF, 15.1017317818775})
	checkFigures(t, 1e-12,
		figure{"P", between.P, 0.00439753126830617},
		figure{"batch, lower", between.CI.Lo, 306.419186846556}, figure{"upper", between.CI.Hi, 13045.978410914595},
		figure{"within, lower", within.CI.Lo, 1494.50982834528}, figure{"upper", within.CI.Hi, 4743.91479568122},
		figure{"total, lower", v.TotalCI.Lo, 2640.80067853451}, figure{"upper", v.TotalCI.Hi, 15669.13128737637})
	v, err = OneWayComponents([][]float64{
		{1545, 1440, 1440, 1520, 1580}, {1540, 1555, 1490, 1560, 1495}, {1595, 1550, 1605, 1510, 1560},
		{1445, 1440, 1595, 1465, 1545}, {1595, 1630, 1515, 1635, 1625}, {1520, 1455, 1450, 1480, 1445}},
		ComponentOptions{Level: 0.95, Method: Satterthwaite})
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-12,
		figure{"batch, lower", v.Components[0].CI.Lo, 568.50479214040945}, figure{"upper", v.Components[0].CI.Hi, 23994.00933619062562},
		figure{"total, lower", v.TotalCI.Lo, 2304.2081480833122}, figure{"upper", v.TotalCI.Hi, 10060.9392558281361})
}

// Rail: J. C. Pinheiro and D. M. Bates, Mixed-Effects Models in S and S-PLUS (2000) 9.
// Silicon resistivity: NIST StRD, SiRstv, F certified. Other figures:
// testdata/regression.R.
func TestOneWayComponentsRailAndSilicon(t *testing.T) {
	rail, err := OneWayComponents([][]float64{{55, 53, 54}, {26, 37, 32}, {78, 91, 85}, {92, 100, 96}, {49, 51, 50}, {80, 85, 83}}, modified)
	if err != nil {
		t.Fatal(err)
	}
	silicon, err := OneWayComponents([][]float64{
		{196.3052, 196.124, 196.189, 196.2569, 196.3403}, {196.3042, 196.3825, 196.1669, 196.3257, 196.0422},
		{196.1303, 196.2005, 196.2889, 196.0343, 196.1811}, {196.2795, 196.1748, 196.1494, 196.1485, 195.9885},
		{196.2119, 196.1051, 196.185, 196.0052, 196.209}}, modified)
	if err != nil {
		t.Fatal(err)
	}
	checkPrintedFigures(t,
		printedFigure{"its standard error", rail.MeanStdErr, 10.17103731, 5e-9},
		printedFigure{"intraclass", rail.ICC, 0.9743986768, 5e-11},
		printedFigure{"F", silicon.Components[0].F, 1.18046237440255, 1e-11}, // decimals near 196
		printedFigure{"between", silicon.Components[0].Variance, 0.00039094748, 5e-12},
	)
}

// Sizes 3, 4 and 2. Expected values: R 4.2.2, n0 = (9 - 29/9)/2; mean square of the
// means times the harmonic mean of the sizes in the formulas for balanced data.
func TestOneWayComponentsUnbalanced(t *testing.T) {
	v, err := OneWayComponents([][]float64{{92, 93, 94}, {94, 95, 96, 95}, {93, 94}}, modified)
	if err != nil {
		t.Fatal(err)
	}
	checkFigures(t, 1e-12,
		figure{"n0", v.Components[0].Expected[0], 2.88888888888889}, figure{"between", v.Components[0].Estimate, 1.03846153846154},
		figure{"lower", v.Components[0].CI.Lo, 0}, figure{"upper", v.Components[0].CI.Hi, 42.470369931646879},
		figure{"intraclass, lower", v.ICCCI.Lo, 0}, figure{"upper", v.ICCCI.Hi, 0.982593861030969})
	if v.Balanced {
		t.Error("balanced")
	}
}

// Intervals: testdata/components.R.
func TestNestedComponentsOxide(t *testing.T) {
	v, err := NestedComponents(oxide, [][]string{counted(72, 9), counted(72, 3)}, modified)
	if err != nil {
		t.Fatal(err)
	}
	lot, wafer, site := v.Components[0], v.Components[1], v.Components[2]
	checkFigures(t, 1e-12,
		figure{"mean square of lots", lot.Source.MS, 1289.3313492063428}, figure{"wafers", wafer.Source.MS, 120.1666666666687},
		figure{"lot, lower", lot.CI.Lo, 47.706385469258}, figure{"upper", lot.CI.Hi, 579.451707153756},
		figure{"wafer, lower", wafer.CI.Lo, 17.8484317395434}, figure{"upper", wafer.CI.Hi, 88.5295290913664},
		figure{"site, lower", site.CI.Lo, 8.74110012586141}, figure{"upper", site.CI.Hi, 19.61772167742740},
		figure{"total, lower", v.TotalCI.Lo, 96.7970899872848}, figure{"upper", v.TotalCI.Hi, 629.9044976879018})
	checkFigures(t, 1e-9, figure{"mean", v.Mean, 2000.152778}, figure{"standard error", v.MeanStdErr, math.Sqrt(1289.3313492063428 / 72)})
}

// Sums of squares: R 4.2.2, anova(lm(fat ~ lab/technician/sample)).
func TestNestedComponentsEggs(t *testing.T) {
	v, err := NestedComponents(eggs, [][]string{counted(48, 8), counted(48, 4), counted(48, 2)}, modified)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		df int
		ss float64
	}{{5, 0.443025}, {6, 0.247475}, {12, 0.1599}, {24, 0.1727}} {
		if got := v.Components[i].Source; got.DF != want.df || math.Abs(got.SS-want.ss) > 1e-15 {
			t.Errorf("level %d: %+v", i+1, got)
		}
	}
}

// Expected values: testdata/components.R with projections P(A), P(B): sums of squares y'Qy with Q =
// P(A)-J, P(B)-P(A), I-P(B), and expected mean squares tr(Z'QZ)/df.
func TestNestedComponentsUnbalanced(t *testing.T) {
	v, err := NestedComponents(unevenYs, [][]string{unevenLots, unevenSublots}, modified)
	if err != nil {
		t.Fatal(err)
	}
	a, b, c := v.Components[0], v.Components[1], v.Components[2]
	checkFigures(t, 1e-11, // R's differences of values near 94
		figure{"lots", a.Source.SS, 28.02765873016313}, figure{"sublots", b.Source.SS, 4.87928571429108}, figure{"cores", c.Source.SS, 2.24250000000463},
		figure{"expected", a.Expected[0], 5.83333333333333}, figure{"expected", a.Expected[1], 2.43650793650794}, figure{"expected", a.Expected[2], 1},
		figure{"expected", b.Expected[0], 2.11428571428571}, figure{"expected", b.Expected[1], 1},
		figure{"lot", a.Estimate, 2.215444369369546}, figure{"sublot", b.Estimate, 0.355489864865153}, figure{"core", c.Estimate, 0.224250000000463},
		figure{"standard error of the mean", v.MeanStdErr, 0.917843843283876},
		figure{"F of lots", a.F, 12.4917784033868546}, figure{"df", a.DF1, 2.0097645079266417}, figure{"df", a.DF2, 5}, figure{"P", a.P, 0.0113265060551649}, figure{"F of sublots", b.F, 4.3516483516441467},
		figure{"lot, lower", a.CI.Lo, 0.308921460103288}, figure{"upper", a.CI.Hi, 94.664162715238760})
}

// Group means nearer to each other than chance: by hand, MS between 0, within 2, total
// (0 + 2)/2 from the 3 degrees of freedom within.
func TestNegativeComponent(t *testing.T) {
	v, err := OneWayComponents([][]float64{{1, 3}, {1, 3}, {1, 3}}, modified)
	if err != nil {
		t.Fatal(err)
	}
	between := v.Components[0]
	if between.Estimate != -1 || between.Variance != 0 || between.F != 0 || between.P != 1 || v.Total != 2 || v.TotalDF != 3 || !v.TotalCI.Contains(1) || v.ICC != 0 || v.ICCCI.Hi != 0 {
		t.Errorf("%+v", v)
	}
	if len(v.Warnings) != 1 || v.Warnings[0].Code != WarnNegative {
		t.Errorf("warnings %v", v.Warnings)
	}
}

func TestComponentsRefuse(t *testing.T) {
	one := func(groups [][]float64, o ComponentOptions) error { _, err := OneWayComponents(groups, o); return err }
	nested := func(xs []float64, factors ...[]string) error {
		_, err := NestedComponents(xs, factors, modified)
		return err
	}
	good := [][]float64{{1, 2}, {3, 5}}
	xs, a := []float64{1, 2, 4, 5}, []string{"1", "1", "2", "2"}
	tests := []struct {
		name      string
		err, want error
	}{
		{"no method", one(good, ComponentOptions{Level: 0.95}), ErrParameter},
		{"no level", one(good, ComponentOptions{Method: Satterthwaite}), ErrLevel},
		{"one group", one(good[:1], modified), ErrTooFew},
		{"nothing repeated", one([][]float64{{1}, {2}, {3}}, modified), ErrTooFew},
		{"equal values", one([][]float64{{2, 2}, {2, 2}}, modified), ErrNoSpread},
		{"NaN", one([][]float64{{2, math.NaN()}, {2, 3}}, modified), ErrNotFinite},
		{"beyond the range", one([][]float64{{1e200, 0}, {2, 3}}, modified), ErrOverflow},
		{"no factor", nested(xs), ErrParameter},
		{"four factors", nested(xs, a, a, a, a), ErrParameter},
		{"names missing", nested(xs, a[1:]), ErrLength},
		{"a level that divides nothing", nested(xs, a, a), ErrTooFew},
		{"values alone in their groups", nested(xs, a, []string{"1", "2", "3", "4"}), ErrTooFew},
		{"NaN", nested([]float64{1, math.NaN(), 2, 3}, a), ErrNotFinite},
	}
	for _, tt := range tests {
		var input *InputError
		if !errors.Is(tt.err, tt.want) || !errors.As(tt.err, &input) {
			t.Errorf("%s: error %v, want %v", tt.name, tt.err, tt.want)
		}
	}
}

// Without a top component P is below 0.05 in 5 % of samples of uneven groups, where a
// combination of mean squares below F would come to 0 or less in one sample of 18.
func TestNestedTestLevelBySimulation(t *testing.T) {
	trials := 4000
	if Long() {
		trials = 40000
	}
	r := rand.New(rand.NewPCG(71, 72))
	for _, middle := range []float64{0, 2} {
		rejected := 0
		for range trials {
			var xs []float64
			factors := make([][]string, 2)
			for top := range 3 {
				for sub := range 2 + top%2 {
					centre := middle * r.NormFloat64()
					for range 1 + (top+sub)%3 {
						xs = append(xs, centre+r.NormFloat64())
						factors[0], factors[1] = append(factors[0], strconv.Itoa(top)), append(factors[1], strconv.Itoa(sub))
					}
				}
			}
			v, err := NestedComponents(xs, factors, modified)
			if err != nil {
				t.Fatal(err)
			}
			if v.Components[0].P < 0.05 {
				rejected++
			}
		}
		share := float64(rejected) / float64(trials)
		t.Logf("middle standard deviation %v: rejected in %.2f %%", middle, 100*share)
		if math.Abs(share-0.05) > 0.006+4*math.Sqrt(0.05*0.95/float64(trials)) {
			t.Errorf("middle standard deviation %v: rejected in %.2f %%, want 5", middle, 100*share)
		}
	}
}

// Readings at equal distances below and above 93.1 have that mean in every location as the
// decimals say; by hand, nothing above the readings varies.
func TestNestedMeansAgreeToRounding(t *testing.T) {
	r := rand.New(rand.NewPCG(73, 74))
	for range 2000 {
		var xs []float64
		factors := make([][]string, 2)
		for group := range 6 {
			out := r.IntN(9)
			for range 1 + r.IntN(2) {
				xs = append(xs, float64(931-out)/10, float64(931+out)/10)
				for range 2 {
					factors[0], factors[1] = append(factors[0], strconv.Itoa(group/2)), append(factors[1], strconv.Itoa(group))
				}
			}
		}
		v, err := NestedComponents(xs, factors, modified)
		if errors.Is(err, ErrNoSpread) {
			continue
		}
		if err != nil || v.Components[0].Source.SS != 0 || v.Components[1].Source.SS != 0 || v.Components[0].P != 1 || v.Components[1].P != 1 {
			t.Fatalf("%v: %+v, %v", xs, v, err)
		}
	}
}
