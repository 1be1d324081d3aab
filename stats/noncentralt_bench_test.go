package stats

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// tailPoint is a row of the reference table of the noncentral t.
type tailPoint struct{ t, df, ncp float64 }

// tailPoints returns the rows that keep says, from the smaller of the two tails.
func tailPoints(b *testing.B, keep func(p tailPoint, tail float64) bool) []tailPoint {
	b.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "noncentralt.csv"))
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		b.Fatal(err)
	}
	var points []tailPoint
	for _, row := range rows[1:] {
		var v [5]float64
		for i := range v {
			v[i], _ = strconv.ParseFloat(row[i], 64)
		}
		if p := (tailPoint{v[0], v[1], v[2]}); keep(p, min(v[3], v[4])) {
			points = append(points, p)
		}
	}
	return points
}

// BenchmarkNoncentralT compares both tails from one call with gonum's lower tail
// alone, per point: over the whole reference table, and over its whole degrees of
// freedom with tails above 1e-6, where gonum is near its own accuracy.
func BenchmarkNoncentralT(b *testing.B) {
	grids := []struct {
		name   string
		points []tailPoint
	}{
		{"grid", tailPoints(b, func(tailPoint, float64) bool { return true })},
		{"integer", tailPoints(b, func(p tailPoint, tail float64) bool {
			return p.df == float64(int(p.df)) && tail > 1e-6
		})},
		{"small", tailPoints(b, func(p tailPoint, tail float64) bool {
			return p.df == float64(int(p.df)) && p.df < 30 && tail > 1e-6
		})},
	}
	for _, g := range grids {
		b.Run(g.name+"/ours", func(b *testing.B) {
			b.ReportAllocs()
			for i := 0; i < b.N; {
				for _, p := range g.points {
					d, _ := NewNoncentralT(p.df)
					lower, upper, _ := d.Tails(p.t, p.ncp)
					sink += lower + upper
					i++
				}
			}
		})
		b.Run(g.name+"/gonum", func(b *testing.B) {
			for i := 0; i < b.N; {
				for _, p := range g.points {
					sink += distuv.NoncentralT{Nu: p.df, Mu: p.ncp}.CDF(p.t)
					i++
				}
			}
		})
	}
}

// BenchmarkOperatingCurve takes 101 points of the probability that five values
// have a quality index of at least 1.2, per curve.
func BenchmarkOperatingCurve(b *testing.B) {
	const n, limit = 5, 1.2
	root := 2.23606797749979 // √5
	b.Run("ours", func(b *testing.B) {
		b.ReportAllocs()
		d, _ := NewNoncentralT(n - 1)
		for range b.N {
			for i := range 101 {
				p, _ := d.Survival(limit*root, root*float64(i)*0.04)
				sink += p
			}
		}
	})
	b.Run("gonum", func(b *testing.B) {
		for range b.N {
			for i := range 101 {
				sink += 1 - distuv.NoncentralT{Nu: n - 1, Mu: root * float64(i) * 0.04}.CDF(limit*root)
			}
		}
	})
}
