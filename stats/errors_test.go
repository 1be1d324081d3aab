package stats_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/densilot/densilot/stats"
)

// An error that another function made, wrapped or not, gets new names and keeps its
// place and reason; one of another kind, and none, stay.
func TestRenamed(t *testing.T) {
	_, inner := stats.MeanInterval([]float64{1, 2, 3}, 95)
	plain := errors.New("plain")
	for _, tt := range []struct {
		err     error
		fn, arg string
		want    string
	}{
		{inner, "lot.F", "", "lot.F: level = 95: " + stats.ErrLevel.Error()},
		{inner, "lot.F", "o.Level", "lot.F: o.Level = 95: " + stats.ErrLevel.Error()},
		{fmt.Errorf("wrapped: %w", inner), "lot.F", "", "lot.F: level = 95: " + stats.ErrLevel.Error()},
		{&stats.InputError{Func: "f", Arg: "xs", Index: 2, ID: "S3", Err: stats.ErrNotFinite}, "g", "ys", `g: ys[2] "S3": ` + stats.ErrNotFinite.Error()},
		{plain, "lot.F", "o", "plain"},
	} {
		if got := stats.Renamed(tt.err, tt.fn, tt.arg); got.Error() != tt.want {
			t.Errorf("%v becomes %v, want %s", tt.err, got, tt.want)
		}
	}
	if err := stats.Renamed(nil, "lot.F", ""); err != nil {
		t.Errorf("no error becomes %v", err)
	}
	if want := "stats.MeanInterval: level = 95: " + stats.ErrLevel.Error(); inner.Error() != want {
		t.Errorf("the error itself has changed to %v", inner)
	}
}

func ExampleInputError_Place() {
	_, err := stats.MeanInterval([]float64{2.2, math.NaN()}, 0.95)
	var e *stats.InputError
	if errors.As(err, &e) {
		fmt.Printf("lot 7: %s: %v\n", e.Place(), e.Err)
	}
	// Output: lot 7: xs[1] = NaN: value is NaN or infinite
}

func ExampleRefuse() {
	fmt.Println(stats.Refuse("lot.Accept", "o.Level", "95", stats.ErrLevel))
	// Output: lot.Accept: o.Level = 95: must be a fraction between 0 and 1, both excluded
}

func ExampleRenamed() {
	_, err := stats.MeanInterval([]float64{2.2}, 0.95)
	fmt.Println(err)
	fmt.Println(stats.Renamed(err, "lot.Accept", "lot.Results"))
	// Output:
	// stats.MeanInterval: xs: too few values (have 1, need 2)
	// lot.Accept: lot.Results: too few values (have 1, need 2)
}
