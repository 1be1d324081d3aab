package main

import (
	"context"
	"reflect"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/register"

	"github.com/densilot/densilot/examples/network/road"
)

func init() {
	register.DoFn2x0[[]byte, func(int)](&listing{})
	register.DoFn2x0[int, func(int, road.Line)](&reading{})
	register.DoFn4x1[int, func(*road.Line) bool, func(road.Sum), func(road.Aside), error](&judging{})
	register.DoFn2x1[context.Context, road.Sum, error](&reporting{})
	register.DoFn3x1[context.Context, []byte, func(*road.Aside) bool, error](&settingAside{})
	register.Combiner1[road.Sum](&summing{})
	register.Emitter1[int]()
	register.Emitter2[int, road.Line]()
	register.Emitter1[road.Sum]()
	register.Emitter1[road.Aside]()
	register.Iter1[road.Line]()
	register.Iter1[road.Aside]()
	beam.RegisterCoder(reflect.TypeFor[road.Sum](), encodeSum, decodeSum)
}

func encodeSum(s road.Sum) ([]byte, error) { return s.MarshalBinary() }

func decodeSum(data []byte) (s road.Sum, err error) { return s, s.UnmarshalBinary(data) }

// build builds the pipeline that leaves its report in o.output:
//
//	contracts → lines → by contract → judged → summed up → report
//	                                        ↘ set aside → file
//
// The lines go through the runner one by one, as lines of real files would that hold
// the contracts in any order.
func build(s beam.Scope, o options) {
	contracts := beam.Reshuffle(s, beam.ParDo(s, &listing{o.network.Contracts}, beam.Impulse(s)))
	lines := beam.ParDo(s, &reading{o.network}, contracts)
	sums, asides := beam.ParDo2(s, &judging{}, beam.GroupByKey(s, lines))
	beam.ParDo0(s, &reporting{o.output}, beam.Combine(s, &summing{}, sums))
	if o.aside != "" {
		beam.ParDo0(s, &settingAside{o.aside}, beam.Impulse(s), beam.SideInput{Input: asides})
	}
}

// listing lists the contracts.
type listing struct{ Contracts int }

func (f *listing) ProcessElement(_ []byte, emit func(int)) {
	for contract := range f.Contracts {
		emit(contract)
	}
}

// reading reads the lines of a contract.
type reading struct{ Network road.Network }

func (f *reading) ProcessElement(contract int, emit func(int, road.Line)) {
	lines, _ := f.Network.Lines(contract)
	for _, line := range lines {
		emit(contract, line)
	}
	contractsRead.Add(1)
}

// judging judges the lines of a contract, which come in any order.
type judging struct{ contract road.Contract }

func (f *judging) Setup() (err error) {
	f.contract, err = road.NewContract()
	return err
}

func (f *judging) ProcessElement(contract int, next func(*road.Line) bool, sum func(road.Sum), aside func(road.Aside)) error {
	var lines []road.Line
	for line := (road.Line{}); next(&line); {
		lines = append(lines, line)
	}
	tally, asides, err := f.contract.JudgeContract(lines)
	if err != nil {
		return err
	}
	var s road.Sum
	s.Add(contract, tally)
	sum(s)
	for _, a := range asides {
		aside(a)
	}
	contractsJudged.Add(1)
	return nil
}

// summing merges the sums of contracts, in any order.
type summing struct{}

func (f *summing) MergeAccumulators(a, b road.Sum) road.Sum {
	a.Merge(&b)
	return a
}
