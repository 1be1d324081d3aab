package stats

import "flag"

// long makes the simulations run in full; without it they sample:
// go test ./stats -args -long.
var long = flag.Bool("long", false, "run the simulations in full")

// Long reports that to the tests outside of the package.
func Long() bool { return *long }
