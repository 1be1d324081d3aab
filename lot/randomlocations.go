package lot

import (
	"fmt"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Place is a random number and the place that it stands for on one axis.
type Place struct {
	Number decimal.Decimal // at least 0 and below 1
	Into   decimal.Decimal // Number times the size of the sublot or the width, rounded
	At     decimal.Decimal // Into from the start of the sublot; equal to Into across
}

// Discarded is a place that was drawn and not used.
type Discarded struct {
	Place
	Axis   string // its name
	Reason string
}

// Location is where one sublot is sampled.
type Location struct {
	Sublot    string
	From      decimal.Decimal // where the sublot begins
	Size      decimal.Decimal
	Weight    float64 // Size as a share of the lot, for a mean over unequal sublots
	Along     Place
	Across    *Place      // nil where no offset was asked for
	Discarded []Discarded // in the order drawn, along before across
}

// FieldSheet is what a technician takes to the road. Text and records are made by
// its methods.
type FieldSheet struct {
	Terms     SamplingTerms
	Seed      uint64
	Locations []Location
}

// PlaceOf returns the place that a random number stands for,
//
//	into = number·size, rounded,   at = start + into
//
// for those who draw from a printed table or with dice. number is at least 0 and
// below 1; start, size (more than 0) and the result are in one unit. [units.Absolute]
// keeps the product as it is.
//
// Errors are [*stats.InputError] around [ErrDigits], [stats.ErrParameter] or
// [units.ErrRounding].
//
// Source: state method S 605-99, whose example the tests recompute.
func PlaceOf(number, start, size decimal.Decimal, r units.Rounding) (Place, error) {
	const fn = "lot.PlaceOf"
	switch {
	case !fewDigits(number):
		return Place{}, stats.Refuse(fn, "number", "", ErrDigits)
	case number.Sign() < 0 || number.Cmp(decimal.NewFromInt(1)) >= 0:
		return Place{}, stats.Refuse(fn, "number", number.String(), needs(stats.ErrParameter, "at least 0 and less than 1"))
	case !fewDigits(start):
		return Place{}, stats.Refuse(fn, "start", "", ErrDigits)
	}
	if err := checkSize(size); err != nil {
		return Place{}, stats.Refuse(fn, "size", "", err)
	}
	if err := r.Validate(); err != nil {
		return Place{}, stats.Refuse(fn, "r", "", err)
	}
	return placeOf(number, start, size, r), nil
}

// placeOf is PlaceOf for arguments that were checked.
func placeOf(number, start, size decimal.Decimal, r units.Rounding) Place {
	into := number.Mul(size)
	if r.Method != units.Absolute {
		into = toDecimal(roundRat(r, into.Rat()), r)
	}
	return Place{Number: number, Into: into, At: start.Add(into)}
}

// mostDraws is how many numbers are drawn for one place before the exclusions are
// taken to leave none. They leave less than one thousandth then, or it failed with
// a probability of 5e-5 and another seed will do.
const mostDraws = 10_000

// RandomLocations draws one place in each sublot of a lot, stratified so: sublot by
// sublot, a random number of six decimals times the size of the sublot, and another
// times the width of the mat, each rounded by the rule of its axis. A place in
// an exclusion, or one rounded to the far end, is discarded and another number drawn.
// So a place is uniform over what is left, but for the first step of rounding in a
// sublot, which has half its share. More samples in a sublot need smaller sublots.
//
// The numbers are the remainders by 1,000,000 of the outputs of SplitMix64 from the
// seed,
//
//	s ← s + 9e3779b97f4a7c15,  z ← (s ⊕ s>>30)·bf58476d1ce4e5b9,
//	z ← (z ⊕ z>>27)·94d049bb133111eb,  output z ⊕ z>>31    (hexadecimal, mod 2^64)
//
// without those of 18446744073709000000 and more, which would favour some numbers.
// The same terms and seed give the same places for ever; sublots added at the end
// move none before them. A seed serves one lot, and is chosen where neither party
// can foresee or try it: by dice in sight of both, after the lot is laid.
//
// Where sublots differ in size a plain mean of their results is not the mean of the
// lot; Weight of each location says what it stands for.
//
// Errors are [*stats.InputError] around [ErrNoID], [ErrRepeatedID], [ErrMissing],
// [ErrText], [ErrDigits], [stats.ErrTooFew] (no sublot), [stats.ErrParameter] (a size,
// width or exclusion, or one step of rounding for a whole sublot), [units.ErrRounding],
// [units.ErrRange] or [ErrNoRoom]. t is not changed.
//
// Source: stratified random sampling as in ASTM D3665; discarding as in state method
// S 605-99; the generator by Steele, Lea and Flood, OOPSLA 2014.
func RandomLocations(t SamplingTerms, seed uint64) (FieldSheet, error) {
	const fn = "lot.RandomLocations"
	if err := t.check(fn); err != nil {
		return FieldSheet{}, err
	}
	sheet := FieldSheet{Terms: t.clone(), Seed: seed}
	total := decimal.Zero
	for _, s := range t.Sublots {
		total = total.Add(s.Size)
	}
	from, g := t.Start, &splitMix64{seed}
	for i, s := range t.Sublots {
		l := Location{Sublot: s.ID, From: from, Size: s.Size, Weight: shareOf(s.Size, total)}
		if err := l.draw(g, t); err != nil {
			return FieldSheet{}, &stats.InputError{Func: fn, Arg: "t.Sublots", Index: i, ID: s.ID, Err: err}
		}
		sheet.Locations = append(sheet.Locations, l)
		from = from.Add(s.Size)
	}
	return sheet, nil
}

func shareOf(size, total decimal.Decimal) float64 {
	share := size.Rat()
	f, _ := share.Quo(share, total.Rat()).Float64()
	return f
}

func (l *Location) draw(g *splitMix64, t SamplingTerms) error {
	var err error
	if l.Along, err = l.place(g, t.Along, l.From, l.Size); err != nil || t.Across == nil {
		return err
	}
	across, err := l.place(g, t.Across.Axis, decimal.Zero, t.Across.Width)
	l.Across = &across
	return err
}

// place draws until a place may be used.
func (l *Location) place(g *splitMix64, a Axis, start, size decimal.Decimal) (Place, error) {
	if a.Rounding.Method != units.Absolute && decimal.New(1, int32(-a.Rounding.Places)).Cmp(size) >= 0 {
		return Place{}, fmt.Errorf("%s: %w: rounded %v, %s has one place only", a.Name, stats.ErrParameter, a.Rounding, digits(size))
	}
	for range mostDraws {
		p := placeOf(g.number(), start, size, a.Rounding)
		if !fewDigits(start) || !fewDigits(p.Into) || !fewDigits(p.At) {
			return Place{}, fmt.Errorf("%s: %w in a place; round it", a.Name, ErrDigits)
		}
		reason := a.excluded(p.At)
		if reason == "" && p.Into.Cmp(size) >= 0 {
			reason = "rounded to the end"
		}
		if reason == "" {
			return p, nil
		}
		l.Discarded = append(l.Discarded, Discarded{p, a.Name, reason})
	}
	return Place{}, fmt.Errorf("%s: %w (%d numbers drawn)", a.Name, ErrNoRoom, mostDraws)
}
