package main

import (
	_ "embed"
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
)

//go:embed plan.json
var plan []byte

// demo returns the contract and the lots of an invented job in the order in which
// they came in. Lot 22 came in again, when its maximum density of the day had been
// found too low.
func demo() (lot.Plan, []lot.Lot, error) {
	p, err := lot.ParsePlan(plan)
	return p, []lot.Lot{
		demoLot("21", "93.4", "94.2", "92.9", "93.8", "94.5"),
		demoLot("22", "92.6", "93.1", "91.8", "92.9", "93.5"),
		demoLot("23", "90.1", "92.2", "89.4", "91.7", "90.8"),
		demoLot("22", "92.3", "92.8", "91.5", "92.6", "93.2"),
	}, err
}

// demoLot has a result for each value, of 500 t each.
func demoLot(id string, values ...string) lot.Lot {
	l := lot.Lot{ID: id, Unit: "%"}
	for i, v := range values {
		l.Results = append(l.Results, lot.Result{ID: fmt.Sprintf("%s-%d", id, i+1), Value: decimal.RequireFromString(v), Quantity: decimal.NewFromInt(500), Origin: "core"})
	}
	return l
}
