package density

import (
	"errors"
	"fmt"

	"github.com/densilot/densilot/stats"
)

// ErrBounds is the reason for refusing a policy range that has no bound or whose
// bounds are in the wrong order.
var ErrBounds = errors.New("a range needs a bound, and the low one not above the high one")

// WarnImplausible warns of a value that is possible but outside the range in which
// the caller expects it.
const WarnImplausible stats.WarningCode = "implausible"

// Ordered is what the quantities of package units have in common: they compare,
// print and know whether they are given.
type Ordered[Q any] interface {
	Compare(other Q) int
	IsZero() bool
	String() string
}

// Plausible is the range in which a project expects a quantity, both bounds
// included: the Gmm of a mix, the dry mass of a sample, a density in place. It is
// policy, so there is no default; a bound that is not given does not bind.
type Plausible[Q Ordered[Q]] struct {
	Low, High Q
}

// Validate refuses a range without any bound or with Low above High; the error
// wraps [ErrBounds].
func (p Plausible[Q]) Validate() error {
	if p.Low.IsZero() && p.High.IsZero() || !p.Low.IsZero() && !p.High.IsZero() && p.Low.Compare(p.High) > 0 {
		return stats.Refuse("density.Plausible.Validate", "p", p.String(), ErrBounds)
	}
	return nil
}

// Contains reports whether x is within the range; nothing is where x is not given.
func (p Plausible[Q]) Contains(x Q) bool {
	return !x.IsZero() && (p.Low.IsZero() || p.Low.Compare(x) <= 0) && (p.High.IsZero() || x.Compare(p.High) <= 0)
}

// Warnings returns a warning [WarnImplausible] where x is given and outside the
// range, to be added to those of a result; where names the record that x belongs
// to. A value outside is doubted, never changed.
func (p Plausible[Q]) Warnings(where string, x Q) []stats.Warning {
	if x.IsZero() || p.Contains(x) {
		return nil
	}
	return []stats.Warning{{Code: WarnImplausible, Where: where,
		Text: fmt.Sprintf("%s is not within the range that the project expects (%s); check the record for a slip", x.String(), p)}}
}

// String returns the range in words, such as "2.4 to 2.6" or "at least 2.4".
func (p Plausible[Q]) String() string {
	switch {
	case p.Low.IsZero() && p.High.IsZero():
		return "without bounds"
	case p.High.IsZero():
		return "at least " + p.Low.String()
	case p.Low.IsZero():
		return "at most " + p.High.String()
	}
	return p.Low.String() + " to " + p.High.String()
}
