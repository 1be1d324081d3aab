package lot_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
)

// R 4.2.2: the least n with 1-pt(t,n-1,sqrt(n)*qnorm(rql)) <= buyer where
// t = qt(seller,n-1,sqrt(n)*qnorm(aql)), and the limits
// 100*pbeta((1+t/(n-1))/2,n/2-1,n/2-1) of that t and of the one that gives the
// buyer's risk.
func TestDesignAgainstR(t *testing.T) {
	for _, tt := range []struct {
		aql, rql, seller, buyer float64
		n                       int
		least, most             float64
	}{
		{90, 50, 0.05, 0.10, 7, 69.787067, 72.317103},
		{95, 70, 0.05, 0.05, 15, 85.989362, 86.810292},
		{99, 90, 0.01, 0.10, 30, 95.390630, 95.492606},
	} {
		w := lot.WantedRisks{AQL: lot.QualityOneLimit(tt.aql), RQL: lot.QualityOneLimit(tt.rql), Seller: tt.seller, Buyer: tt.buyer}
		got, err := lot.DesignAcceptance(w)
		if err != nil {
			t.Fatal(err)
		}
		if got.N != tt.n || !(math.Abs(got.Least-tt.least) <= 6e-7 && math.Abs(got.Most-tt.most) <= 6e-7) {
			t.Errorf("%+v, want n = %d, %v to %v", got, tt.n, tt.least, tt.most)
		}
		if !(got.Attained.Seller <= tt.seller && got.Attained.Buyer <= tt.buyer) || got.Wanted != w {
			t.Errorf("%+v does not meet %+v", got, w)
		}
	}
}

// With two limits there is nothing to look up: the design keeps both risks, and no
// limit does for one result fewer, as risks on a fine grid show.
func TestDesignWithTwoLimits(t *testing.T) {
	w := lot.WantedRisks{AQL: lot.QualityCentred(90), RQL: lot.QualityCentred(50), Seller: 0.1, Buyer: 0.1}
	got, err := lot.DesignAcceptance(w)
	if err != nil {
		t.Fatal(err)
	}
	meets := func(n int, acceptAt float64) bool {
		r, err := lot.RisksOf(n, acceptAt, w.AQL, w.RQL)
		if err != nil {
			t.Fatal(err)
		}
		return r.Seller <= w.Seller && r.Buyer <= w.Buyer
	}
	for _, acceptAt := range []float64{got.Least + 1e-9, got.AcceptAt, got.Most - 1e-9} {
		if !meets(got.N, acceptAt) {
			t.Errorf("%+v fails at %v", got, acceptAt)
		}
	}
	if meets(got.N, got.Least-1e-6) || meets(got.N, got.Most+1e-6) {
		t.Errorf("%+v: the range of limits is wider than that", got)
	}
	for acceptAt := 40.0; acceptAt < 100; acceptAt += 0.5 {
		if meets(got.N-1, acceptAt) {
			t.Errorf("%d results do with a limit of %v", got.N-1, acceptAt)
		}
	}
}

// No number of results below that of the design does, which is what lets the search
// halve: the highest limit that keeps the seller's risk leaves the buyer's too large.
func TestDesignIsTheSmallest(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	for i := range 40 {
		good := 80 + 19*rng.Float64()
		poor := good - 5 - 40*rng.Float64()
		w := lot.WantedRisks{AQL: lot.QualityOneLimit(good), RQL: lot.QualityOneLimit(poor), Seller: 0.01 + 0.2*rng.Float64(), Buyer: 0.01 + 0.2*rng.Float64()}
		if i < 3 {
			w.AQL, w.RQL = lot.QualityCentred(95), lot.QualityCentred(60-5*float64(i))
		}
		got, err := lot.DesignAcceptance(w)
		if err != nil {
			t.Fatal(err)
		}
		for n := 3; n < min(got.N, 60); n++ {
			risks := lot.Risks{}
			lo, hi := 0.0, 100.0
			for range 40 {
				middle := (lo + hi) / 2
				r, err := lot.RisksOf(n, middle, w.AQL, w.RQL)
				if err != nil {
					t.Fatal(err)
				}
				if r.Seller <= w.Seller {
					lo, risks = middle, r
				} else {
					hi = middle
				}
			}
			if risks.Buyer <= w.Buyer {
				t.Errorf("%+v: %d results do with a limit of %v, %+v", got, n, lo, risks)
			}
		}
	}
}

