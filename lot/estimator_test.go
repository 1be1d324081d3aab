package lot_test

import (
	"testing"
	"math"
	"fmt"

	"github.com/densilot/densilot/lot"
)

func TestScratch(t *testing.T) {
	for _, n := range []int{3,4,5,10,20} { for _, p := range []float64{90,80,70,50} {
		e, err := lot.NewEstimator(n, lot.QualityOneLimit(p))
		if err != nil { t.Fatal(err) }
		m,_ := e.Mean(); s,_ := e.StdDev()
		a,_ := e.AtLeast(100); b,_ := e.AtLeast(90); c,_:=e.AtLeast(75); f,_:=e.AtLeast(55)
		fmt.Printf("%d %v %.10f %.4f %.4f %.4f %.4f %.4f |", n, p, m, s, a, b, c, 1-f)
		e2, _ := lot.NewEstimator(n, lot.QualityCentred(p))
		m,_ = e2.Mean(); s,_ = e2.StdDev()
		a,_ = e2.AtLeast(100); b,_ = e2.AtLeast(90)
		fmt.Printf(" %.3g %.4f %.10f %.10f\n", m-p, s, a, b)
		e3, _ := lot.NewEstimator(n, lot.Quality{Below: 1e-13, Above:100-p})
		a1,_ := e.AtLeast(85);a3,_ := e3.AtLeast(85)
		m,_ = e3.Mean()
		fmt.Printf("        %.3g %.3g\n", a1-a3, m-p)
	}}
	_ = math.Pi
}
