package shift

import (
	"errors"
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Answers are what follows from the records, in the order of the work.
type Answers struct {
	Contract Contract
	Offset   bias.OffsetEstimate
	Pattern  density.Pattern
	Passes   []density.Pass
	Days     []Day
	Sublots  []Sublot
	Lots     []Lot
}

// Day is a date with its mean Gmm.
type Day struct {
	Date    density.Date
	Step    units.Step
	Maximum density.Reference
}

// Sublot is what was placed and what it came to.
type Sublot struct {
	Lot, ID  string
	Date     density.Date
	Quantity decimal.Decimal
	Audited  density.Audited
}

// Lot is an evaluated lot with the results that went into it.
type Lot struct {
	lot.Evaluation
	Results []lot.Result
}

// Judge runs the chain from readings to pay.
func Judge(r Records) (Answers, error) {
	j := Answers{Contract: r.contract, Passes: r.passes}
	for _, step := range []func(Records) error{j.correlate, j.roll, j.maximum, j.compact, j.decide} {
		if err := step(r); err != nil {
			return j, err
		}
	}
	return j, nil
}

// correlate estimates the offset of the gauge from the cores of the test strip. A
// core density is Gmb times water, recorded to the place of the contract.
func (j *Answers) correlate(r Records) (err error) {
	c := r.contract
	water := c.Water.Density()
	var cores []bias.Core
	for _, core := range r.cores {
		exact := new(big.Rat).Mul(core.gmb.Exact(), water.Exact(water.Unit()))
		rounded, err := c.Rounding.Density.Rat(exact)
		if err != nil {
			return core.place.fail(err)
		}
		if rounded.Sign() <= 0 {
			return core.place.fail(errPositive)
		}
		x, _ := rounded.Float64()
		cores = append(cores, bias.Core{ID: core.location, Densities: []density.InPlace{density.Core(water.Unit().Of(x))}})
	}
	j.Offset, err = bias.EstimateOffset(r.strip, cores, bias.Options{Level: c.Strip.Level, Rounding: c.Strip.Rounding, Scope: c.Strip.Scope, Made: c.Strip.Made,
		Source: c.Strip.Source, OutlierAlpha: c.Strip.Alpha, Tolerance: c.Strip.Tolerance})
	return r.placedOnStrip(err)
}

// placedOnStrip gives an error about the strip the place of its record.
func (s Records) placedOnStrip(err error) error {
	var bad *stats.InputError
	switch {
	case !errors.As(err, &bad):
		return err
	case bad.Arg == "gauge" && bad.Index >= 0:
		return s.stripAt[bad.Index].fail(err)
	case bad.Arg == "cores" && bad.Index >= 0:
		return s.cores[bad.Index].place.fail(err)
	}
	return cell{file: "cores.csv", line: 1, column: 1}.fail(err)
}

func (j *Answers) roll(r Records) (err error) {
	if j.Pattern, err = density.RollerPattern(r.passes, r.contract.Pattern); err != nil {
		return cell{file: "passes.csv", line: 1, column: 1}.fail(err)
	}
	return nil
}

// maximum takes the mean Gmm of each day.
func (j *Answers) maximum(r Records) error {
	for _, d := range r.gmm {
		mean, step, err := density.MeanGravity(d.gmm, r.contract.Gravity)
		if err != nil {
			return err
		}
		ref, err := density.MaximumTheoretical(mean, r.contract.Water)
		if err != nil {
			return err
		}
		j.Days = append(j.Days, Day{d.date, step, ref})
	}
	return nil
}

// compact takes each sublot to percent compaction by the Gmm of its day.
func (j *Answers) compact(r Records) error {
	for _, b := range r.sublots {
		a, err := density.AuditReadings(b.readings, j.Offset.Correction, r.contract.Strip.Scope.On(b.date), j.maximumOf(b.date), r.contract.Rounding)
		if err != nil {
			return b.place.fail(err)
		}
		j.Sublots = append(j.Sublots, Sublot{b.lot, b.id, b.date, b.quantity, a})
	}
	return nil
}

func (j *Answers) maximumOf(date density.Date) density.Reference {
	for _, d := range j.Days {
		if d.Date == date {
			return d.Maximum
		}
	}
	return density.Reference{}
}

// decide evaluates the lots in the order of their first sublot.
func (j *Answers) decide(r Records) error {
	var lots []lot.Lot
	at := make(map[string]int)
	for _, b := range j.Sublots {
		i, ok := at[b.Lot]
		if !ok {
			i = len(lots)
			at[b.Lot] = i
			lots = append(lots, lot.Lot{ID: b.Lot, Unit: b.Audited.Unit})
		}
		lots[i].Results = append(lots[i].Results, lot.Result{ID: b.ID, Value: b.Audited.Percentage, Quantity: b.Quantity})
	}
	for _, l := range lots {
		e, err := r.contract.Plan.Evaluate(l)
		if err != nil {
			return r.placed(l.ID, j.traced(err))
		}
		j.Lots = append(j.Lots, Lot{e, l.Results})
	}
	return nil
}

// traced says what an implausible percentage was computed from, because the slip may be
// in another file.
func (j *Answers) traced(err error) error {
	var bad *stats.InputError
	if !errors.As(err, &bad) || !errors.Is(err, lot.ErrPlausible) {
		return err
	}
	for _, b := range j.Sublots {
		if b.ID == bad.ID {
			return fmt.Errorf("%w; it is %v in place, with an offset of %+v, over %v: see readings.csv, cores.csv and gmm.csv", err, b.Audited.Density, j.Offset.Offset, b.Audited.Maximum)
		}
	}
	return err
}

// placed gives an error about a sublot, or about a lot, the place of its record.
func (s Records) placed(lotID string, err error) error {
	var bad *stats.InputError
	id := ""
	if errors.As(err, &bad) {
		id = bad.ID
	}
	for _, b := range s.sublots {
		if b.id == id || id == "" && b.lot == lotID {
			return b.place.fail(err)
		}
	}
	return err
}
