package road

import (
	"bytes"
	"encoding/gob"
	"maps"
	"slices"
)

// Sum merges the tallies of contracts that come in any order, from any number of
// places, to the same bits. Sums of floating-point numbers depend on what is added to
// what, so that is fixed: a Sum is a tree over the numbers of the contracts,
//
//	0  1  2  3  4  5      contracts
//	 01    23    45       merged where both are there
//	   0123       |       a part without the other goes up alone, once all are in
//	       012345
//
// Neighbours merge at once, so a stretch of contracts that are all there takes the memory
// of a few tallies. The zero value is empty and ready.
type Sum struct {
	parts map[stretch]*Tally
}

// stretch is the contracts from Number·2^Level to (Number+1)·2^Level - 1.
type stretch struct{ Level, Number int }

// Add takes in the tally of a contract that was not there before. The tally is the Sum's
// from then on.
func (s *Sum) Add(contract int, t *Tally) { s.add(stretch{0, contract}, t) }

// Merge takes in all that b has, no contract of which was there before. What b has is
// that of s from then on.
func (s *Sum) Merge(b *Sum) {
	for p, t := range b.parts {
		s.add(p, t)
	}
}

// Total returns the tally of all contracts and leaves the Sum empty.
func (s *Sum) Total() *Tally {
	for level := 0; len(s.parts) > 1; level++ {
		for _, p := range slices.Collect(maps.Keys(s.parts)) {
			if t := s.parts[p]; t != nil && p.Level == level {
				delete(s.parts, p)
				s.add(stretch{p.Level + 1, p.Number / 2}, t)
			}
		}
	}
	total := NewTally()
	for _, t := range s.parts { // one, or none
		total.Merge(t)
	}
	s.parts = nil
	return total
}

// add puts a part in its place, merging it with the other half as long as that is there.
func (s *Sum) add(p stretch, t *Tally) {
	if s.parts == nil {
		s.parts = map[stretch]*Tally{}
	}
	for {
		half := stretch{p.Level, p.Number ^ 1}
		other := s.parts[half]
		if other == nil {
			s.parts[p] = t
			return
		}
		delete(s.parts, half)
		if half.Number < p.Number {
			t, other = other, t
		}
		t.Merge(other)
		p = stretch{p.Level + 1, p.Number / 2}
	}
}

// MarshalBinary returns the Sum as bytes that UnmarshalBinary reads back to the same
// bits.
func (s *Sum) MarshalBinary() ([]byte, error) {
	var b bytes.Buffer
	err := gob.NewEncoder(&b).Encode(s.parts)
	return b.Bytes(), err
}

// UnmarshalBinary reads what MarshalBinary wrote.
func (s *Sum) UnmarshalBinary(data []byte) error {
	s.parts = nil
	return gob.NewDecoder(bytes.NewReader(data)).Decode(&s.parts)
}
