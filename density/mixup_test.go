package density_test

import (
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"strings"
	"testing"
)

const mixupHead = `package p
import (
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/units"
)
var (
	_ density.Reading
	lb = units.LbPerFt3.Of(147.2)
	gmm = units.SpecificGravityOf(2.512)
	reading = density.Uncorrected(lb)
	core = density.Core(lb)
	ref density.Reference
	correction density.Correction
	scope density.Scope
	set density.ReadingSet
	hot = units.Fahrenheit.Of(285)
)
`

// The mix-ups that a spreadsheet lets through do not compile. Each snippet has a
// twin that does, so that it fails for the reason it names.
func TestMixUpsDoNotCompile(t *testing.T) {
	fset := token.NewFileSet()
	imp := importer.ForCompiler(fset, "source", nil)
	for _, tt := range []struct{ name, wrong, right string }{
		{"a bare number as a density", "var _ units.Density = 147.2", "var _ units.Density = lb"},
		{"a conversion of a bare number", "var _ = units.Density(147.2)", "var _ = units.LbPerFt3.Of(147.2)"},
		{"a density times a density", "var _ = lb * lb", "var _ = lb.Sub(lb)"},
		{"kg/m3 for lb/ft3 as numbers", "var _ = lb.Sub(2340.0)", "var _ = lb.Sub(units.KgPerM3.Of(2340.0))"},
		{"a unit for another dimension", "var _ = lb.In(units.Celsius)", "var _ = lb.In(units.KgPerM3)"},
		{"a specific gravity as a density", "var _ = density.Core(gmm)", "var _ = density.Core(gmm.Density(units.Water62_245))"},
		{"an uncorrected reading as in place", "var _, _ = density.PercentCompaction(reading, ref)", "var _, _ = density.PercentCompaction(core, ref)"},
		{"a correction applied twice", "var _, _ = correction.Apply(core, scope)", "var _, _ = correction.Apply(reading, scope)"},
		{"a density as a reference", "var _, _ = density.PercentCompaction(core, lb)", "var _, _ = density.PercentCompaction(core, ref)"},
		{"a difference as a density", "var _ units.Density = lb.Sub(lb)", "var _ units.DensityDifference = lb.Sub(lb)"},
		{"a temperature difference as a temperature", "var _ units.Temperature = hot.Sub(hot)", "var _ units.TemperatureDifference = hot.Sub(hot)"},
		{"a core among uncorrected readings", "var _ = density.SublotLocation{Readings: []density.Reading{core}}", "var _ = density.SublotLocation{Readings: []density.Reading{reading}}"},
		{"a reading in place of a core", "var _ = density.SublotLocation{InPlace: reading}", "var _ = density.SublotLocation{InPlace: core}"},
		{"a set of readings as in place", "var _, _ = density.PercentCompaction(set, ref)", "var _, _ = density.AuditReadings(set.Readings(), correction, scope, ref, density.RoundingPolicy{})"},
		{"a temperature as an offset", "var _ = density.Place{Offset: hot}", "var _ = density.Place{Offset: units.Foot.Of(3)}"},
		{"an offset of densities", "var _ = density.Offset{Offset: lb}", "var _ = density.Offset{Offset: lb.Sub(lb)}"},
	} {
		if err := typeCheck(fset, imp, mixupHead+tt.right); err != nil {
			t.Errorf("%s: the right form does not compile: %v", tt.name, err)
		}
		err := typeCheck(fset, imp, mixupHead+tt.wrong)
		if err == nil || strings.Contains(err.Error(), "undefined") {
			t.Errorf("%s: compiles, or fails for another reason: %v", tt.name, err)
		}
	}
}

func typeCheck(fset *token.FileSet, imp types.Importer, src string) error {
	f, err := parser.ParseFile(fset, "snippet.go", src, 0)
	if err != nil {
		return err
	}
	conf := types.Config{Importer: imp}
	_, err = conf.Check("p", fset, []*ast.File{f}, nil)
	return err
}
