package bias

import (
	"errors"
	"fmt"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Reasons a comparison is refused, to be found with errors.Is.
var (
	ErrRepeatedID = errors.New("id is used more than once")
	ErrNoID       = errors.New("has no id")
	ErrNotCore    = errors.New("is not the density of a core")
)

// Codes of the warnings that functions of this package give.
const (
	WarnUnpaired stats.WarningCode = "unpaired"         // a location without its core, or a core without readings
	WarnSuspect  stats.WarningCode = "suspect-core"     // one difference does not fit the others
	WarnWide     stats.WarningCode = "wide-interval"    // the offset is known less well than wanted
	WarnNoSpread stats.WarningCode = "no-spread"        // the differences, or the cores about a line, have no scatter
	WarnUnequal  stats.WarningCode = "unequal-readings" // locations with different numbers of readings or cores
	WarnCopied   stats.WarningCode = "copied-readings"  // two locations show the same series of readings, or readings are those of the core
	WarnWet      stats.WarningCode = "wet-mat"          // read on a film of water, or damp among dry
)

// Options sets how [EstimateOffset] works. Nothing that moves the offset or its
// use has a default.
type Options struct {
	Level        float64                 // confidence of the interval, in (0, 1); required
	Rounding     units.Rounding          // of the offset in the unit of the readings; required
	Scope        density.Scope           // what the offset will hold for; required, base and days where they matter
	Made         density.Date            // day of the strip; not given if not known
	Source       string                  // who made the comparison, where and when; required
	OutlierAlpha float64                 // significance of the two-sided screen for a bad core, from 4 pairs; 0 means no screen
	Tolerance    units.DensityDifference // half-width that is good enough, in the unit of the readings; not given means it is not judged
	MinPairs     int                     // fewest pairs accepted; 0 means 3
	Copied       int                     // a series of at least this many readings that comes back at another location or is that of the cores is warned of; 0 means it is not looked for
}

func (o Options) minPairs() int {
	if o.MinPairs == 0 {
		return 3
	}
	return o.MinPairs
}

// checkUnit wants the tolerance in the unit of the readings, which is 0 where there are
// none.
func (o Options) checkUnit(fn string, unit units.DensityUnit) error {
	if o.Tolerance.IsZero() || unit == 0 || o.Tolerance.Unit() == unit {
		return nil
	}
	return stats.Refuse(fn, "o.Tolerance", o.Tolerance.String(), fmt.Errorf("%w (the readings are in %v)", density.ErrUnitMismatch, unit))
}

func (o Options) check(fn string) error {
	switch {
	case !(o.Level > 0 && o.Level < 1):
		return stats.Refuse(fn, "o.Level", fmt.Sprint(o.Level), stats.ErrLevel)
	case o.OutlierAlpha != 0 && !(o.OutlierAlpha > 0 && o.OutlierAlpha < 1):
		return stats.Refuse(fn, "o.OutlierAlpha", fmt.Sprint(o.OutlierAlpha), stats.ErrLevel)
	case o.MinPairs < 0 || o.MinPairs == 1:
		return stats.Refuse(fn, "o.MinPairs", fmt.Sprint(o.MinPairs), fmt.Errorf("%w; an interval needs 2 or more", stats.ErrParameter))
	case o.Copied < 0 || o.Copied == 1:
		return stats.Refuse(fn, "o.Copied", fmt.Sprint(o.Copied), fmt.Errorf("%w; one reading is no series", stats.ErrParameter))
	case !o.Tolerance.IsZero() && o.Tolerance.In(o.Tolerance.Unit()) <= 0:
		return stats.Refuse(fn, "o.Tolerance", o.Tolerance.String(), density.ErrNotPositive)
	}
	if err := o.Rounding.Validate(); err != nil {
		return stats.Refuse(fn, "o.Rounding", "", err)
	}
	return nil
}
