package units

import (
	"math/big"
	"strings"
)

// scale describes one unit of a dimension exactly: a number x in this unit is
// (x + zero)·factor in the base unit. zero is nil except for temperatures.
type scale struct {
	name      string
	spellings []string // accepted beside name
	factor    *big.Rat
	zero      *big.Rat
}

// dimension is the table of the units that measure one kind of quantity. Unit
// number 0 is no unit, so scales[i-1] belongs to unit i.
type dimension struct {
	scales []scale
	ratio  [][]factor // ratio[from-1][to-1]
}

func newDimension(scales ...scale) *dimension {
	d := &dimension{scales: scales}
	for _, from := range scales {
		row := make([]factor, len(scales))
		for i, to := range scales {
			row[i] = newFactor(new(big.Rat).Quo(from.factor, to.factor))
		}
		d.ratio = append(d.ratio, row)
	}
	return d
}

func (d *dimension) has(u uint8) bool { return u > 0 && int(u) <= len(d.scales) }

func (d *dimension) name(u uint8) string {
	if !d.has(u) {
		return ""
	}
	return d.scales[u-1].name
}

// lookup finds a unit by its name or another accepted spelling; 0 is none.
func (d *dimension) lookup(text string) uint8 {
	for i, s := range d.scales {
		if s.name == text {
			return uint8(i + 1)
		}
		for _, other := range s.spellings {
			if other == text {
				return uint8(i + 1)
			}
		}
	}
	return 0
}

// names lists the units for a message: "lb/ft3, kg/m3 or g/cm3", or "none".
func (d *dimension) names() string {
	var all []string
	for _, s := range d.scales {
		all = append(all, s.name)
	}
	if all[0] == "" {
		return "none"
	}
	last := len(all) - 1
	return strings.Join(all[:last], ", ") + " or " + all[last]
}

// record says what text of a quantity looks like, for a message.
func (d *dimension) record() string {
	if d.scales[0].name == "" {
		return "a number like 2.512 without a unit"
	}
	return "a number like 147.2 and its unit (" + d.names() + ")"
}

// convert takes x exactly from one unit to another. As a step between two
// quantities it leaves the zero points out.
func (d *dimension) convert(x *big.Rat, from, to uint8, step bool) *big.Rat {
	f, t := d.scales[from-1], d.scales[to-1]
	y := new(big.Rat).Set(x)
	if !step && f.zero != nil {
		y.Add(y, f.zero)
	}
	y.Mul(y, f.factor).Quo(y, t.factor)
	if !step && t.zero != nil {
		y.Sub(y, t.zero)
	}
	return y
}

func rat(num, den int64) *big.Rat { return big.NewRat(num, den) }
