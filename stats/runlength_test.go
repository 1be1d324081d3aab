package stats

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
)

// Average runs to a signal of the rules of Western Electric, points normal with their
// mean off by a shift in σ: C. W. Champ and W. H. Woodall, Exact results for Shewhart
// control charts with supplementary runs rules, Technometrics 29 (1987) 393, from memory.
func TestRunLengthOfRules(t *testing.T) {
	r := WesternElectricRules()
	for _, tt := range []struct {
		rules   []RunRule
		shift   float64
		printed string
	}{
		{r[:1], 0, "370.40"}, {r[:1], 1, "43.89"}, {r[:1], 2, "6.30"}, {r[:1], 3, "2.00"},
		{r[:2], 0, "225.44"}, {[]RunRule{r[0], r[2]}, 0, "166.05"}, {[]RunRule{r[0], r[3]}, 0, "152.73"},
		{r[:3], 0, "132.89"}, {[]RunRule{r[0], r[1], r[3]}, 0, "122.05"}, {[]RunRule{r[0], r[2], r[3]}, 0, "105.78"},
		{r, 0, "91.75"}, {r, 1, "9.22"}, {r, 2, "3.13"}, {r, 3, "1.67"},
	} {
		if got := exactRunLength(tt.rules, tt.shift); fmt.Sprintf("%.2f", got) != tt.printed {
			t.Errorf("%d rules, shift %v: %.4f, printed %s", len(tt.rules), tt.shift, got, tt.printed)
		}
	}
}

// exactRunLength is the average absorption time of a Markov chain. Its states are the
// last points as far as the rules tell them apart, each put to the rules themselves; 0
// stands where there is no point yet.
func exactRunLength(rules []RunRule, shift float64) float64 {
	var next [][len(zones)]int // from state and zone of the next point to state, -1 at a signal
	states, number := [][7]float64{{}}, map[[7]float64]int{{}: 0}
	for s := 0; s < len(states); s++ {
		var row [len(zones)]int
		for i, z := range zones {
			points := append(states[s][:], z)
			seen := asSeen(points)
			if _, ok := number[seen]; !ok {
				number[seen] = len(states)
				states = append(states, seen)
			}
			row[i] = number[seen]
			if signalsAtLast(rules, points) {
				row[i] = -1
			}
		}
		next = append(next, row)
	}
	return averageRun(next, zoneChances(shift))
}

// zones are points within each zone of a chart, from one line to the next.
var zones = [8]float64{-3.5, -2.5, -1.5, -0.5, 0.5, 1.5, 2.5, 3.5}

func zoneChances(shift float64) (chances [len(zones)]float64) {
	for i, z := range zones {
		lo, hi := z-0.5, z+0.5
		switch i {
		case 0:
			lo = -40
		case len(zones) - 1:
			hi = 40
		}
		chances[i] = normalBetween(lo-shift, hi-lo)
	}
	return chances
}

func signalsAtLast(rules []RunRule, points []float64) bool {
	for _, rule := range rules {
		if rule.find(points, len(points)-1, 0, 1) != nil {
			return true
		}
	}
	return false
}

// asSeen keeps of the last seven points what a later one needs: of the last two the zone,
// of the two before whether they are beyond 1, of others the side.
func asSeen(points []float64) (seen [7]float64) {
	most := [7]float64{0.5, 0.5, 0.5, 1.5, 1.5, 2.5, 2.5}
	for i, x := range points[len(points)-7:] {
		seen[i] = math.Copysign(min(math.Abs(x), most[i]), x)
	}
	return seen
}

// averageRun adds the chances that no signal has come yet, until they fall in proportion.
func averageRun(next [][len(zones)]int, chances [len(zones)]float64) float64 {
	now, after := make([]float64, len(next)), make([]float64, len(next))
	now[0] = 1
	run, left, ratio := 0.0, 1.0, 0.0
	for step := 0; ; step++ {
		clear(after)
		kept := 0.0
		for s, p := range now {
			for i, to := range next[s] {
				if to >= 0 {
					after[to] += p * chances[i]
					kept += p * chances[i]
				}
			}
		}
		run += left
		before := ratio
		ratio, left = kept/left, kept
		now, after = after, now
		if step > 20 && math.Abs(ratio-before) < 1e-13 || left < 1e-13 { // from 20 on every rule has its say
			return run + left/(1-ratio)
		}
	}
}

