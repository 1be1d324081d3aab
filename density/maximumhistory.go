package density

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Reasons a determination of Gmm, or a question for the maximum density, is
// refused.
var (
	ErrNoGmm      = errors.New("no determination of Gmm applies")
	ErrRepeatedID = errors.New("id is used more than once")
	ErrUnknownID  = errors.New("no such determination in use")
	ErrNoVersion  = errors.New("no such version")
)

// WarnFewGmm warns that a moving average has not enough determinations yet.
const WarnFewGmm stats.WarningCode = "few-gmm"

// Determination is one test of the maximum specific gravity of a mix.
type Determination struct {
	ID       string
	At       time.Time             // when the sample was taken, with its offset from UTC
	Sublot   string                // that the sample is from; needed by OfSublot
	Day      Date                  // of production, needed by OfDay; that of At, except that a night shift is one day
	Gmm      units.SpecificGravity // as recorded
	Replaces string                // id of the one this puts right, "" for none
	Reason   string                // why it was put right; needed with Replaces
}

// MaximumHistory is the determinations of Gmm of one mix in the order they became
// known, with the rule that makes maximum densities of them. Make one with
// [NewMaximumHistory]. It never changes: [MaximumHistory.Add] returns the next
// version and keeps all earlier ones, so that a result can be defended with what
// was known when it was reported, and any number of goroutines may use it.
type MaximumHistory struct {
	rule   MaximumRule
	screen GmmScreen
	all    []Determination // shared between versions, never written to
	counts []int           // counts[v-1] is how many of all belong to version v
}

// NewMaximumHistory returns version 0, without a determination.
//
// Errors are [*stats.InputError] as of [MaximumRule.Validate], or around
// [ErrBounds], [units.ErrRange] or [units.ErrDigits] for the screen.
func NewMaximumHistory(rule MaximumRule, screen GmmScreen) (MaximumHistory, error) {
	const fn = "density.NewMaximumHistory"
	if err := errors.Join(rule.validate(fn), screen.validate(fn)); err != nil {
		return MaximumHistory{}, err
	}
	return MaximumHistory{rule: rule, screen: screen}, nil
}

// Add returns the next version, with the determinations that became known: in the
// order of their arrival, whatever the order of their samples. One that replaces
// another takes its place from this version on; the replaced one stays in the
// record. Which results change is for [MaximumHistory.Changes] to say.
//
// Errors are [*stats.InputError] with the id, around [units.ErrNotGiven] for an
// id, time, Gmm, reason, or the sublot or day that the rule needs, [ErrText],
// [ErrNotPositive], [ErrRepeatedID], [ErrUnknownID] for a replacement of what is not
// in use, or [stats.ErrTooFew] for none.
func (h MaximumHistory) Add(ds ...Determination) (MaximumHistory, error) {
	const fn = "density.MaximumHistory.Add"
	if err := h.rule.validate(fn); err != nil {
		return MaximumHistory{}, err
	}
	if len(ds) == 0 {
		return MaximumHistory{}, stats.Refuse(fn, "ds", "", fmt.Errorf("%w (have 0, need 1)", stats.ErrTooFew))
	}
	next := h
	next.all = slices.Clip(h.all) // so that append copies
	for i, d := range ds {
		if field, err := next.refusal(d); err != nil {
			return MaximumHistory{}, &stats.InputError{Func: fn, Arg: "ds", Index: i, ID: d.ID, Err: fmt.Errorf("%s: %w", field, err)}
		}
		next.all = append(next.all, d)
	}
	next.counts = append(slices.Clip(h.counts), len(next.all))
	return next, nil
}

// refusal returns why d cannot join, with the field at fault.
func (h MaximumHistory) refusal(d Determination) (field string, err error) {
	for _, f := range []struct{ name, text string }{{"ID", d.ID}, {"Sublot", d.Sublot}, {"Reason", d.Reason}} {
		if checkText("", f.name, -1, f.text) != nil {
			return f.name, ErrText
		}
	}
	switch {
	case d.ID == "":
		return "ID", units.ErrNotGiven
	case slices.ContainsFunc(h.all, func(o Determination) bool { return o.ID == d.ID }):
		return "ID", ErrRepeatedID
	case d.At.IsZero():
		return "At", units.ErrNotGiven
	case h.rule.Basis == OfSublot && d.Sublot == "":
		return "Sublot", units.ErrNotGiven
	case h.rule.Basis == OfDay && d.Day.IsZero():
		return "Day", units.ErrNotGiven
	case d.Gmm.IsZero():
		return "Gmm", units.ErrNotGiven
	case d.Gmm.Float64() <= 0:
		return "Gmm " + d.Gmm.String(), ErrNotPositive
	case d.Replaces != "" && d.Reason == "":
		return "Reason", units.ErrNotGiven
	case d.Replaces != "" && !slices.ContainsFunc(h.InUse(), func(o Determination) bool { return o.ID == d.Replaces }):
		return "Replaces " + strconv.Quote(d.Replaces), ErrUnknownID
	}
	return "", nil
}

// Version returns how many times determinations were added.
func (h MaximumHistory) Version() int { return len(h.counts) }

// Rule returns the rule of all versions.
func (h MaximumHistory) Rule() MaximumRule { return h.rule }

// AtVersion returns an earlier version, from 0 to the version of h, as it was. The
// error is a [*stats.InputError] around [ErrNoVersion].
func (h MaximumHistory) AtVersion(version int) (MaximumHistory, error) {
	if version < 0 || version > len(h.counts) {
		return MaximumHistory{}, stats.Refuse("density.MaximumHistory.AtVersion", "version", strconv.Itoa(version), ErrNoVersion)
	}
	earlier := h
	earlier.all, earlier.counts = nil, h.counts[:version]
	if version > 0 {
		earlier.all = h.all[:h.counts[version-1]]
	}
	return earlier, nil
}

// Determinations returns all determinations in the order they became known, those
// that were replaced among them. The slice belongs to the caller.
func (h MaximumHistory) Determinations() []Determination { return slices.Clone(h.all) }

// InUse returns the determinations that have not been replaced, by the time of
// their samples; those of one instant in the order they became known. The slice
// belongs to the caller.
func (h MaximumHistory) InUse() []Determination {
	replaced := make(map[string]bool)
	for _, d := range h.all {
		replaced[d.Replaces] = true
	}
	used := slices.DeleteFunc(slices.Clone(h.all), func(d Determination) bool { return replaced[d.ID] })
	slices.SortStableFunc(used, func(a, b Determination) int { return a.At.Compare(b.At) })
	return used
}

// Warnings returns the doubts of the screen about the determinations in use, each
// compared with all others in use.
func (h MaximumHistory) Warnings() []stats.Warning {
	var ws []stats.Warning
	used := h.InUse()
	for _, d := range used {
		ws = append(ws, h.screen.flags(d, used)...)
	}
	return ws
}
