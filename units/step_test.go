package units_test

import (
	"errors"
	"math/big"
	"testing"

	"github.com/densilot/densilot/units"
)

// Digits before the mark are those of the number: cut, never rounded. By pencil.
func TestExactTextCuts(t *testing.T) {
	for _, tt := range []struct{ x, want string }{
		{"2/3", "0.666666666…"}, {"-2/3", "-0.666666666…"}, {"1.0000000009", "1.000000000…"}, {"-1/10000000000", "-0.000000000…"},
		{"299999999999/300000000000", "0.999999999…"}, {"99.9999999999", "99.999999999…"}, {"0.123456789", "0.123456789"}, {"-12.50", "-12.5"}, {"0", "0"},
	} {
		x, ok := new(big.Rat).SetString(tt.x)
		if got := units.ExactText(x); !ok || got != tt.want {
			t.Errorf("%s: %s, want %s", tt.x, got, tt.want)
		}
	}
}

// Money and quotients need a number of places.
func TestRoundingValidatePlaces(t *testing.T) {
	for _, tt := range []struct {
		r    units.Rounding
		want error
	}{
		{units.Rounding{Method: units.HalfUp, Places: 2}, nil},
		{units.Rounding{Method: units.Absolute}, units.ErrAbsolute},
		{units.Rounding{}, units.ErrRounding},
		{units.Rounding{Method: units.HalfEven, Places: 31}, units.ErrRange},
	} {
		if err := tt.r.ValidatePlaces(); !errors.Is(err, tt.want) {
			t.Errorf("%v: %v, want %v", tt.r, err, tt.want)
		}
	}
}
