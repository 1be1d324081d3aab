package stats

import (
	"errors"
	"math"
	"testing"
)

// d₂ and d₃ by mpmath, testdata/rangeconstants.py; c₄ by its gamma functions there.
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
		{10, 3.077505461670345712055, 0.7970506735194112451979, 0.9726592741215882433584},
		{15, 3.471826889882074867334, 0.7562114297279439217475, 0.9823161771626505633293},
		{25, 3.930629219507113161515, 0.7084407658886550265699, 0.9896403755857030838917},
		{100, 5.01518727288336874504, 0.605179109487853831145, 0.9974779760712635107808},
		{1000, 6.482871538266881722777, 0.4967351858978207505192, 0.999749781101513203211},
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
	if worst[0] > 2e-15 || worst[1] > 5e-15 || worst[2] > 6e-16 {
		t.Errorf("relative errors %v", worst)
	}
	million, err := NewChartConstants(1000000, 3)
	if err != nil || math.Abs(million.RangeMean/9.725794972392925442473-1) > 2e-15 {
		t.Errorf("a million: %+v, %v", million, err)
	}
}

// Factors for charts with three-sigma limits as printed in the ASTM manual MNL 7 and in
// general textbooks, from memory: A2, A3, B3, B4, D3, D4, d₂, d₃, c₄.
func TestChartConstantsPrinted(t *testing.T) {
	for _, tt := range []struct {
		n     int
		print [9]float64
	}{
		{2, [9]float64{1.880, 2.659, 0, 3.267, 0, 3.267, 1.128, 0.853, 0.7979}},
		{3, [9]float64{1.023, 1.954, 0, 2.568, 0, 2.575, 1.693, 0.888, 0.8862}},
		{4, [9]float64{0.729, 1.628, 0, 2.266, 0, 2.282, 2.059, 0.880, 0.9213}},
		{5, [9]float64{0.577, 1.427, 0, 2.089, 0, 2.114, 2.326, 0.864, 0.9400}},
		{6, [9]float64{0.483, 1.287, 0.030, 1.970, 0, 2.004, 2.534, 0.848, 0.9515}},
		{7, [9]float64{0.419, 1.182, 0.118, 1.882, 0.076, 1.924, 2.704, 0.833, 0.9594}},
		{8, [9]float64{0.373, 1.099, 0.185, 1.815, 0.136, 1.864, 2.847, 0.820, 0.9650}},
		{9, [9]float64{0.337, 1.032, 0.239, 1.761, 0.184, 1.816, 2.970, 0.808, 0.9693}},
		{10, [9]float64{0.308, 0.975, 0.284, 1.716, 0.223, 1.777, 3.078, 0.797, 0.9727}},
		{15, [9]float64{0.223, 0.789, 0.428, 1.572, 0.347, 1.653, 3.472, 0.756, 0.9823}},
		{20, [9]float64{0.180, 0.680, 0.510, 1.490, 0.415, 1.585, 3.735, 0.729, 0.9869}},
		{25, [9]float64{0.153, 0.606, 0.565, 1.435, 0.459, 1.541, 3.931, 0.708, 0.9896}},
	} {
		c, err := NewChartConstants(tt.n, 3)
		if err != nil {
			t.Fatal(err)
		}
		for i, got := range []float64{c.A2, c.A3, c.B3, c.B4, c.D3, c.D4, c.RangeMean, c.RangeStdDev, c.C4} {
			half := 0.0005
			if i == 8 {
				half = 0.00005
			}
			if math.Abs(got-tt.print[i]) > half*(1+1e-9) {
				t.Errorf("n = %d, factor %d: %.6f, printed %v", tt.n, i, got, tt.print[i])
			}
		}
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
