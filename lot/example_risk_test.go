package lot_test

import (
	"context"
	"fmt"
	"math"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
)

// Numbers of these examples are those of testdata/estimatorone.R, of
// TestDesignAgainstR and of TestFairPayLine; populations are invented.

func ExampleEstimator() {
	// What five results say about a lot with 90 % above its only limit.
	e, err := lot.NewEstimator(5, lot.QualityOneLimit(90))
	if err != nil {
		fmt.Println(err)
		return
	}
	mean, _ := e.Mean()
	stdDev, _ := e.StdDev()
	full, _ := e.AtLeast(100)
	fmt.Printf("mean %.2f %%, standard deviation %.2f, estimated as 100 %% with %.4f\n", mean, stdDev, full)
	// Output: mean 90.00 %, standard deviation 11.15, estimated as 100 % with 0.3087
}

func ExampleQuality() {
	// Mat density of mean 93.2 and standard deviation 0.9 % of maximum theoretical
	// density, limits 92 and 95.
	q, err := lot.QualityOf(93.2, 0.9, lot.Between(92, 95))
	fmt.Printf("%.2f %% below, %.2f %% above, %v\n", q.Below, q.Above, err)
	// Output: 9.12 % below, 2.28 % above, <nil>
}

func ExampleQualitiesOverSpread() {
	// A mean of 1.2 above the limit has Φ(1.2) = 88.49 % and Φ(0.8) = 78.81 % within.
	qualities, err := lot.QualitiesOverSpread(93.2, []float64{1.0, 1.5}, lot.AtLeast(92))
	for _, q := range qualities {
		fmt.Printf("%.2f %% ", q.PWL())
	}
	fmt.Println(err)
	// Output: 88.49 % 78.81 % <nil>
}

func ExampleAcceptanceCurve() {
	// Probability that five results estimate 90 % and more, at a true 50 to 90 %.
	qualities, err := lot.QualityRange(50, 90, 5, lot.QualityOneLimit)
	if err != nil {
		fmt.Println(err)
		return
	}
	accepted := make([]float64, len(qualities))
	err = lot.AcceptanceCurve(accepted, qualities, 5, 90)
	fmt.Printf("%.4f ... %.4f %.4f %.4f %v\n", accepted[0], accepted[2], accepted[3], accepted[4], err)
	// Output: 0.0257 ... 0.1514 0.3104 0.5898 <nil>
}

// capped pays 0.55 + 0.005·PWL and at most 1. It is invented.
func capped() lot.Schedule {
	dec := decimal.RequireFromString
	s, err := lot.NewSchedule(
		lot.Segment{From: dec("0"), Pay: lot.Formula(dec("0.55"), dec("0.005"))},
		lot.Segment{From: dec("90"), Pay: lot.Step(dec("1"))})
	if err != nil {
		panic(err)
	}
	return s
}

func ExampleExpectedPay() {
	e, err := lot.NewEstimator(5, lot.QualityOneLimit(90))
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := lot.ExpectedPay(e, capped(), lot.Retesting{})
	fmt.Printf("without a bonus, 90 %% within is paid %.5f on average, %v\n", p.Factor, err)
	// Output: without a bonus, 90 % within is paid 0.97680 on average, <nil>
}

func ExamplePayCurve() {
	qualities, err := lot.QualityRange(80, 90, 2, lot.QualityOneLimit)
	if err != nil {
		fmt.Println(err)
		return
	}
	paid := make([]lot.Pay, len(qualities))
	err = lot.PayCurve(paid, qualities, 5, capped(), lot.Retesting{})
	fmt.Printf("%.5f %.5f %v\n", paid[0].Factor, paid[1].Factor, err)
	// Output: 0.93879 0.97680 <nil>
}

