package stats

import "flag"

// long makes the simulations of coverage run longer: go test ./stats -long.
var long = flag.Bool("long", false, "longer simulations of coverage")
