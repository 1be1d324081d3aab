package density_test

import (
	"errors"
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)

var liftPolicy = density.LiftPolicy{Fine: decimal.NewFromInt(3), Coarse: decimal.NewFromInt(4)}

// The ratios 3 and 4 are those of NCHRP Report 531 (2004), from memory; the rest
// follows by hand, 1 in = 25.4 mm exactly: 1.5 in = 38.1 mm is 3.048 times 12.5 mm.
func TestCheckLift(t *testing.T) {
	mm, in := units.Millimetre.Of, units.Inch.Of
	for _, tt := range []struct {
		name            string
		thickness, size units.Length
		g               density.Gradation
		ratio           float64
		least           string
		met             bool
	}{
		{"fine, inches over millimetres", in(1.5), mm(12.5), density.FineGraded, 3.048, "1.4763779527559056 in", true},
		{"coarse, the same lift", in(1.5), mm(12.5), density.CoarseGraded, 3.048, "1.968503937007874 in", false},
		{"exactly three", mm(37.5), mm(12.5), density.FineGraded, 3, "37.5 mm", true},
		{"a hair less", mm(37.4), mm(12.5), density.FineGraded, 2.992, "37.5 mm", false},
		{"exactly four, two units", in(2), mm(12.7), density.CoarseGraded, 4, "2 in", true},
	} {
		l, err := density.CheckLift(tt.thickness, tt.size, tt.g, liftPolicy)
		if err != nil || l.Ratio != tt.ratio || l.Least.String() != tt.least || l.Met != tt.met || (len(l.Warnings) == 0) != tt.met {
			t.Errorf("%s: %+v, %v", tt.name, l, err)
		}
	}
}

func TestCheckLiftRefuses(t *testing.T) {
	mm := units.Millimetre.Of
	absurd := decimal.New(1, 2_000_000_000)
	for _, tt := range []struct {
		name            string
		thickness, size units.Length
		g               density.Gradation
		p               density.LiftPolicy
		want            error
	}{
		{"no thickness", units.Length{}, mm(12.5), density.FineGraded, liftPolicy, units.ErrNotGiven},
		{"no size", mm(40), units.Length{}, density.FineGraded, liftPolicy, units.ErrNotGiven},
		{"a size of 0", mm(40), mm(0), density.FineGraded, liftPolicy, units.ErrRange},
		{"a negative thickness", mm(-40), mm(12.5), density.FineGraded, liftPolicy, units.ErrRange},
		{"no gradation", mm(40), mm(12.5), 0, liftPolicy, density.ErrGradation},
		{"no policy", mm(40), mm(12.5), density.FineGraded, density.LiftPolicy{}, units.ErrRange},
		{"an absurd policy", mm(40), mm(12.5), density.FineGraded, density.LiftPolicy{Fine: absurd}, units.ErrRange},
		{"a lift of nothing", mm(40), mm(math.SmallestNonzeroFloat64), density.FineGraded, liftPolicy, units.ErrRange},
		{"a size beyond numbers", mm(40), mm(math.MaxFloat64), density.FineGraded, liftPolicy, units.ErrRange},
	} {
		if _, err := density.CheckLift(tt.thickness, tt.size, tt.g, tt.p); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

func TestCheckEdge(t *testing.T) {
	in, ft, mm := units.Inch.Of, units.Foot.Of, units.Millimetre.Of
	at := func(offset units.Length) density.Place {
		return density.Place{Station: units.Station100Ft.Of(1234.5), Offset: offset, Edge: "joint"}
	}
	for _, tt := range []struct {
		name     string
		at       density.Place
		p        density.EdgePolicy
		warnings int
		want     error
	}{
		{"exactly a foot", at(in(12)), density.EdgePolicy{Least: ft(1)}, 0, nil},
		{"300 mm is less than a foot", at(mm(300)), density.EdgePolicy{Least: ft(1)}, 1, nil},
		{"beside the joint", at(in(4)), density.EdgePolicy{Least: in(2), Most: in(6)}, 0, nil},
		{"at the nearest", at(in(2)), density.EdgePolicy{Least: in(2), Most: in(6)}, 0, nil},
		{"at the farthest", at(in(6)), density.EdgePolicy{Least: in(2), Most: in(6)}, 0, nil},
		{"on the joint", at(in(0)), density.EdgePolicy{Least: in(2), Most: in(6)}, 1, nil},
		{"away from the joint", at(in(6.5)), density.EdgePolicy{Least: in(2), Most: in(6)}, 1, nil},
		{"only a farthest", at(in(6.5)), density.EdgePolicy{Most: in(6)}, 1, nil},
		{"no limits", at(in(4)), density.EdgePolicy{}, 0, units.ErrNotGiven},
		{"limits the wrong way round", at(in(4)), density.EdgePolicy{Least: in(6), Most: in(2)}, 0, units.ErrRange},
		{"no offset", density.Place{}, density.EdgePolicy{Least: ft(1)}, 0, units.ErrNotGiven},
		{"an offset from nowhere", density.Place{Offset: ft(2)}, density.EdgePolicy{Least: ft(1)}, 0, density.ErrEdge},
	} {
		ws, err := density.CheckEdge(tt.at, tt.p)
		if !errors.Is(err, tt.want) || len(ws) != tt.warnings {
			t.Errorf("%s: %v, %v", tt.name, ws, err)
		}
	}
}
