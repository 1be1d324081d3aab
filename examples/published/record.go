package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"strconv"
	"strings"
)

// record is one published or recomputed value.
type record struct {
	id, check, input string
	printed          string  // as printed in the source, "" where it prints none
	exact            string  // by an independent recomputation, "" where there is none
	status           string  // how we have it: seen, from memory, derived
	source           string  // the document
	edition, place   string  // its edition, and where in it
	remark           string  // why print and exact value differ
	digits           float64 // the most right digits that the data allow, 0 where the last one printed counts
}

func read(files fs.FS, name string) ([]record, error) {
	f, err := files.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	const header = "id,check,input,printed,exact,status,source,edition,place,remark"
	if len(rows) == 0 || strings.Join(rows[0], ",") != header {
		return nil, fmt.Errorf("%s: need the header %s", name, header)
	}
	var records []record
	for _, r := range rows[1:] {
		records = append(records, record{id: r[0], check: r[1], input: r[2], printed: r[3], exact: r[4], status: r[5], source: r[6], edition: r[7], place: r[8], remark: r[9]})
	}
	return records, nil
}

// result is a record with what the library makes of it.
type result struct {
	record
	value float64
	ours  string // value to 12 digits
	wrong string // why the record and the library cannot both be right, "" if they can
}

// recompute runs every check. A value must agree with its exact recomputation to
// the last digit given, and with the print unless the record says why not; a
// remark on a print that agrees after all is as wrong as a print that differs
// without one.
func recompute(files fs.FS, records []record) []result {
	var results []result
	for _, r := range records {
		results = append(results, judge(files, r))
	}
	return results
}

func judge(files fs.FS, r record) result {
	out := result{record: r}
	in := parseInput(files, r.input)
	value, err := compute(in, r.check)
	switch {
	case err != nil:
		out.wrong = err.Error()
		return out
	case in.err != nil:
		out.wrong = in.err.Error()
		return out
	}
	out.value = value
	out.ours = strconv.FormatFloat(value, 'g', 12, 64)
	if r.digits > 0 {
		return out.certified()
	}
	switch {
	case r.exact != "" && !agrees(value, r.exact):
		out.wrong = fmt.Sprintf("ours %v, exact %s", value, r.exact)
	case out.differs() && r.remark == "":
		out.wrong = fmt.Sprintf("ours %v, printed %s, and no remark says why", value, r.printed)
	case !out.differs() && r.remark != "":
		out.wrong = fmt.Sprintf("ours %v agrees with %q in spite of the remark", value, r.printed)
	}
	return out
}

func compute(in *input, check string) (float64, error) {
	if f, ok := checks[check]; ok {
		return f(in)
	}
	if all, ok := figures[check]; ok {
		return figure(in, all)
	}
	return 0, errNoCheck
}

var errNoCheck = errors.New("no such check")

// certified judges by the digits that the data allow, half a digit of noise aside,
// and shows ours to as many.
func (r result) certified() result {
	r.ours = strconv.FormatFloat(r.value, 'g', min(12, int(r.digits)), 64)
	if got := digitsAgreed(r.value, r.exact); got < r.digits-0.5 {
		r.wrong = fmt.Sprintf("ours %v has %.1f right digits of %s, the data allow %.1f", r.value, got, r.exact, r.digits)
	}
	return r
}

// differs reports whether the print is another number than ours at its own digits.
func (r result) differs() bool {
	return r.printed != "" && r.digits == 0 && !agrees(r.value, r.printed)
}

// agrees reports whether value is within half a unit of the last digit of text,
// and a hair for a tie that binary arithmetic cannot hold.
func agrees(value float64, text string) bool {
	want, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return false
	}
	half := 0.5 * lastPlace(text)
	return math.Abs(value-want) <= half*(1+1e-6)+1e-15*math.Abs(want)
}

// lastPlace returns the weight of the last digit of a decimal text.
func lastPlace(text string) float64 {
	mantissa, exponent, _ := strings.Cut(strings.ToLower(text), "e")
	shift, _ := strconv.Atoi(exponent)
	_, fraction, _ := strings.Cut(mantissa, ".")
	return math.Pow(10, float64(shift-len(fraction)))
}
