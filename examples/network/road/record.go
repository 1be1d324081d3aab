package road

import (
	"strconv"
	"strings"
	"time"

	"github.com/densilot/densilot/units"
)

// Record is a line that was understood.
type Record struct {
	Line        Line
	Lot, Sublot int
	Day         time.Time
	Gauge       int
	Percent     float64
	Check       float64 // core minus corrected reading in lb/ft3
	Checked     bool
}

// Aside is a line that was not judged, with the reason.
type Aside struct {
	Line  Line
	Fault Fault
}

// Parse reads a line strictly: nothing is guessed and nothing is mended.
func Parse(line Line) (Record, Fault) {
	fields := strings.Split(line.Text, ",")
	if len(fields) != 7 {
		return Record{}, BadColumns
	}
	r := Record{Line: line}
	if !ids(fields, &r) {
		return Record{}, BadID
	}
	var err error
	if r.Day, err = time.Parse(time.DateOnly, fields[3]); err != nil || r.Day.Year() != yearOf(line.Contract) {
		return Record{}, BadDate
	}
	return r, r.measured(fields[5], fields[6])
}

// ids reads the numbers of contract, lot, sublot and gauge.
func ids(fields []string, r *Record) bool {
	for _, id := range []struct {
		text  string
		least int
		below int
		to    *int
	}{
		{fields[0], r.Line.Contract, r.Line.Contract + 1, new(int)},
		{fields[1], 0, LotsOfContract, &r.Lot}, {fields[2], 0, SublotsOfLot, &r.Sublot}, {fields[4], 0, Gauges, &r.Gauge},
	} {
		n, err := strconv.Atoi(id.text)
		if err != nil || n < id.least || n >= id.below {
			return false
		}
		*id.to = n
	}
	return true
}

// measured reads percent compaction and the check.
func (r *Record) measured(percent, check string) Fault {
	if percent == "" {
		return Missing
	}
	p, err := units.ParseDecimal(percent)
	if err != nil {
		return BadNumber
	}
	if r.Percent = p.InexactFloat64(); r.Percent < 70 || r.Percent > 105 {
		return Implausible
	}
	if check == "" {
		return ""
	}
	c, err := units.ParseDecimal(strings.TrimPrefix(check, "+"))
	r.Check, r.Checked = c.InexactFloat64(), true
	if err != nil {
		return BadNumber
	}
	return ""
}

// AsideColumns names the columns of [Aside.Row].
func AsideColumns() []string { return []string{"contract", "line", "reason", "text"} }

// Row returns the line with its place and the reason, for a CSV file.
func (a Aside) Row() []string {
	return []string{strconv.Itoa(a.Line.Contract), strconv.Itoa(a.Line.Number), string(a.Fault), a.Line.Text}
}