// How often each rule signals at a point with enough points before it, for independent
// normal points: by the binomial and normal distributions and by counting orders, of which
// 2 of 6! are monotone and 2·199360981 of 14! alternate (Euler's zigzag number).
func TestRuleRates(t *testing.T) {
	nelson, western := NelsonRules(), WesternElectricRules()
	one, two := normalTail(1), normalTail(2)
	points := 300000
	if *long {
		points = 10000000
	}
	for _, tt := range []struct {
		rule RunRule
		want float64
	}{
		{nelson[0], 2 * normalTail(3)},
		{nelson[1], 2 / math.Pow(2, 9)}, {western[3], 2 / math.Pow(2, 8)},
		{nelson[2], 2.0 / 720}, {nelson[3], 2 * 199360981 / 87178291200.0},
		{nelson[4], 2 * two * (1 - square(1-two))},
		{nelson[5], 2 * one * (4*math.Pow(one, 3)*(1-one) + math.Pow(one, 4))},
		{nelson[6], math.Pow(1-2*one, 15)}, {nelson[7], math.Pow(2*one, 8)},
	} {
		rng := rand.New(rand.NewPCG(85, 88))
		xs := make([]float64, points)
		for i := range xs {
			xs[i] = rng.NormFloat64()
		}
		signals := must[[]RunSignal](t)(RunSignals(xs, 0, 1, []RunRule{tt.rule}))
		got := float64(len(signals)) / float64(points)
		t.Logf("%s: %.5f, expected %.5f", tt.rule.Name, got, tt.want)
		if noise := 4 * math.Sqrt(4*tt.want/float64(points)); math.Abs(got-tt.want) > noise { // signals come in clusters of a few
			t.Errorf("%s: %v of points signal, want %v ± %v", tt.rule.Name, got, tt.want, noise)
		}
	}
}

// Average runs of charts with the limits of the long run, mean off by a shift in σ: J. M.
// Lucas and M. S. Saccucci, Technometrics 32 (1990) 1, as in Montgomery's textbook, from
// memory. The print, by a Markov chain, is one off in the last digit in four places.
func TestRunLengthOfEWMA(t *testing.T) {
	shifts := []float64{0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4}
	off := map[float64]string{48.2: "48.29", 18.2: "18.15", 15.9: "15.85", 84.1: "84.01"}
	for _, tt := range []struct {
		weight, multiple float64
		printed          []float64
	}{
		{0.4, 3.054, []float64{500, 224, 71.2, 28.4, 14.3, 5.9, 3.5, 2.5, 2.0, 1.4}},
		{0.25, 2.998, []float64{500, 170, 48.2, 20.1, 11.1, 5.5, 3.6, 2.7, 2.3, 1.7}},
		{0.2, 2.962, []float64{500, 150, 41.8, 18.2, 10.5, 5.5, 3.7, 2.9, 2.4, 1.9}},
		{0.1, 2.814, []float64{500, 106, 31.3, 15.9, 10.3, 6.1, 4.4, 3.4, 2.9, 2.2}},
		{0.05, 2.615, []float64{500, 84.1, 28.8, 16.4, 11.4, 7.1, 5.2, 4.2, 3.5, 2.7}},
	} {
		for i, shift := range shifts {
			half := 0.05
			if tt.printed[i] >= 100 {
				half = 0.5
			}
			f := ewmaRun{EWMAOptions{Sigma: 1, Weight: tt.weight, Multiple: tt.multiple}, shift}
			got, exact := f.settled(), off[tt.printed[i]]
			if math.Abs(got-tt.printed[i]) > half && fmt.Sprintf("%.2f", got) != exact {
				t.Errorf("λ %v, shift %v: %.3f, printed %v", tt.weight, shift, got, tt.printed[i])
			}
		}
	}
}

// ewmaRun is a chart of values whose mean is off by a shift.
type ewmaRun struct {
	EWMAOptions
	shift float64
}