// Without a cap the line that is fair at 90 is the one in use, 0.55 + 0.005·PWL.
// With one: R 4.2.2, uniroot of a + 0.005*(90 - integrate(S, (cap-a)/0.005, 100))
// - 1 with S as in testdata/estimatorone.R.
func TestFairPayLine(t *testing.T) {
	e := estimator(t, 5, lot.QualityOneLimit(90))
	for _, tt := range []struct{ maximum, want float64 }{
		{math.Inf(1), 0.55}, {1.05, 0.55}, {1.02, 0.57819071}} {
		got, err := lot.FairPayLine(e, 0.005, tt.maximum)
		if err != nil || !(math.Abs(got.Intercept-tt.want) <= 6e-9) || got.Slope != 0.005 || got.Cap != min(tt.maximum, math.MaxFloat64) {
			t.Errorf("at most %v: %+v, %v, want %v", tt.maximum, got, err, tt.want)
		}
	}
}

// The fair line as a schedule of its own pays 1, with two limits too.
func TestFairPayLinePaysOne(t *testing.T) {
	for _, q := range []lot.Quality{lot.QualityOneLimit(85), lot.QualityCentred(85)} {
		e := estimator(t, 4, q)
		line, err := lot.FairPayLine(e, 0.0078125, 1.03125) // exact in binary, so that both agree on the break
		if err != nil {
			t.Fatal(err)
		}
		intercept := decimal.NewFromFloat(line.Intercept)
		s := rows(t, lot.Segment{From: d("0"), Pay: lot.Formula(intercept, d("0.0078125"))},
			lot.Segment{From: d("1.03125").Sub(intercept).Mul(d("128")), Pay: lot.Step(d("1.03125"))})
		if got := pay(t, e, s, lot.Retesting{}).Factor; !(math.Abs(got-1) <= 1e-10) {
			t.Errorf("%+v: pays %v", q, got)
		}
	}
}

// R 4.2.2: 100*pnorm((92-93.2)/0.9), 100*pnorm((93.2-95)/0.9).
func TestQualityOf(t *testing.T) {
	q, err := lot.QualityOf(93.2, 0.9, lot.Between(92, 95))
	if err != nil || !(math.Abs(q.Below-9.1211219725868) < 1e-11 && math.Abs(q.Above-2.27501319481792) < 1e-11) {
		t.Errorf("%+v, %v", q, err)
	}
	off, err := lot.QualityOffCentre(q.PWL(), 0.9, lot.Between(92, 95))
	if err != nil || !(math.Abs(off.Below-q.Below) < 1e-10 && math.Abs(off.Above-q.Above) < 1e-10) {
		t.Errorf("back: %+v, %v, want %+v", off, err, q)
	}
	over, err := lot.QualitiesOverSpread(93.2, []float64{0.9, 1.8}, lot.Between(92, 95))
	if err != nil || len(over) != 2 || over[0] != q || over[1].PWL() >= q.PWL() {
		t.Errorf("over spread: %+v, %v", over, err)
	}
}

func TestCurvesAgreeWithPoints(t *testing.T) {
	s := schedule(t)
	for _, at := range []func(float64) lot.Quality{lot.QualityOneLimit, lot.QualityCentred} {
		qualities, err := lot.QualityRange(0, 100, 11, at)
		if err != nil {
			t.Fatal(err)
		}
		accepted, paid := make([]float64, 11), make([]lot.Pay, 11)
		if err := lot.AcceptanceCurve(accepted, qualities, 4, 80); err != nil {
			t.Fatal(err)
		}
		if err := lot.PayCurve(paid, qualities, 4, s, lot.BestOf(2)); err != nil {
			t.Fatal(err)
		}
		for i, q := range qualities {
			e := estimator(t, 4, q)
			if want := value(t)(e.AtLeast(80)); accepted[i] != want || q.PWL() != float64(10*i) {
				t.Errorf("%+v: %v, want %v", q, accepted[i], want)
			}
			if want := pay(t, e, s, lot.BestOf(2)); paid[i] != want {
				t.Errorf("%+v: %+v, want %+v", q, paid[i], want)
			}
			if i > 0 && !(accepted[i] > accepted[i-1] && paid[i].Factor > paid[i-1].Factor && paid[i].Rejected < paid[i-1].Rejected) {
				t.Errorf("%+v: the curve does not rise", q)
			}
		}
		if n := testing.AllocsPerRun(2, func() { _ = lot.PayCurve(paid, qualities, 4, s, lot.Retesting{}) }); n != 0 {
			t.Errorf("PayCurve allocates %v times", n)
		}
		if n := testing.AllocsPerRun(2, func() { _ = lot.AcceptanceCurve(accepted, qualities, 5, 80) }); n != 0 {
			t.Errorf("AcceptanceCurve allocates %v times", n)
		}
	}
}
