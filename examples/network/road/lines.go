package road

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"time"
)

// Fault is what is wrong with a record; the empty Fault is nothing.
type Fault string

// The faults that occur, and are looked for.
const (
	BadColumns  Fault = "not seven columns"
	BadNumber   Fault = "not a plain decimal number"
	BadDate     Fault = "no such day in those years"
	BadID       Fault = "no such lot, sublot or gauge"
	Implausible Fault = "percent compaction outside 70 to 105"
	Missing     Fault = "no percent compaction"
	Repeated    Fault = "the sublot was there already"
)

// oneIn records has a fault.
const oneIn = 200

// Line is one line of the records with its place.
type Line struct {
	Contract, Number int // Number counts from 1
	Text             string
}

// Lines returns the records of a contract, and how often each fault was put in.
func (n Network) Lines(contract int) (lines []Line, faults map[Fault]int) {
	r := n.random(ofLines, contract)
	drifts, means := n.drifts(), n.lotMeans(contract)
	gauges := [3]int{r.IntN(Gauges), r.IntN(Gauges), r.IntN(Gauges)}
	faults = map[Fault]int{}
	lines = make([]Line, 0, RecordsOfContract)
	whole := false // the line before has no fault
	for lot, mean := range means {
		day := time.Date(yearOf(contract), time.April, 1+r.IntN(200), 0, 0, 0, 0, time.UTC)
		gauge := gauges[r.IntN(len(gauges))]
		for sublot := range SublotsOfLot {
			check := ""
			if sublot == 0 {
				check = fmt.Sprintf("%+.1f", drifts[gauge]*yearsSinceStart(day)+spreadOfChecks*r.NormFloat64())
			}
			fields := []string{strconv.Itoa(contract), strconv.Itoa(lot), strconv.Itoa(sublot), day.Format(time.DateOnly),
				strconv.Itoa(gauge), strconv.FormatFloat(mean+spreadOfLot*r.NormFloat64(), 'f', 2, 64), check}
			fault := spoil(r, fields, whole && sublot > 0)
			if whole = fault == ""; !whole {
				faults[fault]++
			}
			lines = append(lines, Line{contract, len(lines) + 1, strings.Join(fields, ",")})
		}
	}
	return lines, faults
}

// spoil puts a fault into few of the records; where the line before can be repeated,
// it may be.
func spoil(r *rand.Rand, fields []string, canRepeat bool) Fault {
	if r.IntN(oneIn) > 0 {
		return ""
	}
	const sublot, date, gauge, percent = 2, 3, 4, 5
	switch r.IntN(7) {
	case 0:
		fields[percent] = strings.Replace(fields[percent], ".", ",", 1)
		return BadColumns
	case 1:
		fields[percent] = "9" + fields[percent]
		return Implausible
	case 2:
		fields[percent] = ""
		return Missing
	case 3:
		fields[percent] = "NaN"
		return BadNumber
	case 4:
		fields[date] = fields[date][:5] + "02-30"
		return BadDate
	case 5:
		fields[gauge] = "77"
		return BadID
	}
	if !canRepeat {
		return ""
	}
	fields[sublot] = string(fields[sublot][0] - 1)
	return Repeated
}

// yearsSinceStart counts years of 365 days from the first day of the first year.
func yearsSinceStart(day time.Time) float64 {
	return day.Sub(time.Date(FirstYear, time.January, 1, 0, 0, 0, 0, time.UTC)).Hours() / (24 * 365)
}
