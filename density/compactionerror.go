package density

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// ErrorComponent is one source of error in percent compaction. The fields mean
// what those of a component of package lot do, which it converts to.
type ErrorComponent struct {
	Source string  // what it is, in words
	StdErr float64 // standard error, in percent of the reference density
	DF     float64 // its degrees of freedom, infinite where it is known for certain
}

// Doubt is a standard error as it is known: of what, how large, with how many
// degrees of freedom.
type Doubt struct {
	StdErr float64
	DF     float64 // 1 or more; math.Inf(1) where StdErr is known for certain
}

// CompactionError is the measurement error of percent compaction. Package lot takes
// it as
//
//	lot.MeasurementError{
//		Common:        []lot.Component{lot.Component(e.Offset), lot.Component(e.Reference)},
//		Repeatability: lot.Component(e.Repeatability)}
type CompactionError struct {
	Offset        ErrorComponent // of the gauge, common to all results corrected by it
	Reference     ErrorComponent // of the Gmm or other reference, common to all results that share it
	Repeatability ErrorComponent // of one result
}

// ErrorOfCompaction returns the measurement error of results of about c percent
// that were corrected by correction and divided by ref:
//
//	offset         100·u(offset)/reference
//	reference      c·u(gravity)/gravity
//	repeatability  100·σ/reference
//
// in percent of the reference density. gravity is the standard error of the Gmm or
// Gmb behind ref as it was used, of a mean of k determinations that of one over √k.
// repeatability is the standard deviation of one result in the unit of ref: for a
// mean of k readings at the same place, that of one reading over √k. c is best the
// mean of the lot; a few percent of error in it do not matter.
//
// The reference is common only where all results share it. Where each sublot has a
// Gmm of its own, pass a zero Doubt and add its error to repeatability as a root of
// squares. A Doubt with StdErr 0 is a source without error. A control strip counts
// as exact; where it was read with the same gauge and offset, the offset is in the
// strip too and largely cancels, which this function does not know.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven] (a zero correction, ref
// or percentage; a correction that does not know its standard error or degrees of
// freedom), [ErrModel] (a correction by ratio or line), [ErrUnitMismatch], [ErrKind] (c is of another kind than ref, or ref is
// a control strip, which has no gravity to be in doubt of, and gravity is not zero)
// or [units.ErrRange].
//
// Source: first-order propagation of uncertainty, JCGM 100:2008 section 5.1.2.
func ErrorOfCompaction(c Compaction, correction Correction, ref Reference, gravity, repeatability Doubt) (CompactionError, error) {
	const fn = "density.ErrorOfCompaction"
	if err := checkErrorSources(fn, c, correction, ref, gravity); err != nil {
		return CompactionError{}, err
	}
	for _, d := range []struct {
		arg string
		Doubt
	}{{"gravity", gravity}, {"repeatability", repeatability}} {
		if !d.valid() {
			return CompactionError{}, stats.Refuse(fn, d.arg, fmt.Sprintf("%g with %g degrees of freedom", d.StdErr, d.DF), units.ErrRange)
		}
	}
	stdErr, df := correction.StdErr()
	percent := 100 / ref.d.In(ref.d.Unit())
	e := CompactionError{
		Offset:        ErrorComponent{"offset of the gauge", percent * stdErr, df},
		Reference:     ErrorComponent{"reference density", 0, gravity.DF},
		Repeatability: ErrorComponent{"repeatability", percent * repeatability.StdErr, repeatability.DF},
	}
	if !ref.gravity.IsZero() {
		e.Reference.StdErr = c.Percent * (gravity.StdErr / ref.gravity.Float64())
	}
	if math.IsInf(e.Offset.StdErr+e.Reference.StdErr+e.Repeatability.StdErr, 1) {
		return CompactionError{}, stats.Refuse(fn, "ref", ref.String(), units.ErrRange)
	}
	return e, nil
}

func (d Doubt) valid() bool {
	return d.StdErr == 0 && d.DF >= 0 || d.StdErr > 0 && !math.IsInf(d.StdErr, 1) && d.DF >= 1
}

func checkErrorSources(fn string, c Compaction, correction Correction, ref Reference, gravity Doubt) error {
	if err := check(fn, "ref", -1, ref.d); err != nil {
		return err
	}
	stdErr, df := correction.StdErr()
	switch {
	case !(c.Percent > 0) || math.IsInf(c.Percent, 1):
		return stats.Refuse(fn, "c", fmt.Sprint(c.Percent), units.ErrRange)
	case c.Kind != ref.kind:
		return stats.Refuse(fn, "c", c.String(), fmt.Errorf("%w; the reference is a %v", ErrKind, ref.kind))
	case ref.gravity.IsZero() && gravity.StdErr != 0:
		return stats.Refuse(fn, "gravity", fmt.Sprint(gravity.StdErr), fmt.Errorf("%w; a %v has no gravity", ErrKind, ref.kind))
	case correction.IsZero():
		return stats.Refuse(fn, "correction", "", units.ErrNotGiven)
	case correction.Model() != ConstantOffset:
		return stats.Refuse(fn, "correction", correction.String(), fmt.Errorf("%w: a constant offset is needed, whose error is the same for every reading", ErrModel))
	case correction.Offset().Unit() != ref.d.Unit():
		return stats.Refuse(fn, "correction", correction.Offset().String(), fmt.Errorf("%w (the reference is in %v)", ErrUnitMismatch, ref.d.Unit()))
	case stdErr == 0 || df == 0:
		return stats.Refuse(fn, "correction", correction.String(), fmt.Errorf("%w: its standard error and degrees of freedom", units.ErrNotGiven))
	case df < 1:
		return stats.Refuse(fn, "correction", fmt.Sprintf("%g degrees of freedom", df), units.ErrRange)
	}
	return nil
}
