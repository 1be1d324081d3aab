package stats_test

// The figures in the outputs were computed a second time by testdata/moments.py.

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

func ExampleDescribe() {
	// Percent compaction of five sublots.
	d, err := stats.Describe([]float64{93.1, 94.4, 92.8, 95.0, 93.7})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("n = %d, mean %.2f %%, s %.2f %%, from %.1f to %.1f %%\n", d.N, d.Mean, d.StdDev, d.Min, d.Max)
	// Output: n = 5, mean 93.80 %, s 0.91 %, from 92.8 to 95.0 %
}

func ExampleSummarize() {
	// Gauge readings at one location, turned by a quarter each time, in lb/ft³.
	s, err := stats.Summarize([]float64{147.2, 146.8, 147.5, 147.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %.2f lb/ft³, s %.2f lb/ft³\n", s.Mean, s.StdDev)
	// Output: mean 147.15 lb/ft³, s 0.29 lb/ft³
}

func ExampleSum() {
	// Tonnage of the loads of a lot.
	tons, err := stats.Sum([]float64{20.1, 19.9, 20.3, 19.7, 20.2, 20.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(tons, "t")
	// Output: 120.3 t
}

func ExampleMean() {
	mean, err := stats.Mean([]float64{130.0, 130.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(mean, "lb/ft³")
	// Output: 130.25 lb/ft³
}

func ExampleAccumulator() {
	// Two gauges read one mat; each keeps its own account in lb/ft³.
	var first, second stats.Accumulator
	first.AddSlice([]float64{146.2, 147.0, 146.5})
	second.AddSlice([]float64{147.9, 145.8})
	second.Add(146.6)
	first.Merge(&second)
	d, err := first.Description()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d readings, mean %.2f lb/ft³, s %.2f lb/ft³\n", d.N, d.Mean, d.StdDev)
	// Output: 6 readings, mean 146.67 lb/ft³, s 0.73 lb/ft³
}

func ExampleAccumulator_MarshalBinary() {
	var morning, all stats.Accumulator
	morning.AddSlice([]float64{93.1, 92.4, 94.0}) // percent compaction, on one machine
	data, err := morning.MarshalBinary()
	fmt.Println(len(data), "bytes", err)

	err = all.UnmarshalBinary(data) // on another
	all.Add(93.3)
	mean, err2 := all.Mean()
	fmt.Printf("%d results, mean %.2f %% %v %v\n", all.N(), mean, err, err2)

	long, err := all.AppendBinary(data) // after what data holds already
	fmt.Println(len(long), "bytes", err)
	fmt.Println(all.UnmarshalBinary(long))
	// Output:
	// 73 bytes <nil>
	// 4 results, mean 93.20 % <nil> <nil>
	// 146 bytes <nil>
	// stats.Accumulator.UnmarshalBinary: data = 146 bytes: not the encoding of an accumulator
}

func ExampleAccumulator_SkewnessAdjusted() {
	// Air voids in percent; one joint is far more open than the mat.
	var a stats.Accumulator
	a.AddSlice([]float64{5.8, 6.1, 6.4, 5.9, 6.2, 9.7})
	g, err := a.SkewnessAdjusted()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("skewness %.1f: a long upper tail\n", g)
	// Output: skewness 2.3: a long upper tail
}

func ExampleAccumulator_KurtosisMoment() {
	// The values 1 2 3 4 10: m₂ = 10 and m₄ = 278.8, so g₂ = 2.788 - 3.
	var a stats.Accumulator
	a.AddSlice([]float64{1, 2, 3, 4, 10})
	g, err := a.KurtosisMoment()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("excess kurtosis %.3f\n", g)
	// Output: excess kurtosis -0.212
}

func ExampleAccumulator_Err() {
	var a stats.Accumulator
	a.AddSlice([]float64{93.1, 94.4})
	a.Add(0 / zero())
	a.Add(92.8)
	fmt.Println(a.Err())
	// Output: stats.Accumulator.Add: x[2] = NaN: value is NaN or infinite
}

// zero stands for the missing divisor of a computed value.
func zero() float64 { return 0 }

func ExampleQuantile() {
	readings := []float64{145.9, 146.4, 147.0, 147.3, 148.2} // lb/ft³
	for _, kind := range []stats.QuantileType{stats.Quantile6, stats.Quantile7} {
		q, err := stats.Quantile(readings, 0.25, kind)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("lower quartile, %v: %.2f lb/ft³\n", kind, q)
	}
	// Output:
	// lower quartile, type 6: 146.15 lb/ft³
	// lower quartile, type 7: 146.40 lb/ft³
}

func ExampleQuantileInto() {
	scratch := make([]float64, 5) // serves as many samples as come
	for _, lot := range [][]float64{{93.1, 94.4, 92.8, 95.0, 93.7}, {92.2, 93.9, 94.1}} {
		q, err := stats.QuantileInto(scratch, lot, 0.5, stats.Quantile7)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.1f %%\n", q)
	}
	// Output:
	// 93.7 %
	// 93.9 %
}

func ExampleMedian() {
	// A decimal point was lost in the third value, in percent compaction.
	m, err := stats.Median([]float64{93.1, 94.4, 928, 95.0, 93.7})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", m)
	// Output: 94.4 %
}

func ExampleMAD() {
	m, err := stats.MAD([]float64{93.1, 94.4, 928, 95.0, 93.7})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("MAD %.2f %%, as a standard deviation %.2f %%\n", m, m*stats.NormalMAD)
	// Output: MAD 0.70 %, as a standard deviation 1.04 %
}

func ExampleMADInto() {
	scratch := make([]float64, 5)
	m, err := stats.MADInto(scratch, []float64{146.0, 146.5, 147.0, 148.0, 146.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("MAD %.1f lb/ft³\n", m)
	// Output: MAD 0.5 lb/ft³
}
