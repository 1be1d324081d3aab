package road

import (
	"bytes"
	"encoding/gob"
	"maps"
	"slices"

	"github.com/densilot/densilot/stats"
)

// Tally is what is known after some of the contracts. Two of them merge into that of
// both; merged in the order of the contracts they give the same bits however the
// contracts were spread.
type Tally struct {
	Records int
	Aside   map[Fault]int
	Years   map[int]*Year
	Checks  map[Quarter]*stats.Accumulator // of gauges, in lb/ft3
}

// Year is the quality of the work of one year.
type Year struct {
	Lots, TooFew, Rejected int
	Results                stats.Accumulator // percent compaction of the sublots that count
	PWL, Factor            stats.Accumulator // of the lots that are judged
}

// Quarter is three months of one gauge.
type Quarter struct{ Gauge, Number int } // Number counts from the first year

// NewTally returns a tally of nothing.
func NewTally() *Tally {
	return &Tally{Aside: map[Fault]int{}, Years: map[int]*Year{}, Checks: map[Quarter]*stats.Accumulator{}}
}

// AddAside counts a line that is not judged.
func (t *Tally) AddAside(a Aside) {
	t.Records++
	t.Aside[a.Fault]++
}

// AddLot takes in a lot.
func (t *Tally) AddLot(l Lot) {
	for _, a := range l.Aside {
		t.AddAside(a)
	}
	t.Records += len(l.Records)
	year := part(t.Years, l.Records[0].Day.Year())
	year.Lots++
	for _, r := range l.Records {
		if r.Checked {
			part(t.Checks, quarterOf(r)).Add(r.Check)
		}
	}
	if !l.Judged {
		year.TooFew++
		return
	}
	if l.Reject {
		year.Rejected++
	}
	for _, r := range l.Records {
		year.Results.Add(r.Percent)
	}
	year.PWL.Add(l.PWL)
	year.Factor.Add(l.Factor)
}

func quarterOf(r Record) Quarter {
	return Quarter{r.Gauge, 4*(r.Day.Year()-FirstYear) + (int(r.Day.Month())-1)/3}
}

// Merge takes in the contracts of b, which follow those of t.
func (t *Tally) Merge(b *Tally) {
	t.Records += b.Records
	for fault, n := range b.Aside {
		t.Aside[fault] += n
	}
	for y, from := range b.Years {
		to := part(t.Years, y)
		to.Lots, to.TooFew, to.Rejected = to.Lots+from.Lots, to.TooFew+from.TooFew, to.Rejected+from.Rejected
		to.Results.Merge(&from.Results)
		to.PWL.Merge(&from.PWL)
		to.Factor.Merge(&from.Factor)
	}
	for quarter, from := range b.Checks {
		part(t.Checks, quarter).Merge(from)
	}
}

// part returns the part of a tally with that key, empty if there was none.
func part[K comparable, V any](parts map[K]*V, key K) *V {
	if parts[key] == nil {
		parts[key] = new(V)
	}
	return parts[key]
}

// quarters returns the quarters in which a gauge was checked, in their order.
func (t *Tally) quarters(gauge int) (numbers []int) {
	for q := range maps.Keys(t.Checks) {
		if q.Gauge == gauge {
			numbers = append(numbers, q.Number)
		}
	}
	slices.Sort(numbers)
	return numbers
}

// Encode returns the tally as bytes that [DecodeTally] reads back to the same bits.
func (t *Tally) Encode() ([]byte, error) {
	var b bytes.Buffer
	err := gob.NewEncoder(&b).Encode(t)
	return b.Bytes(), err
}

// DecodeTally reads what [Tally.Encode] wrote.
func DecodeTally(data []byte) (*Tally, error) {
	t := NewTally()
	return t, gob.NewDecoder(bytes.NewReader(data)).Decode(t)
}
