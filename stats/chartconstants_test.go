package stats

import (
	"errors"
	"math"
	"testing"
)

// By mpmath at 30 digits, testdata/rangeconstants.py.
func TestChartConstantsAccuracy(t *testing.T) {
	var worst [3]float64
	for _, tt := range []struct {
		n          int
		d2, d3, c4 float64
	}{
		{2, 1.128379167095512573896, 0.8525024664274217299837, 0.7978845608028653558799},
		{3, 1.692568750643268860844, 0.8883680040452042893994, 0.8862269254527580136491},
		{4, 2.058750746007928264114, 0.8798082028249833116754, 0.9213177319235612780407},
		{5, 2.325928947281039225545, 0.8640819410995040746169, 0.9399856029866251884059},
		{6, 2.534412721222942595299, 0.8480396861174952967861, 0.9515328619481445944208},
		{7, 2.704356751213808798458, 0.8332053356222936604984, 0.9593687886998329579496},
		{10, 3.077505461670345712055, 0.7970506735194112451981, 0.9726592741215882433583},
		{15, 3.471826889882074867334, 0.7562114297279439217499, 0.9823161771626505633293},
		{25, 3.930629219507113161515, 0.7084407658886550276174, 0.9896403755857030838917},
		{100, 5.015187272883368745036, 0.605179109487853781706, 0.9974779760712635107808},
		{1000, 6.482871538266881722777, 0.4967351857828871525794, 0.999749781101513203211},
	} {
		c, err := NewChartConstants(tt.n, 3)
		if err != nil {
			t.Fatal(err)
		}
		for i, miss := range []float64{c.RangeMean/tt.d2 - 1, c.RangeStdDev/tt.d3 - 1, c.C4/tt.c4 - 1} {
			worst[i] = max(worst[i], math.Abs(miss))
		}
	}
	t.Logf("largest relative error: d₂ %.1e, d₃ %.1e, c₄ %.1e", worst[0], worst[1], worst[2])
	if worst[0] > 2e-15 || worst[1] > 1e-15 || worst[2] > 1e-15 {
		t.Errorf("relative errors %v", worst)
	}
	million, err := NewChartConstants(1000000, 3)
	if err != nil || math.Abs(million.RangeMean/9.725794972392925442473-1) > 2e-15 || math.Abs(million.RangeStdDev/0.3507313276517151438485-1) > 1e-14 {
		t.Errorf("a million: %+v, %v", million, err)
	}
}

// For two values the range is |Z|√2. Others: mpmath, n·∫ φ(x)·(Φ(x+w)-Φ(x))^(n-1) dx.
func TestRangeBelow(t *testing.T) {
	for _, tt := range []struct {
		n       int
		w, want float64
	}{{2, 0.01, math.Erf(0.005)}, {2, 1.3, math.Erf(0.65)}, {2, 4, math.Erf(2)}, {5, 4, 0.96230393177945836627}, {25, 3, 0.082686721992374640555}, {8, 0.5, 0.000032455187567050596663}} {
		if got := rangeBelow(tt.n, tt.w); math.Abs(got/tt.want-1) > 1e-14 {
			t.Errorf("%d values, %v: %v, want %v", tt.n, tt.w, got, tt.want)
		}
	}
}

func TestChartConstantsRefuse(t *testing.T) {
	for _, tt := range []struct {
		n        int
		multiple float64
		want     error
	}{{1, 3, ErrTooFew}, {-5, 3, ErrTooFew}, {2, 0, ErrParameter}, {2, -3, ErrParameter}, {2, math.NaN(), ErrParameter}, {2, math.Inf(1), ErrParameter}, {2, 1.7e308, ErrOverflow}} {
		if c, err := NewChartConstants(tt.n, tt.multiple); !errors.Is(err, tt.want) || c.N != 0 {
			t.Errorf("%+v: %v", tt, err)
		}
	}
}
