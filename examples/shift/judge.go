package main

import (
	"errors"
	"math/big"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// judged is a shift with its answers, in the order of the work.
type judged struct {
	contract contract
	offset   bias.OffsetEstimate
	pattern  density.Pattern
	passes   []density.Pass
	days     []judgedDay
	sublots  []judgedSublot
	lots     []lot.Evaluation
}

type judgedDay struct {
	date    string
	step    units.Step
	maximum density.Reference
}

type judgedSublot struct {
	sublot
	audited density.Audited
}

// judge runs the chain from readings to pay.
func judge(s shift) (judged, error) {
	j := judged{contract: s.contract, passes: s.passes}
	for _, step := range []func(shift) error{j.correlate, j.roll, j.maximum, j.compact, j.decide} {
		if err := step(s); err != nil {
			return j, err
		}
	}
	return j, nil
}

// correlate estimates the offset of the gauge from the cores of the test strip. A
// core density is Gmb times water, recorded to the place of the contract.
func (j *judged) correlate(s shift) (err error) {
	c := s.contract
	water := c.water.Density()
	var cores []bias.Core
	for _, core := range s.cores {
		exact := new(big.Rat).Mul(core.gmb.Exact(), water.Exact(water.Unit()))
		rounded, err := c.rounding.Density.Rat(exact)
		if err != nil {
			return core.place.fail(err)
		}
		x, _ := rounded.Float64()
		cores = append(cores, bias.Core{ID: core.location, Density: density.Core(water.Unit().Of(x))})
	}
	j.offset, err = bias.EstimateOffset(s.strip, cores, bias.Options{Level: c.strip.level, Rounding: c.strip.rounding, Scope: c.strip.scope,
		Source: c.strip.source, OutlierAlpha: c.strip.alpha, Tolerance: c.strip.tolerance})
	return err
}

func (j *judged) roll(s shift) (err error) {
	j.pattern, err = density.RollerPattern(s.passes, s.contract.pattern)
	return err
}

// maximum takes the mean Gmm of each day.
func (j *judged) maximum(s shift) error {
	for _, d := range s.gmm {
		mean, step, err := density.MeanGravity(d.gmm, s.contract.gravity)
		if err != nil {
			return err
		}
		ref, err := density.MaximumTheoretical(mean, s.contract.water)
		if err != nil {
			return err
		}
		j.days = append(j.days, judgedDay{d.date, step, ref})
	}
	return nil
}

// compact takes each sublot to percent compaction by the Gmm of its day.
func (j *judged) compact(s shift) error {
	for _, b := range s.sublots {
		a, err := density.AuditReadings(b.readings, j.offset.Correction, s.contract.strip.scope, j.maximumOf(b.date), s.contract.rounding)
		if err != nil {
			return b.place.fail(err)
		}
		j.sublots = append(j.sublots, judgedSublot{b, a})
	}
	return nil
}

func (j *judged) maximumOf(date string) density.Reference {
	for _, d := range j.days {
		if d.date == date {
			return d.maximum
		}
	}
	return density.Reference{}
}

// decide evaluates the lots in the order of their first sublot.
func (j *judged) decide(s shift) error {
	var lots []lot.Lot
	at := make(map[string]int)
	for _, b := range j.sublots {
		i, ok := at[b.lot]
		if !ok {
			i = len(lots)
			at[b.lot] = i
			lots = append(lots, lot.Lot{ID: b.lot, Unit: b.audited.Unit})
		}
		lots[i].Results = append(lots[i].Results, lot.Result{ID: b.id, Value: b.audited.Percentage, Quantity: b.quantity})
	}
	for _, l := range lots {
		e, err := s.contract.plan.Evaluate(l)
		if err != nil {
			return s.placed(l.ID, err)
		}
		j.lots = append(j.lots, e)
	}
	return nil
}

// placed gives an error about a sublot, or about a lot, the place of its record.
func (s shift) placed(lotID string, err error) error {
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
