package density

import (
	"errors"
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Reasons the voids of a mix are refused, to be found with errors.Is.
var (
	ErrPercentage = errors.New("must be a percentage of more than 0 and at most 100")
	ErrVoids      = errors.New("the voids do not add up; check Gmb, Gmm, Gsb and the aggregate content")
)

// Mix holds what the voids of a compacted mix are computed from. The specific
// gravities are at one temperature.
type Mix struct {
	Gmb       units.SpecificGravity // bulk, of the compacted mix
	Gmm       units.SpecificGravity // maximum, of the loose mix
	Gsb       units.SpecificGravity // bulk, of the combined aggregate
	Aggregate decimal.Decimal       // Ps, in percent of the mass of the mix, more than 1 and at most 100
}

// VoidsRounding says how the voids are rounded (0.1 % is usual). Each needs a
// number of places.
type VoidsRounding struct {
	AirVoids, VMA, VFA units.Rounding
}

// Voids are the voids of a compacted mix as rounded, with the working.
type Voids struct {
	AirVoids decimal.Decimal // Va, in percent of the volume of the mix
	VMA      decimal.Decimal // voids in mineral aggregate, likewise
	VFA      decimal.Decimal // voids filled with asphalt, in percent of VMA
	Working  []units.Step
}

// AuditVoids returns air voids, voids in mineral aggregate and voids filled with
// asphalt in exact arithmetic, each rounded by its rule before it is used further:
//
//	Va = 100·(Gmm - Gmb)/Gmm,   VMA = 100 - Gmb·Ps/Gsb,   VFA = 100·(VMA - Va)/VMA
//
// It assumes that the specific gravities are of one mix; Gmb of more than Gmm, or
// more air voids than voids in mineral aggregate, exactly or as rounded, are refused.
//
// Errors are [*stats.InputError] around [units.ErrNotGiven], [ErrNotPositive],
// [ErrPercentage], [ErrVoids], [units.ErrAbsolute], [units.ErrRounding],
// [units.ErrDigits] or [units.ErrRange].
//
// Source: Asphalt Institute MS-2, AASHTO R 35, AASHTO T 269 (formulas from memory).
func AuditVoids(m Mix, r VoidsRounding) (Voids, error) {
	const fn = "density.AuditVoids"
	if err := m.check(fn, r); err != nil {
		return Voids{}, err
	}
	gmb, gmm, gsb, ps := m.Gmb.Exact(), m.Gmm.Exact(), m.Gsb.Exact(), m.Aggregate.Rat()
	var w Gravity // for its working
	va := percentOf(new(big.Rat).Sub(gmm, gmb), gmm)
	vma := new(big.Rat).Mul(gmb, ps)
	vma.Sub(hundred(), vma.Quo(vma, gsb))
	if err := addUp(fn, va, vma); err != nil {
		return Voids{}, err
	}
	va = w.step("air voids", "100·(Gmm - Gmb)/Gmm", numbersOf("100 x (%s - %s)/%s", gmm, gmb, gmm), va, r.AirVoids, " %")
	vma = w.step("VMA", "100 - Gmb·Ps/Gsb", numbersOf("100 - %s x %s/%s", gmb, ps, gsb), vma, r.VMA, " %")
	if err := addUp(fn, va, vma); err != nil {
		return Voids{}, err
	}
	vfa := percentOf(new(big.Rat).Sub(vma, va), vma)
	vfa = w.step("VFA", "100·(VMA - Va)/VMA", numbersOf("100 x (%s - %s)/%s", vma, va, vma), vfa, r.VFA, " %")
	return Voids{AirVoids: toDecimal(va, r.AirVoids), VMA: toDecimal(vma, r.VMA), VFA: toDecimal(vfa, r.VFA), Working: w.Working}, nil
}

// addUp refuses voids that no mix has, before rounding, which could hide them, and
// after it.
func addUp(fn string, va, vma *big.Rat) error {
	if vma.Sign() <= 0 || va.Sign() < 0 || va.Cmp(vma) > 0 {
		return stats.Refuse(fn, "m", numbersOf("air voids %s %%, VMA %s %%", va, vma), ErrVoids)
	}
	return nil
}

func (m Mix) check(fn string, r VoidsRounding) error {
	if err := errors.Join(places(fn, "r.AirVoids", r.AirVoids), places(fn, "r.VMA", r.VMA), places(fn, "r.VFA", r.VFA)); err != nil {
		return err
	}
	if err := errors.Join(gravityGiven(fn, "m.Gmb", m.Gmb), gravityGiven(fn, "m.Gmm", m.Gmm), gravityGiven(fn, "m.Gsb", m.Gsb)); err != nil {
		return err
	}
	if err := notNegative(fn, "m.Aggregate", m.Aggregate); err != nil {
		return err
	}
	if m.Aggregate.IsZero() || m.Aggregate.GreaterThan(decimal.NewFromInt(100)) {
		return stats.Refuse(fn, "m.Aggregate", m.Aggregate.String(), ErrPercentage)
	}
	return notFraction(fn, "m.Aggregate", m.Aggregate)
}

// notFraction refuses 0.92 where 92 % is meant: no compaction and no aggregate content
// is of 1 % or less, and every mat would pass.
func notFraction(fn, arg string, percent decimal.Decimal) error {
	if percent.GreaterThan(decimal.NewFromInt(1)) {
		return nil
	}
	return stats.Refuse(fn, arg, percent.String(), fmt.Errorf("%w; this looks like a fraction", ErrPercentage))
}

func hundred() *big.Rat { return big.NewRat(100, 1) }

// percentOf returns 100·part/whole and overwrites part.
func percentOf(part, whole *big.Rat) *big.Rat { return part.Mul(part.Quo(part, whole), hundred()) }
