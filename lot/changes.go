package lot

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/densilot/densilot/stats"
)

// Change is one thing that differs between two evaluations of a lot.
type Change struct {
	What          string // such as "pay"
	Before, After string // as used, "none" where there is none
}

// String returns the change in one line, such as "pay: 164800.00, now 169744.00".
func (c Change) String() string { return c.What + ": " + c.Before + ", now " + c.After }

// Changes lists what a late result, a corrected maximum density or a retest changed:
// the differences between an evaluation that was made before and one made after, in
// the order in which a lot is worked out. It is empty where nothing that was used
// differs. Numbers are compared as they were used, after rounding.
//
// Errors are [*stats.InputError] around [ErrOtherLot] for evaluations of lots that do
// not have an id in common.
func Changes(before, after Evaluation) ([]Change, error) {
	if !before.concerns(after) {
		return nil, stats.Refuse("lot.Changes", "after.Lot", strconv.Quote(after.Lot), fmt.Errorf("%w (%q)", ErrOtherLot, before.Lot))
	}
	a, b := before.used(), after.used()
	var changes []Change
	for i := range a {
		if a[i].value != b[i].value {
			changes = append(changes, Change{a[i].what, a[i].value, b[i].value})
		}
	}
	return changes, nil
}

// concerns reports whether both are about at least one lot.
func (e Evaluation) concerns(other Evaluation) bool {
	lots := append([]string{other.Lot}, other.Joined...)
	return slices.ContainsFunc(append([]string{e.Lot}, e.Joined...), func(id string) bool { return slices.Contains(lots, id) })
}

type usedValue struct{ what, value string }

// used lists what decided, as it was used.
func (e Evaluation) used() []usedValue {
	var left []string
	for _, o := range e.LeftOut {
		left = append(left, o.ID+" ("+o.Why+")")
	}
	all := []usedValue{{"plan", e.Plan}, {"lot", e.Lot}, {"measure", e.Method.String()}, {"results", list(e.Used)}, {"left out", list(left)},
		{"mean", e.Mean.Used}, {"standard deviation", noneIfEmpty(e.StdDev.Used)}, {e.Method.short(), e.Measure.Used},
		{"second pass", usedOrNone(e.Second)}, {"outside single limits", list(e.OutsideSingle)}, {"decision", e.Decision.String()}, {"pay factor", usedOrNone(e.Factor)}}
	quantity, pay := "none", "none"
	if e.Payment != nil {
		quantity, pay = digits(e.Payment.Quantity), digits(e.Payment.Total)
	}
	return append(all, usedValue{"quantity", quantity}, usedValue{"pay", pay})
}

func list(ids []string) string { return noneIfEmpty(strings.Join(ids, ", ")) }

func noneIfEmpty(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

func usedOrNone(n *Number) string {
	if n == nil {
		return "none"
	}
	return noneIfEmpty(n.Used)
}
