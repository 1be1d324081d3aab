package bias_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func group(name string, differences ...float64) bias.Group {
	l, c := pairsOf(differences...)
	return bias.Group{Name: name, Gauge: l, Cores: c}
}

func groupOptions() bias.GroupOptions { return bias.GroupOptions{Level: 0.95, Alpha: 0.05} }

// R 4.2.2: anova(lm(x ~ g)).
func TestCompareGroups(t *testing.T) {
	dry, wet, lower := group("dry", 2.2, 2.5, 1.9, 2.4), group("wet", 3.4, 3.1, 3.6), group("lower lift", 2.3, 2.6, 2.1)
	r, err := bias.CompareGroups([]bias.Group{dry, wet, lower}, groupOptions())
	if err != nil || !r.Differ || math.Abs(r.Table.F-18.62554) > 5e-6 || math.Abs(r.Table.P-0.001574380161) > 5e-12 || len(r.Groups) != 3 || r.Groups[1].Name != "wet" {
		t.Errorf("%+v, %v", r, err)
	}
	r, err = bias.CompareGroups([]bias.Group{dry, lower}, groupOptions())
	if err != nil || r.Differ || math.Abs(r.Table.P-0.6915946905) > 5e-10 || r.Explanation == "" {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestCompareGroupsRefuses(t *testing.T) {
	dry, wet := group("dry", 2.2, 2.5), group("wet", 3.4, 3.1)
	si := group("si", 2.2, 2.5)
	si.Gauge, si.Cores = inSI(si.Gauge, si.Cores)
	twice := group("twice", 2.2, 2.5)
	twice.Gauge = append(twice.Gauge, twice.Gauge[0])
	for _, tt := range []struct {
		name   string
		groups []bias.Group
		o      bias.GroupOptions
		want   error
	}{
		{"nothing", nil, groupOptions(), stats.ErrTooFew}, {"one", []bias.Group{dry}, groupOptions(), stats.ErrTooFew},
		{"a group of one", []bias.Group{dry, group("wet", 3)}, groupOptions(), stats.ErrTooFew}, {"a group of none", []bias.Group{dry, {Name: "wet"}}, groupOptions(), stats.ErrTooFew},
		{"no name", []bias.Group{dry, group("", 1, 2)}, groupOptions(), bias.ErrNoID}, {"a name twice", []bias.Group{dry, dry}, groupOptions(), bias.ErrRepeatedID},
		{"an id twice", []bias.Group{dry, twice}, groupOptions(), bias.ErrRepeatedID}, {"two units", []bias.Group{dry, si}, groupOptions(), density.ErrUnitMismatch},
		{"level", []bias.Group{dry, wet}, bias.GroupOptions{Level: 95, Alpha: 0.05}, stats.ErrLevel}, {"alpha", []bias.Group{dry, wet}, bias.GroupOptions{Level: 0.95}, stats.ErrLevel},
	} {
		r, err := bias.CompareGroups(tt.groups, tt.o)
		var bad *stats.InputError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || r.Unit != units.DensityUnit(0) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// Groups without any spread differ or do not, and there is no p to say so with.
func TestGroupsWithoutSpread(t *testing.T) {
	for _, tt := range []struct {
		wet    float64
		differ bool
	}{{2.2, false}, {3.1, true}} {
		r, err := bias.CompareGroups([]bias.Group{group("dry", 2.2, 2.2), group("wet", tt.wet, tt.wet, tt.wet)}, groupOptions())
		if err != nil || r.Differ != tt.differ || !strings.Contains(r.Explanation, "nothing can be tested") || strings.Contains(r.Explanation, "p =") {
			t.Errorf("%v: %s, %v", tt.wet, r.Explanation, err)
		}
	}
}

func ExampleCompareGroups() {
	r, err := bias.CompareGroups([]bias.Group{group("dry", 2.2, 2.5, 1.9, 2.4), group("wet", 3.4, 3.1, 3.6)}, groupOptions())
	fmt.Println(r.Differ, err)
	fmt.Println(r.Explanation)
	// Output:
	// true <nil>
	// offsets in lb/ft3: dry +2.25 (+1.83 to +2.67), wet +3.37 (+2.74 to +3.99); one offset for all has p = 0.0024: use one for each
}
