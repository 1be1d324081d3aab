package road

import (
	"cmp"
	"context"
	"maps"
	"runtime"
	"slices"
)

// JudgeContract judges the lines of one contract; those that are not judged come back
// in their order.
func (c Contract) JudgeContract(lines []Line) (*Tally, []Aside, error) {
	t := NewTally()
	var asides []Aside
	lots := map[int][]Record{}
	for _, line := range lines {
		r, fault := Parse(line)
		if fault != "" {
			asides = append(asides, Aside{line, fault})
			t.AddAside(asides[len(asides)-1])
			continue
		}
		lots[r.Lot] = append(lots[r.Lot], r)
	}
	for _, number := range slices.Sorted(maps.Keys(lots)) {
		l, err := c.JudgeLot(lots[number])
		if err != nil {
			return nil, nil, err
		}
		t.AddLot(l)
		asides = append(asides, l.Aside...)
	}
	slices.SortFunc(asides, func(a, b Aside) int { return cmp.Compare(a.Line.Number, b.Line.Number) })
	return t, asides, nil
}

// Judge judges the whole network on all processors. After each contract, in their order,
// it calls done with how many there have been and with the lines that were set
// aside; an error of done ends it. When ctx ends, the tally of the contracts so far
// comes back with its error.
func Judge(ctx context.Context, n Network, done func(contracts int, asides []Aside) error) (*Tally, error) {
	c, err := NewContract()
	if err != nil {
		return nil, err
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel() // ends those who wait
	total := NewTally()
	contracts := 0
	for part := range inOrder(ctx, n.Contracts, func(contract int) judged { return c.judge(n, contract) }) {
		if part.err != nil {
			return nil, part.err
		}
		total.Merge(part.tally)
		contracts++
		if err := done(contracts, part.asides); err != nil {
			return nil, err
		}
	}
	if contracts < n.Contracts {
		return total, ctx.Err()
	}
	return total, nil
}

type judged struct {
	tally  *Tally
	asides []Aside
	err    error
}

func (c Contract) judge(n Network, contract int) (j judged) {
	lines, _ := n.Lines(contract)
	j.tally, j.asides, j.err = c.JudgeContract(lines)
	return j
}

// inOrder calls work for 0 to n-1 on all processors and gives the results in order.
// No more than a few wait for their turn, so memory stays small. When ctx ends the
// results end.
func inOrder[T any](ctx context.Context, n int, work func(int) T) func(yield func(T) bool) {
	return func(yield func(T) bool) {
		waiting := make(chan chan T, 4*runtime.GOMAXPROCS(0))
		go func() {
			defer close(waiting)
			for i := 0; i < n && ctx.Err() == nil; i++ {
				result := make(chan T, 1)
				select {
				case waiting <- result:
					go func() { result <- work(i) }()
				case <-ctx.Done(): // nobody may be left to take it
				}
			}
		}()
		for result := range waiting {
			if !yield(<-result) {
				return
			}
		}
	}
}