const ewmaNodes = 80

// nodes are those of a Gauss rule between the limits after i values.
func (f ewmaRun) nodes(i int) (at, weight []float64) {
	at, weight = make([]float64, ewmaNodes), make([]float64, ewmaNodes)
	limit := f.Multiple * f.stdDev(i)
	quad.Legendre{}.FixedLocations(at, weight, -limit, limit)
	return at, weight
}

// step is the density of the average at to, after one at from.
func (f ewmaRun) step(from, to float64) float64 {
	return normalDensity((to-(1-f.Weight)*from)/f.Weight-f.shift) / f.Weight
}

const longRun = 1 << 20

// settled returns the average run with the limits of the long run: that from z is 1 and
// the integral of those from where the next value leads.
func (f ewmaRun) settled() float64 {
	at, weight := f.nodes(longRun)
	run, total := f.runs(), 1.0
	for i, y := range at {
		total += weight[i] * f.step(0, y) * run.AtVec(i)
	}
	return total
}

// runs are the average runs from the nodes of the long run.
func (f ewmaRun) runs() *mat.VecDense {
	at, weight := f.nodes(longRun)
	system, ones := mat.NewDense(ewmaNodes, ewmaNodes, nil), mat.NewVecDense(ewmaNodes, nil)
	for i, from := range at {
		ones.SetVec(i, 1)
		for j, to := range at {
			system.Set(i, j, -weight[j]*f.step(from, to))
		}
		system.Set(i, i, 1+system.At(i, i))
	}
	var run mat.VecDense
	if err := run.SolveVec(system, ones); err != nil {
		panic(err)
	}
	return &run
}

// varying returns the average run with the limits of [EWMA]: the share without a signal
// after each value, from its density, and the runs of the long run from where limits
// move no more.
func (f ewmaRun) varying() float64 {
	total, from, share := 1.0, []float64{0}, []float64{1}
	for i := 1; ; i++ {
		at, weight := f.nodes(i)
		next := make([]float64, ewmaNodes)
		for k, y := range at {
			for j, p := range share {
				next[k] += weight[k] * p * f.step(from[j], y)
			}
		}
		from, share = at, next
		if f.stdDev(i) > f.stdDev(longRun)*(1-1e-12) {
			return total + mat.Dot(mat.NewVecDense(ewmaNodes, share), f.runs())
		}
		for _, p := range share {
			total += p
		}
	}
}

// The runs of EWMA itself, simulated, against those by integration.
func TestEWMARunLength(t *testing.T) {
	trials := 400
	if *long {
		trials = 5000
	}
	rng := rand.New(rand.NewPCG(83, 84))
	stated := map[float64]string{0.2: "494.4 9.6", 0.1: "486.4 8.2"}
	for _, o := range []EWMAOptions{{Sigma: 1, Weight: 0.2, Multiple: 2.962}, {Sigma: 1, Weight: 0.1, Multiple: 2.814}} {
		if got := fmt.Sprintf("%.1f %.1f", ewmaRun{o, 0}.varying(), ewmaRun{o, 1}.varying()); got != stated[o.Weight] {
			t.Errorf("λ %v: %s, the doc comment says %s", o.Weight, got, stated[o.Weight])
		}
		for _, shift := range []float64{0, 1} {
			want := ewmaRun{o, shift}.varying()
			xs := make([]float64, int(20*want))
			total := 0.0
			for range trials {
				for i := range xs {
					xs[i] = shift + rng.NormFloat64()
				}
				r := must[EWMAResult](t)(EWMA(xs, o))
				if r.FirstSignal < 0 {
					t.Fatalf("no signal in %d values", len(xs))
				}
				total += float64(r.FirstSignal + 1)
			}
			mean := total / float64(trials)
			t.Logf("λ %v, shift %v: %.1f, by integration %.1f", o.Weight, shift, mean, want)
			if math.Abs(mean-want) > 4*want/math.Sqrt(float64(trials)) {
				t.Errorf("λ %v, shift %v: average run %v, want %v", o.Weight, shift, mean, want)
			}
		}
	}
}
