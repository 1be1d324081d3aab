package bias

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// StripRequest says what a test strip is to achieve and what it may take. All fields
// are required, but a cost may be 0 if the other is not.
type StripRequest struct {
	HalfWidth    units.DensityDifference // of the interval of the offset
	Level        float64
	CostCore     float64 // of a location with its core, in any unit of cost
	CostReading  float64 // of one reading, in the same
	MostCores    int     // at least 2
	MostReadings int     // per core, at least 1
}

// StripDesign is a number of cores with a number of readings at each.
type StripDesign struct {
	Cores, Readings int
	HalfWidth       units.DensityDifference // expected
	Cost            float64
	Meets           bool // HalfWidth is at most the one wanted
}

// String returns the design in words, such as "8 cores, 2 readings each: ±0.75 lb/ft3, cost 840".
func (d StripDesign) String() string {
	readings := "readings"
	if d.Readings == 1 {
		readings = "reading"
	}
	return fmt.Sprintf("%d cores, %d %s each: ±%.2f, cost %g", d.Cores, d.Readings, readings, d.HalfWidth, d.Cost)
}

// StripPlan is the answer of [PlanStrip].
type StripPlan struct {
	Designs []StripDesign           // for 1, 2, … readings the fewest cores that meet the request, or the most allowed
	Best    StripDesign             // the cheapest that meets it, of equals that with fewer cores; zero where none does
	Floor   units.DensityDifference // half-width of MostCores with endless readings: less is out of reach
	Request StripRequest
	// Warnings has [stats.WarnNegative] of the components: a part that was estimated below
	// 0 makes every design look better than it is.
	Warnings []stats.Warning
}

// PlanStrip finds how many cores with how many readings at each give an offset whose
// interval has the half-width wanted, by [Components.HalfWidth], and which of these is
// cheapest by
//
//	cost = cores · (CostCore + readings · CostReading)
//
// c comes from [StripComponents] of an earlier strip, or is written down from
// experience. Where nothing within the request meets it, Best is zero and the designs
// show how close one comes.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [density.ErrNotPositive],
// [density.ErrUnitMismatch], [stats.ErrLevel] or [stats.ErrParameter].
func PlanStrip(c Components, r StripRequest) (StripPlan, error) {
	const fn = "bias.PlanStrip"
	if err := c.check(fn, "c"); err != nil {
		return StripPlan{}, err
	}
	if err := r.check(fn, c.Unit); err != nil {
		return StripPlan{}, err
	}
	p := StripPlan{Request: r, Warnings: c.negative(), Floor: c.Unit.Difference(c.half(r.MostCores, math.Inf(1), r.Level))}
	for readings := 1; readings <= r.MostReadings; readings++ {
		d := c.fewest(r, readings)
		p.Designs = append(p.Designs, d)
		if d.Meets && (!p.Best.Meets || d.Cost < p.Best.Cost || d.Cost == p.Best.Cost && d.Cores < p.Best.Cores) {
			p.Best = d
		}
	}
	return p, nil
}

// mostDesigns bounds the work of a request.
const mostDesigns = 100_000

func (r StripRequest) check(fn string, unit units.DensityUnit) error {
	switch {
	case r.HalfWidth.IsZero():
		return stats.Refuse(fn, "r.HalfWidth", "", units.ErrNotGiven)
	case r.HalfWidth.Unit() != unit:
		return stats.Refuse(fn, "r.HalfWidth", r.HalfWidth.String(), fmt.Errorf("%w (the components are in %v)", density.ErrUnitMismatch, unit))
	case r.HalfWidth.In(unit) <= 0:
		return stats.Refuse(fn, "r.HalfWidth", r.HalfWidth.String(), density.ErrNotPositive)
	case !(r.Level > 0 && r.Level < 1):
		return stats.Refuse(fn, "r.Level", fmt.Sprint(r.Level), stats.ErrLevel)
	case r.MostCores < 2 || r.MostCores > mostDesigns:
		return stats.Refuse(fn, "r.MostCores", fmt.Sprint(r.MostCores), stats.ErrParameter)
	case r.MostReadings < 1 || r.MostReadings > mostDesigns:
		return stats.Refuse(fn, "r.MostReadings", fmt.Sprint(r.MostReadings), stats.ErrParameter)
	}
	total := float64(r.MostCores) * (r.CostCore + float64(r.MostReadings)*r.CostReading)
	if !(r.CostCore >= 0 && r.CostReading >= 0 && total > 0) || !isFinite(total) {
		return stats.Refuse(fn, "r.CostCore", fmt.Sprintf("%g and %g", r.CostCore, r.CostReading), fmt.Errorf("%w: costs are not negative and not both 0", stats.ErrParameter))
	}
	return nil
}

// fewest returns the design with the fewest cores that meets r, by bisection: the
// half-width falls with every core.
func (c Components) fewest(r StripRequest, readings int) StripDesign {
	lo, hi := 1, r.MostCores
	for hi-lo > 1 {
		if mid := lo + (hi-lo)/2; c.design(r, mid, readings).Meets {
			hi = mid
		} else {
			lo = mid
		}
	}
	return c.design(r, hi, readings)
}

func (c Components) design(r StripRequest, cores, readings int) StripDesign {
	half := c.half(cores, float64(readings), r.Level)
	return StripDesign{Cores: cores, Readings: readings, HalfWidth: c.Unit.Difference(half), Meets: half <= r.HalfWidth.In(c.Unit),
		Cost: float64(cores) * (r.CostCore + float64(readings)*r.CostReading)}
}

// Gain is what one change of a design would do to the half-width of its interval.
type Gain struct {
	Change    string
	Design    StripDesign
	Narrower  units.DensityDifference // half-width now less that of Design
	ExtraCost float64
}

// GainFrom says what more cores or more readings would gain over a design of so many
// cores and readings at each: one core more, twice the cores, one reading more at
// each, twice the readings. The request gives level, wanted half-width and costs; its
// limits do not bound the changes.
//
// Errors are those of [PlanStrip], with [stats.ErrParameter] for cores below 2 or
// readings below 1.
func GainFrom(c Components, r StripRequest, cores, readings int) ([]Gain, error) {
	const fn = "bias.GainFrom"
	if err := c.check(fn, "c"); err != nil {
		return nil, err
	}
	if err := r.check(fn, c.Unit); err != nil {
		return nil, err
	}
	if cores < 2 || cores > mostDesigns || readings < 1 || readings > mostDesigns {
		return nil, stats.Refuse(fn, "cores", fmt.Sprintf("%d with %d readings", cores, readings), stats.ErrParameter)
	}
	now := c.design(r, cores, readings)
	gain := func(change string, n, k int) Gain {
		d := c.design(r, n, k)
		return Gain{Change: change, Design: d, Narrower: now.HalfWidth.Sub(d.HalfWidth), ExtraCost: d.Cost - now.Cost}
	}
	return []Gain{gain("one core more", cores+1, readings), gain("twice the cores", 2*cores, readings),
		gain("one reading more at each", cores, readings+1), gain("twice the readings", cores, 2*readings)}, nil
}
