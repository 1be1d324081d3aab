package lot

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
)

// Component is one source of measurement error.
type Component struct {
	Source string  // what it is, in words
	StdErr float64 // standard error, in the unit of the characteristic
	DF     float64 // its degrees of freedom; math.Inf(1) where it is known for certain
}

// MeasurementError says how far the results of a lot are from what they measure.
// Both kinds are in the unit of the characteristic, such as percent of maximum
// theoretical density.
//
// Common errors are the same for every result of the lot and do not average out:
// the offset of a gauge, the Gmm of the day. They shift the mean of the lot by an
// unknown step with standard error StdErr and Student's t distribution; several
// are taken together as one, with the degrees of freedom of Welch and
// Satterthwaite.
//
// Repeatability is what the same place would differ by if it were measured again,
// as the standard deviation of one result (of a mean of k readings, that of one
// reading over √k). It is part of the standard deviation of the results but no
// property of the mat. That the mat differs within a sublot, so that another place
// would have given another result, is one, and does not belong here. The zero
// Component means that no repeatability is to be taken out.
type MeasurementError struct {
	Common        []Component
	Repeatability Component
}

// Validate refuses a standard error that is negative or not finite, and, beside a
// standard error that is not 0, degrees of freedom below 1; the error wraps
// [stats.ErrNotFinite], [ErrNegative] or [ErrOutOfDomain].
func (e MeasurementError) Validate() error { return e.validate("lot.MeasurementError.Validate") }

func (e MeasurementError) validate(fn string) error {
	for i, c := range e.Common {
		if err := c.validate(); err != nil {
			return refuseAt(fn, "e.Common", i, c.String(), err)
		}
	}
	if err := e.Repeatability.validate(); err != nil {
		return stats.Refuse(fn, "e.Repeatability", e.Repeatability.String(), err)
	}
	return nil
}

func (c Component) validate() error {
	switch {
	case !isFinite(c.StdErr) || math.IsNaN(c.DF):
		return stats.ErrNotFinite
	case c.StdErr < 0:
		return ErrNegative
	case c.StdErr > 0 && !(c.DF >= 1):
		return fmt.Errorf("%w; the degrees of freedom are at least 1, infinite where the standard error is certain", ErrOutOfDomain)
	}
	return nil
}

// String returns the component in words, such as "offset of the gauge: 0.31 with 9
// degrees of freedom".
func (c Component) String() string {
	if math.IsInf(c.DF, 1) {
		return fmt.Sprintf("%s: %.4g, certain", c.Source, c.StdErr)
	}
	return fmt.Sprintf("%s: %.4g with %.4g degrees of freedom", c.Source, c.StdErr, c.DF)
}

// pooled returns the common errors as one.
func (e MeasurementError) pooled() Component {
	out := Component{DF: math.Inf(1)}
	for _, c := range e.Common {
		out.StdErr = math.Hypot(out.StdErr, c.StdErr)
	}
	doubt := 0.0
	for _, c := range e.Common {
		if c.StdErr > 0 {
			share := c.StdErr / out.StdErr
			doubt += share * share * share * share / c.DF
		}
	}
	if doubt > 0 {
		out.DF = 1 / doubt
	}
	return out
}
