package density

import (
	"fmt"
	"math/big"
	"slices"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// WarnFarGmm warns of a Gmm that is further from the others of its mix than the
// policy expects, such as one that was mistyped.
const WarnFarGmm stats.WarningCode = "far-gmm"

// GmmScreen is the policy by which determinations of Gmm are doubted. It flags and
// never drops: a person puts a slip right with [Determination.Replaces]. The zero
// value doubts nothing.
type GmmScreen struct {
	Range    Plausible[units.SpecificGravity] // in which the mix is expected; without bounds it does not bind
	Distance decimal.Decimal                  // most that one may be from the median of the others; 0 does not bind
}

func (s GmmScreen) validate(fn string) error {
	if s.Range != (Plausible[units.SpecificGravity]{}) {
		if err := s.Range.Validate(); err != nil {
			return stats.Refuse(fn, "screen.Range", s.Range.String(), ErrBounds)
		}
	}
	return notNegative(fn, "screen.Distance", s.Distance)
}

// flags returns the doubts about d among the determinations of its mix.
func (s GmmScreen) flags(d Determination, all []Determination) []stats.Warning {
	ws := s.Range.Warnings(d.ID, d.Gmm)
	others := medianOfOthers(d.ID, all)
	if s.Distance.IsZero() || others == nil || s.near(d.Gmm, others) {
		return ws
	}
	text := fmt.Sprintf("%v is more than %v from %s, the median of the others; check the record for a slip", d.Gmm, s.Distance, units.ExactText(others))
	if slip := s.swapped(d.Gmm, others); slip != "" {
		text += "; with two digits swapped it would be " + slip
	}
	return append(ws, stats.Warning{Code: WarnFarGmm, Where: d.ID, Text: text})
}

func (s GmmScreen) near(g units.SpecificGravity, others *big.Rat) bool {
	distance := new(big.Rat).Sub(g.Exact(), others)
	return distance.Abs(distance).Cmp(s.Distance.Rat()) <= 0
}

// swapped returns the gravity near the others that g becomes when two digits beside
// each other change places, the usual slip of a typist; "" if there is none.
func (s GmmScreen) swapped(g units.SpecificGravity, others *big.Rat) string {
	text := []byte(g.String())
	for i := range len(text) - 1 {
		other := slices.Clone(text)
		other[i], other[i+1] = text[i+1], text[i]
		if h, err := units.ParseSpecificGravity(string(other)); err == nil && h != g && s.near(h, others) {
			return string(other)
		}
	}
	return ""
}

// medianOfOthers returns the exact median Gmm of all but id; nil if there is none.
func medianOfOthers(id string, all []Determination) *big.Rat {
	var others []units.SpecificGravity
	for _, d := range all {
		if d.ID != id {
			others = append(others, d.Gmm)
		}
	}
	if len(others) == 0 {
		return nil
	}
	slices.SortFunc(others, units.SpecificGravity.Compare)
	low, high := others[(len(others)-1)/2].Exact(), others[len(others)/2].Exact()
	return low.Mul(low.Add(low, high), big.NewRat(1, 2))
}
