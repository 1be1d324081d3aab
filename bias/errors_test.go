package bias_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// An error names the function and the arguments that the caller wrote, and the record in
// the order in which it was given, whatever function found the fault.
func TestErrorsNameWhatTheCallerWrote(t *testing.T) {
	l, c := pairsOf(2.2, 2.5, 1.9)
	lb, at := units.LbPerFt3, options().Scope
	huge := []bias.Core{core("1", 1.7e308), core("2", 1e308), core("3", 1.1e308)}
	noScope, inSI := options(), options()
	noScope.Scope, inSI.Tolerance = density.Scope{}, units.KgPerM3.Difference(16)
	models, err := bias.CompareModels(l, c, bias.ModelOptions{Level: 0.95, ErrorRatio: 1})
	if err != nil {
		t.Fatal(err)
	}
	e, parts := nestedParts(t)
	later := laterWith(0.1, 0.2, 0.3)
	later[0], later[2] = later[2], later[0] // the last first
	unread, sameID, longAgo := append([]bias.LaterCheck(nil), later...), append([]bias.LaterCheck(nil), later...), laterWith(0.1, 0.2)
	unread[2].Location.Readings = nil
	sameID[1].Location.ID, sameID[1].Core.ID = "2", "2"
	longAgo[1].At = longAgo[1].At.AddDate(-9, 0, 0)
	group := func(name string, l []bias.Location) bias.Group { return bias.Group{Name: name, Gauge: l, Cores: c} }
	labs := laboratories([][]float64{{1, 2}, {2, math.NaN()}, {3, 4}})
	byTolerance := bias.BlockOptions{Assigned: lb.Of(135), Tolerance: lb.Difference(1)}
	slope := bias.CorrectionOptions{Offset: options().Rounding, Slope: units.Rounding{Method: units.HalfEven, Places: 3}, Source: "strip"}
	for _, tt := range []struct {
		err  func() error
		want string
	}{
		{func() error { _, err := bias.EstimateOffset(l, c, noScope); return err }, "bias.EstimateOffset: o.Scope"},
		{func() error { _, err := bias.EstimateOffset(l, c, inSI); return err }, "bias.EstimateOffset: o.Tolerance = 16 kg/m3: "},
		{func() error { _, err := bias.EstimateOffset(l, huge, options()); return err }, "bias.EstimateOffset: o.Level"},
		{func() error { _, err := bias.OffsetOf([]float64{1, 2}, []float64{2, 4}, 95); return err }, "bias.OffsetOf: level = 95: "},
		{func() error {
			_, err := bias.CompareModels(l, huge, bias.ModelOptions{Level: 0.95, ErrorRatio: 1})
			return err
		}, "bias.CompareModels: o.Level"},
		{func() error {
			_, err := bias.CompareModels([]bias.Location{location("1", 1), location("2", 1), location("3", 1)}, []bias.Core{core("1", 2), core("2", 2), core("3", 2)}, bias.ModelOptions{Level: 0.95, ErrorRatio: 1})
			return err
		}, "bias.CompareModels: pairs: "},
		{func() error { _, err := models.Correction(density.ConstantRatio, slope); return err }, "bias.ModelComparison.Correction: o.Scope"},
		{func() error { _, err := bias.StripComponents(l, c, 95); return err }, "bias.StripComponents: level = 95: "},
		{func() error { _, err := bias.UncertaintyOf(nil, e.Correction, at, parts, 0.95); return err }, "bias.UncertaintyOf: readings: "},
		{func() error {
			_, err := bias.UncertaintyOf(readings(145), e.Correction, density.Scope{}, parts, 0.95)
			return err
		}, "bias.UncertaintyOf: at = "},
		{func() error {
			_, err := bias.UncertaintyOf(readings(145), e.Correction, at, bias.Components{}, 0.95)
			return err
		}, "bias.UncertaintyOf: parts.Unit: "},
		{func() error { _, err := bias.Recheck(inUse(t), unread, recheckOptions()); return err }, fmt.Sprintf("bias.Recheck: later[2] %q: readings: ", later[2].Location.ID)},
		{func() error {
			_, err := bias.Recheck(dated(t, "2025-05-01", "2025-05-01", "2025-09-30"), longAgo, recheckOptions())
			return err
		}, fmt.Sprintf("bias.Recheck: later[1] %q = ", longAgo[1].Location.ID)},
		{func() error {
			_, err := bias.UpdateOffset(l, c, options(), sameID, recheckOptions())
			return err
		}, `bias.UpdateOffset: later[1] "2": ` + bias.ErrRepeatedID.Error()},
		{func() error { _, err := bias.UpdateOffset(l, c, noScope, later, recheckOptions()); return err }, "bias.UpdateOffset: o.Scope"},
		{func() error { _, err := bias.UpdateOffset(l, c, options(), later, bias.RecheckOptions{}); return err }, "bias.UpdateOffset: ro.Tolerance: "},
		{func() error { _, err := bias.UpdateOffset(l, c, options(), unread, recheckOptions()); return err }, "bias.UpdateOffset: later[2] "},
		{func() error {
			_, err := bias.CompareGroups([]bias.Group{group("dry", l), group("wet", append(l[:2:2], location("3")))}, groupOptions())
			return err
		}, `bias.CompareGroups: groups[1] "wet": gauge[2] "3": readings: `},
		{func() error {
			_, err := bias.CompareLaboratories(labs, stats.InterlaboratoryOptions{Level: 0.95, Alpha: 0.005})
			return err
		}, `bias.CompareLaboratories: labs[1] "2": Results[1] = NaN: `},
		{func() error { _, err := bias.CheckBlock(nil, bias.BlockReading{At: day(1)}, byTolerance); return err }, "bias.CheckBlock: today: " + units.ErrNotGiven.Error()},
		{func() error {
			_, err := bias.CheckBlock(nil, blockToday(9, 135), bias.BlockOptions{Assigned: lb.Of(-135), Tolerance: lb.Difference(1)})
			return err
		}, "bias.CheckBlock: o.Assigned = -135 lb/ft3: " + density.ErrNotPositive.Error()},
		{func() error {
			_, err := bias.CheckBlock(nil, blockToday(9, 135), bias.BlockOptions{Multiple: 3})
			return err
		}, "bias.CheckBlock: history: "},
	} {
		if err := tt.err(); err == nil || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%v\nwant %s", err, tt.want)
		}
	}
}
