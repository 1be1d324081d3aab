package lot

import (
	"errors"
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
)

// Reasons a lot or a plan is refused, to be found with errors.Is. Too few results
// wrap [stats.ErrTooFew], numbers that are NaN or infinite [stats.ErrNotFinite],
// a rounding rule that is missing [units.ErrRounding].
var (
	ErrNoLimit     = errors.New("no limit given")
	ErrLimitOrder  = errors.New("the lower limit is not below the upper limit")
	ErrScale       = errors.New("values and limit are about a hundredfold apart; is one a percentage and the other a fraction?")
	ErrPlausible   = errors.New("outside the plausible range of the plan")
	ErrUnit        = errors.New("the limits of the plan are in another unit")
	ErrRepeatedID  = errors.New("id is used more than once")
	ErrNoID        = errors.New("has no id")
	ErrDigits      = errors.New("more than 30 digits")
	ErrNegative    = errors.New("must not be negative")
	ErrMissing     = errors.New("is missing")
	ErrOrder       = errors.New("must be above the one before")
	ErrNotCovered  = errors.New("below the start of the schedule")
	ErrWeights     = errors.New("weights must be positive and add up to 1")
	ErrEmptyPlan   = errors.New("the plan is empty; make it with NewPlan")
	ErrOutOfDomain = errors.New("out of range")
	ErrUnused      = errors.New("does not belong to what was chosen")
	ErrText        = errors.New("is not a line of plain text: at most 1000 bytes, no blank at its ends and nothing invisible")
	ErrRetest      = errors.New("retest is not allowed")
	ErrRemoval     = errors.New("result may not be removed")
	ErrOtherLot    = errors.New("is of another lot")
	ErrOtherPlan   = errors.New("is by another plan")
	ErrNoInterval  = errors.New("the measure is not the percent within limits of a mean and a standard deviation")
	ErrNoSchedule  = errors.New("the plan has no pay schedule")
	ErrNoNeighbour = errors.New("there is no lot to join")
	ErrNoRange     = errors.New("the ranges of all groups are zero although the results differ")
	ErrNoConstant  = errors.New("the plan has no range constant")
)

// errNoNumber is for the zero value of a number, which decimal.Zero is too.
var errNoNumber = fmt.Errorf("%w; write a recorded 0 as decimal.New(0, 0)", ErrMissing)

// Codes of the warnings that functions of this package give.
const (
	WarnZeroSpread    stats.WarningCode = "zero-spread"    // all results are equal
	WarnAtLimit       stats.WarningCode = "at-limit"       // all results are equal to a limit
	WarnRounding      stats.WarningCode = "rounding"       // the decision depends on rounding
	WarnTwoGroups     stats.WarningCode = "two-groups"     // a gap parts the results in two
	WarnOutlier       stats.WarningCode = "outlier"        // the screen of the plan flags a result
	WarnFarResult     stats.WarningCode = "far-result"     // one result alone makes much of the spread
	WarnMixedOrigins  stats.WarningCode = "mixed-origins"  // results of one lot were measured in different ways
	WarnIndividual    stats.WarningCode = "individual"     // a result is outside the limits for single results
	WarnSmallLot      stats.WarningCode = "small-lot"      // judged by the rule for small lots
	WarnNoQuantity    stats.WarningCode = "no-quantity"    // nothing is paid for a lot, or a sublot, without quantity
	WarnReopened      stats.WarningCode = "reopened"       // a lot that could stand alone is judged anew
	WarnScreenSkipped stats.WarningCode = "screen-skipped" // too few results for the screen of the plan
)

// mostFactor is beyond what any contract pays.
var mostFactor = decimal.NewFromInt(10)

// errPercent is for a pay factor that must have been meant in percent.
var errPercent = needs(ErrOutOfDomain, "a factor of 1 for full pay, and at most 10; is it in percent?")

// checkFactor refuses a pay factor that nobody pays.
func checkFactor(f decimal.Decimal) error {
	switch {
	case f.Sign() < 0:
		return ErrNegative
	case f.GreaterThan(mostFactor):
		return errPercent
	}
	return nil
}

// needs is a reason with what would have been taken.
func needs(reason error, what string) error { return fmt.Errorf("%w; need %s", reason, what) }

func refuseAt(fn, arg string, index int, value string, err error) error {
	return &stats.InputError{Func: fn, Arg: arg, Index: index, Value: value, Err: err}
}
