package main

import (
	"fmt"

	"github.com/densilot/densilot/stats"
)

func chartConstants(in *input) (map[string]float64, error) {
	c, err := stats.NewChartConstants(in.int("n"), in.float("multiple"))
	return map[string]float64{"A2": c.A2, "A3": c.A3, "B3": c.B3, "B4": c.B4, "D3": c.D3, "D4": c.D4,
		"d2": c.RangeMean, "d3": c.RangeStdDev, "c4": c.C4}, err
}

// subgroupChart cuts x into subgroups of one size.
func subgroupChart(in *input) (map[string]float64, error) {
	var groups [][]float64
	size := max(1, in.int("size"))
	for xs := in.floats("x"); len(xs) >= size; xs = xs[size:] {
		groups = append(groups, xs[:size])
	}
	spread := get(in, "spread", func(s string) (stats.SpreadMeasure, error) {
		for m := stats.SpreadRange; m <= stats.SpreadStdDev; m++ {
			if m.String() == s {
				return m, nil
			}
		}
		return 0, fmt.Errorf("%q is no measure of spread", s)
	})
	c, err := stats.NewSubgroupChart(groups, spread, in.float("multiple"))
	return map[string]float64{"mean": c.Mean, "mean spread": c.MeanSpread, "lower": c.Limits.Lo, "upper": c.Limits.Hi, "upper of spreads": c.SpreadLimits.Hi}, err
}

// movingAverage numbers its figures from 1, as in "upper 20".
func movingAverage(in *input) (map[string]float64, error) {
	r, err := stats.EWMA(in.floats("x"), stats.EWMAOptions{Target: in.float("target"), Sigma: in.float("sigma"), Weight: in.float("weight"), Multiple: in.float("multiple")})
	figures := make(map[string]float64)
	for i, average := range r.Averages {
		figures[fmt.Sprintf("average %d", i+1)] = average
		figures[fmt.Sprintf("lower %d", i+1)] = r.Limits[i].Lo
		figures[fmt.Sprintf("upper %d", i+1)] = r.Limits[i].Hi
	}
	return figures, err
}

func shapiroWilk(in *input) (map[string]float64, error) {
	r, err := stats.ShapiroWilk(in.floats("x"))
	return map[string]float64{"W": r.W, "p": r.P}, err
}
