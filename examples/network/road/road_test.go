package road

import (
	"bytes"
	"context"
	"errors"
	"maps"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// some is a small network, with one contract a year.
var some = Network{Seed: 7, Contracts: 10}

func judgeAll(t *testing.T, n Network) (*Tally, []Aside) {
	t.Helper()
	var asides []Aside
	tally, err := Judge(context.Background(), n, func(_ int, lines []Aside) error {
		asides = append(asides, lines...)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return tally, asides
}

// None is lost: what was put in as a fault is set aside for that reason, and every
// other record is judged.
func TestEveryRecordIsAccountedFor(t *testing.T) {
	n := Network{Seed: 3, Contracts: 200}
	tally, asides := judgeAll(t, n)
	put := map[Fault]int{}
	for c := range n.Contracts {
		_, faults := n.Lines(c)
		for fault, k := range faults {
			put[fault] += k
		}
	}
	written := map[Fault]int{}
	for _, a := range asides {
		written[a.Fault]++
	}
	if diff := cmp.Diff(put, tally.Aside); diff != "" || len(put) != 7 {
		t.Errorf("faults put in and counted (-put +counted)\n%s", diff)
	}
	if !maps.Equal(written, tally.Aside) || tally.Records != n.Records() {
		t.Errorf("written aside %v, counted %v; %d of %d records", written, tally.Aside, tally.Records, n.Records())
	}
	r, err := NewReport(tally)
	if err != nil || r.Judged+len(asides) != r.Records {
		t.Errorf("%d judged and %d aside of %d, %v", r.Judged, len(asides), r.Records, err)
	}
}

// The estimates lie about the truth as their standard errors and intervals say: of
// ten means none is off by more than four standard errors (a chance of 1 in 1600;
// rounding the results to 0.01 moves a mean by less than 0.001), and of 40 intervals
// of 95 % at least 32 hold the drift (fewer have a chance of 1 in 7000).
func TestAnswersAgreeWithTruth(t *testing.T) {
	n := Network{Seed: 5, Contracts: 400}
	tally, _ := judgeAll(t, n)
	r, err := NewReport(tally)
	if err != nil {
		t.Fatal(err)
	}
	truth, err := n.Truth()
	if err != nil {
		t.Fatal(err)
	}
	for _, y := range r.Years {
		if z := (y.MeanPWL - truth.Within[y.Year-FirstYear]) / y.StdErrPWL; math.Abs(z) > 4 {
			t.Errorf("%d: mean PWL %.3f, true %.3f, %.1f standard errors off", y.Year, y.MeanPWL, truth.Within[y.Year-FirstYear], z)
		}
	}
	if held, followed := r.held(truth); held < 32 || followed != Gauges {
		t.Errorf("%d of %d intervals hold the drift", held, followed)
	}
}

// One processor and many give the same bytes.
func TestSameOnAnyNumberOfProcessors(t *testing.T) {
	var first []byte
	for _, processors := range []int{1, 2, 7} {
		old := runtime.GOMAXPROCS(processors)
		tally, _ := judgeAll(t, some)
		runtime.GOMAXPROCS(old)
		b := encoded(t, tally)
		if first == nil {
			first = b
		}
		if !bytes.Equal(first, b) {
			t.Errorf("%d processors give another report", processors)
		}
	}
}

func encoded(t *testing.T, tally *Tally) []byte {
	t.Helper()
	r, err := NewReport(tally)
	if err != nil {
		t.Fatal(err)
	}
	b, err := r.JSON()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// A tally that was sent as bytes goes on as it would have, and the records of a lot
// may come in any order.
func TestSpreadWork(t *testing.T) {
	c, err := NewContract()
	if err != nil {
		t.Fatal(err)
	}
	tally, _ := judgeAll(t, some)
	total := NewTally()
	for contract := range some.Contracts {
		lines, _ := some.Lines(contract)
		rand.New(rand.NewPCG(1, 2)).Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		part, _, err := c.JudgeContract(lines)
		if err != nil {
			t.Fatal(err)
		}
		data, err := part.Encode()
		if err != nil {
			t.Fatal(err)
		}
		if part, err = DecodeTally(data); err != nil {
			t.Fatal(err)
		}
		total.Merge(part)
	}
	if diff := cmp.Diff(encoded(t, tally), encoded(t, total)); diff != "" {
		t.Error(diff)
	}
}

func TestParse(t *testing.T) {
	for text, want := range map[string]Fault{
		"0,4,1,2015-06-14,9,93.84,":         "",
		"0,4,1,2015-06-14,9,93.84,+1.2":     "",
		"0,4,1,2015-06-14,9,93,84,":         BadColumns,
		"":                                  BadColumns,
		"0,4,1,2015-06-14,9,,":              Missing,
		"0,4,1,2015-06-14,9,NaN,":           BadNumber,
		"0,4,1,2015-06-14,9,9.384e1,":       BadNumber,
		"0,4,1,2015-06-14,9,93.84,++1":      BadNumber,
		"0,4,1,2015-06-14,9,0.9384,":        Implausible,
		"0,4,1,2015-06-14,9,993.84,":        Implausible,
		"0,4,1,2015-02-29,9,93.84,":         BadDate,
		"0,4,1,2016-06-14,9,93.84,":         BadDate, // a contract of 2015
		"0,4,5,2015-06-14,9,93.84,":         BadID,
		"0,100,1,2015-06-14,9,93.84,":       BadID,
		"0,4,1,2015-06-14,40,93.84,":        BadID,
		"1,4,1,2015-06-14,9,93.84,":         BadID, // a line of contract 0
		"0,-4,1,2015-06-14,9,93.84,":        BadID,
		"0,four,1,2015-06-14,9,93.84,+1.20": BadID,
	} {
		if _, got := Parse(Line{Contract: 0, Number: 1, Text: text}); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// An interrupt gives the contracts so far, a failing writer its own error.
func TestJudgeStops(t *testing.T) {
	before := runtime.NumGoroutine()
	big := Network{Contracts: 1000}
	ctx, cancel := context.WithCancel(context.Background())
	tally, err := Judge(ctx, big, func(contracts int, _ []Aside) error {
		if contracts == 3 {
			cancel()
		}
		return nil
	})
	if !errors.Is(err, context.Canceled) || tally == nil || tally.Records < 3*RecordsOfContract || tally.Records >= big.Records() || tally.Records%RecordsOfContract != 0 {
		t.Errorf("%v, %+v", err, tally)
	}
	full := errors.New("disk is full")
	if tally, err := Judge(context.Background(), big, func(int, []Aside) error { return full }); tally != nil || !errors.Is(err, full) {
		t.Errorf("%v, %v, want the error of the writer", tally, err)
	}
	for range 100 { // those at work may finish, and nobody waits for ever
		if runtime.NumGoroutine() <= before {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Errorf("%d goroutines, %d before", runtime.NumGoroutine(), before)
}

// An interrupt that comes after the last contract interrupts nothing.
func TestJudgeDoneIsDone(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	tally, err := Judge(ctx, some, func(contracts int, _ []Aside) error {
		if contracts == some.Contracts {
			cancel()
		}
		return nil
	})
	if err != nil || tally.Records != some.Records() {
		t.Errorf("%v, %+v", err, tally)
	}
}