func ExampleRetesting() {
	// A lot that reaches 90 with 0.3104 is accepted with 1 - (1-0.3104)² = 0.52 if the
	// better of two samples counts, and after 1/0.3104 = 3.22 samples in the long run.
	dec := decimal.RequireFromString
	s, err := lot.NewSchedule(lot.Segment{From: dec("0"), Reject: true}, lot.Segment{From: dec("90"), Pay: lot.Step(dec("1"))})
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := lot.NewEstimator(5, lot.QualityOneLimit(80))
	if err != nil {
		fmt.Println(err)
		return
	}
	once, _ := lot.ExpectedPay(e, s, lot.Retesting{})
	best, _ := lot.ExpectedPay(e, s, lot.BestOf(2))
	until, _ := lot.ExpectedPay(e, s, lot.RetestBelow(90, math.MaxInt))
	fmt.Printf("accepted: once %.2f, better of two %.2f, tested until it passes %.2f after %.2f samples\n",
		once.Factor, best.Factor, until.Factor, until.Samples)
	// Output: accepted: once 0.31, better of two 0.52, tested until it passes 1.00 after 3.22 samples
}

func ExampleRisksOf() {
	// One of ANSI/ASQC Z1.9's plans: n = 5, k = 0.675; 10 % each at 10 and 50 % outside.
	acceptAt, err := lot.PercentWithin(0.675, 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := lot.RisksOf(5, acceptAt, lot.QualityOneLimit(90), lot.QualityOneLimit(50))
	fmt.Printf("seller %.0f %%, buyer %.0f %%, %v\n", 100*r.Seller, 100*r.Buyer, err)
	// Output: seller 10 %, buyer 10 %, <nil>
}

func ExampleDesignAcceptance() {
	d, err := lot.DesignAcceptance(lot.WantedRisks{AQL: lot.QualityOneLimit(90), RQL: lot.QualityOneLimit(50), Seller: 0.05, Buyer: 0.10})
	fmt.Printf("%d results, accepted from an estimate between %.2f and %.2f %%, %v\n", d.N, d.Least, d.Most, err)
	// Output: 7 results, accepted from an estimate between 69.79 and 72.32 %, <nil>
}

func ExampleFairPayLine() {
	e, err := lot.NewEstimator(5, lot.QualityOneLimit(90))
	if err != nil {
		fmt.Println(err)
		return
	}
	line, err := lot.FairPayLine(e, 0.005, 1.02)
	fmt.Printf("%.4f + %.3f·PWL, at most %.2f, %v\n", line.Intercept, line.Slope, line.Cap, err)
	// Output: 0.5782 + 0.005·PWL, at most 1.02, <nil>
}

func ExampleSimulate() {
	// Invented lots of five gauge readings: the mat varies by 1.0 %, the gauge repeats
	// within 0.5 % and is off by 0.4 % for a whole lot. On average they are estimated
	// as a population as wide as all three together, Φ(1.2/√(1+0.25+0.16)) = 84.39 %,
	// where 88.49 % are within.
	r, err := lot.Simulate(context.Background(), lot.SimulationOptions{
		N: 5, Limits: lot.AtLeast(92), Schedule: capped(), Lots: 100_000, Seed: 1,
		Source: lot.WithGauge(lot.NormalLots(93.2, 1.0), 0.4, 0.5)})
	fmt.Println(r.Lots, math.Abs(r.PWL-84.39) < 4*r.PWLStdErr, r.PWLStdErr < 0.06, err)
	// Output: 100000 true true <nil>
}

func ExampleLotSource() {
	// Lots of two plants, each result from one of them; 5 % of the results are of the
	// second.
	source, err := lot.TwoModeLots(94.0, 91.0, 0.05, 0.8)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := lot.Simulate(context.Background(), lot.SimulationOptions{
		N: 5, Limits: lot.AtLeast(92), Source: source, Schedule: capped(), Lots: 2_000_000, StdErr: 0.0005, Seed: 2})
	fmt.Println(r.Lots < 2_000_000, r.FactorStdErr <= 0.0005, err)
	// Output: true true <nil>
}
