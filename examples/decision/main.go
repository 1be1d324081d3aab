// Decision judges a lot by a contract; both are JSON files. It prints the decision
// and the working that lets a person redo it.
//
//	go run ./examples/decision examples/decision/plan.json examples/decision/lot.json
//
// Contract and lot are invented. The contract documents and the responsible
// engineer govern.
package main

import (
	"flag"
	"fmt"
	"log"
	"os"

	"github.com/densilot/densilot/lot"
)

func main() {
	flag.Parse()
	plan := must(lot.ParsePlan(must(os.ReadFile(flag.Arg(0)))))
	results := must(lot.ParseLot(must(os.ReadFile(flag.Arg(1)))))
	e := must(plan.Evaluate(results))
	fmt.Printf("lot %s: PWL %s, %v\n", e.Lot, e.PWL.Used, e.Decision)
	if e.Payment != nil {
		fmt.Println("pay", e.Payment.Total.StringFixed(2), plan.Terms().Currency)
	}
	for _, warning := range e.Warnings {
		fmt.Println("warning:", warning)
	}
	fmt.Print(lot.WorkingText(e.Working))
	fmt.Println("A calculation, not a ruling: the contract documents and the responsible engineer govern.")
}

func must[T any](value T, err error) T {
	if err != nil {
		log.Fatal(err)
	}
	return value
}
