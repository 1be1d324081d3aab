package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/densilot/densilot/examples/internal/demodir"
	"github.com/densilot/densilot/examples/internal/shift"
	"github.com/densilot/densilot/examples/shift/testdata"
	"github.com/densilot/densilot/lot"
)

var update = flag.Bool("update", false, "write the golden files anew; read the difference before committing it")

func TestGolden(t *testing.T) {
	for _, tt := range []struct {
		golden string
		args   []string
	}{
		{"golden.txt", nil},
		{"golden.json", []string{"-json"}},
	} {
		var out, errOut bytes.Buffer
		if status := run(tt.args, &out, &errOut); status != 0 || errOut.Len() > 0 {
			t.Fatalf("%v: status %d, %s", tt.args, status, &errOut)
		}
		path := filepath.Join("testdata", tt.golden)
		if *update {
			if err := os.WriteFile(path, out.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), out.String()); diff != "" {
			t.Errorf("%s: %s", tt.golden, diff)
		}
	}
}

// The numbers are what testdata/check.py prints, which shares no code with the
// library.
func TestDemoAgainstCheck(t *testing.T) {
	records, err := shift.Read(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	j, err := shift.Judge(records)
	if err != nil {
		t.Fatal(err)
	}
	if e := j.Offset; math.Abs(e.Mean-2.44) > 1e-12 || math.Abs(e.CI.Lo-2.1541474809) > 5e-11 || math.Abs(e.CI.Hi-2.7258525191) > 5e-11 {
		t.Errorf("offset %v, %v", e.Mean, e.CI)
	}
	percents := map[string]string{"1-1": "93.35", "1-2": "94.44", "1-3": "93.87", "1-4": "92.72", "1-5": "94.06",
		"2-1": "93.02", "2-2": "92.38", "2-3": "93.59", "2-4": "89.11", "2-5": "93.34"}
	for _, b := range j.Sublots {
		if got := shift.Digits(b.Audited.Percentage); got != percents[b.ID] {
			t.Errorf("sublot %s: %s, want %s", b.ID, got, percents[b.ID])
		}
	}
	for i, want := range []struct {
		lower, upper                   float64
		pwl, factor, adjustment, total string
		decision                       lot.Decision
	}{
		{100, 100, "100.00", "1.020", "3975.96", "202774.20", lot.Accepted},
		{55.5830801191, 100, "55.58", "0.778", "-43653.94", "152985.42", lot.AcceptedReduced},
	} {
		l := j.Lots[i]
		if math.Abs(l.PWLLower.Exact-want.lower) > 5e-11 || math.Abs(l.PWLUpper.Exact-want.upper) > 5e-11 || l.PWL.Used != want.pwl || l.Factor.Used != want.factor ||
			shift.Digits(l.Payment.Adjustment) != want.adjustment || shift.Digits(l.Payment.Total) != want.total || l.Decision != want.decision {
			t.Errorf("lot %s: %+v %+v %+v", l.Lot, l.Evaluation, l.Factor, l.Payment)
		}
	}
}

// Each mistake ends with one line that names file, line and column, and status 1.
func TestWrongInput(t *testing.T) {
	for _, tt := range []struct {
		name, file string
		change     func(string) string
		want       string
	}{
		{"a missing file", "gmm.csv", func(string) string { return "" }, `^shift: gmm\.csv: no such file or directory\n$`},
		{"an empty file", "gmm.csv", func(string) string { return "\n" }, `^shift: gmm\.csv:1:1: the file is empty; need the header date,gmm\n$`},
		{"a decimal comma, quoted", "strip.csv", demodir.Replace("T1,145.0", `T1,"145,0"`), `^shift: strip\.csv:2:4: .*"145,0": not a plain decimal number`},
		{"a decimal comma, bare", "strip.csv", demodir.Replace("T1,145.0", "T1,145,0"), `^shift: strip\.csv:2:1: wrong number of fields\n$`},
		{"NaN", "readings.csv", demodir.Replace("143.5", "NaN"), `^shift: readings\.csv:2:5: .*"NaN": not a plain decimal number`},
		{"an infinity", "readings.csv", demodir.Replace("143.5", "Inf"), `^shift: readings\.csv:2:5: .*"Inf": not a plain decimal number`},
		{"a negative reading", "readings.csv", demodir.Replace("143.5", "-143.5"), `^shift: readings\.csv:2:5: must be more than 0\n$`},
		{"a sentinel", "readings.csv", demodir.Replace("143.5", "-999"), `^shift: readings\.csv:2:5: must be more than 0\n$`},
		{"an unknown unit", "passes.csv", demodir.Replace("lb/ft3", "stone"), `^shift: passes\.csv:2:11: .*"stone": unknown unit; need lb/ft3, kg/m3 or g/cm3\n$`},
		{"a unit of another system", "readings.csv", demodir.Replace("143.5,lb/ft3", "2298.6,kg/m3"), `^shift: readings\.csv:2:12: kg/m3, but the water density of the contract is in lb/ft3; use one unit throughout\n$`},
		{"a strip in another unit", "strip.csv", func(s string) string { return strings.ReplaceAll(s, "lb/ft3", "kg/m3") }, `^shift: strip\.csv:2:10: kg/m3, but`},
		{"a tolerance in another unit", "contract.csv", demodir.Replace("offset tolerance,1.0,lb/ft3", "offset tolerance,16,kg/m3"), `^shift: contract\.csv:12:21: kg/m3, but`},
		{"a spot twice", "passes.csv", demodir.Replace("1,B,", "1,A,"), `^shift: passes\.csv:3:3: pass 1 has spot "A" twice\n$`},
		{"two cores", "cores.csv", func(s string) string { return strings.Join(strings.SplitAfter(s, "\n")[:3], "") }, `^shift: cores\.csv:1:1: bias\.EstimateOffset: pairs: too few values \(have 2, need 3; .* on one side only: "T3", "T4", "T5"\)\n$`},
		{"a density for a gravity", "cores.csv", demodir.Replace("2.368", "2368"), `^shift: sublots\.csv:2:3: .*outside the plausible range .*; it is .* with an offset of \+.*: see readings\.csv, cores\.csv and gmm\.csv\n$`},
		{"one reading of the strip in another unit", "strip.csv", demodir.Replace("T1,145.0,lb/ft3", "T1,145.0,kg/m3"), `^shift: strip\.csv:2:10: kg/m3, but`},
		{"one reading of a pass in another unit", "passes.csv", demodir.Replace("3,A,142.6,lb/ft3", "3,A,142.6,kg/m3"), `^shift: passes\.csv:8:11: kg/m3, but`},
		{"a spot that cannot be printed", "passes.csv", demodir.Replace("3,A,142.6", "3,A\x00,142.6"), `^shift: passes\.csv:8:3: .*cannot be printed`},
		{"a core of almost nothing", "cores.csv", demodir.Replace("2.368", "0.0001"), `^shift: cores\.csv:2:4: must be more than 0\n$`},
		{"a rounding in another unit", "contract.csv", demodir.Replace("round density,0.1,lb/ft3", "round density,0.1,kg/m3"), `^shift: contract\.csv:24:19: "kg/m3" is not lb/ft3\n$`},
		{"a unit where none belongs", "contract.csv", demodir.Replace("core screen alpha,0.01,", "core screen alpha,0.01,%"), `^shift: contract\.csv:13:24: "%", but core screen alpha has no unit\n$`},
		{"money of another currency", "contract.csv", demodir.Replace("round money,0.01,USD", "round money,0.01,EUR"), `^shift: contract\.csv:30:18: "EUR" is not USD\n$`},
		{"a repeated sublot", "sublots.csv", demodir.Replace("1,1-2,", "1,1-1,"), `^shift: sublots\.csv:3:3: sublot "1-1": id is used more than once\n$`},
		{"a repeated core", "cores.csv", demodir.Replace("T2,", "T1,"), `^shift: cores\.csv:3:1: core "T1": id is used more than once\n$`},
		{"text in a number", "gmm.csv", demodir.Replace("2.512", "2.512 ok"), `^shift: gmm\.csv:2:12: .*"2\.512 ok": unknown unit`},
		{"a mark inside the file", "cores.csv", demodir.Replace("T3", "\ufeffT3"), `^shift: cores\.csv:4:1: byte-order mark inside the file\n$`},
		{"two marks at the start", "cores.csv", func(s string) string { return "\ufeff\ufeff" + s }, `^shift: cores\.csv:1:1: byte-order mark inside the file\n$`},
		{"a no-break space", "cores.csv", demodir.Replace("2.368", "2.368\u00a0"), `^shift: cores\.csv:2:4: `},
		{"a limit of another percentage", "contract.csv", demodir.Replace("lower limit,92.0,% of maximum theoretical density", "lower limit,96.3,% of laboratory bulk density"),
			`^shift: contract\.csv:16:18: wrong kind of reference density: the results are % of maximum theoretical density\n$`},
		{"a limit without a kind", "contract.csv", demodir.Replace("lower limit,92.0,% of maximum theoretical density", "lower limit,92.0,%"), `^shift: contract\.csv:16:18: `},
		{"a limit as a fraction", "contract.csv", demodir.Replace("lower limit,92.0", "lower limit,0.92"), `^shift: contract\.csv:16:13: lot\.NewPlan: t\.Limits = 0\.92 to 97\.0: outside the plausible range of the plan\n$`},
		{"an unknown term", "contract.csv", demodir.Replace("gauge,G-07", "guage,G-07"), `^shift: contract\.csv:1:1: term "gauge" is missing\n$`},
		{"a term too many", "contract.csv", func(s string) string { return s + "bonus,1.05,\n" }, `^shift: contract\.csv:33:1: unknown term "bonus"\n$`},
		{"a repeated term", "contract.csv", func(s string) string { return s + "gauge,G-08,\n" }, `^shift: contract\.csv:33:1: term "gauge" is given more than once\n$`},
		{"water nobody names", "contract.csv", demodir.Replace("62.245", "62.254"), `^shift: contract\.csv:10:15: .*out of range; need one of 62\.4 lb/ft3`},
		{"alpha in percent", "contract.csv", demodir.Replace("core screen alpha,0.01", "core screen alpha,1"), `^shift: contract\.csv:13:19: 1 is not a fraction`},
		{"an offset that is out of date", "contract.csv", demodir.Replace("offset valid,14", "offset valid,2"), `^shift: sublots\.csv:7:3: .*not a day it is valid on \(gauge G-07, .*, 2026-05-11 to 2026-05-12\)\n$`},
		{"weeks of validity", "contract.csv", demodir.Replace("offset valid,14,days", "offset valid,2,weeks"), `^shift: contract\.csv:9:16: "weeks" is not days\n$`},
		{"a day without Gmm", "sublots.csv", demodir.Replace("2026-05-12", "2026-05-14"), `^shift: sublots\.csv:2:7: no Gmm of 2026-05-14 in gmm\.csv\n$`},
		{"an impossible date", "gmm.csv", demodir.Replace("2026-05-12", "2026-02-30"), `^shift: gmm\.csv:2:1: "2026-02-30" is not a date`},
		{"a reading of no sublot", "readings.csv", demodir.Replace("1-1,", "9-9,"), `^shift: readings\.csv:2:1: sublot "9-9" is not in sublots\.csv\n$`},
		{"a sublot without readings", "readings.csv", func(s string) string { return regexp.MustCompile(`(?m)^2-4,.*\n`).ReplaceAllString(s, "") }, `^shift: sublots\.csv:10:3: sublot "2-4" has no reading`},
		{"a wrong column", "cores.csv", demodir.Replace("gmb", "Gmb"), `^shift: cores\.csv:1:10: unknown or repeated column "Gmb"; need location,gmb\n$`},
		{"a missing column", "cores.csv", demodir.Replace("location,gmb", "location"), `^shift: cores\.csv:1:1: column "gmb" is missing`},
		{"passes out of order", "passes.csv", demodir.Replace("3,A,142.6", "5,A,142.6"), `^shift: passes\.csv:8:1: pass 5 is out of order`},
		{"two temperatures of a pass", "passes.csv", demodir.Replace("140.9,lb/ft3,271", "140.9,lb/ft3,270"), `^shift: passes\.csv:6:`},
		{"too few sublots", "sublots.csv", demodir.Replace("2,2-5", "3,2-5"), `^shift: sublots\.csv:11:3: .*too few values \(have 1, need 3\)\n$`},
		{"a schedule out of order", "schedule.csv", demodir.Replace("75,", "45,"), `^shift: schedule\.csv:4:1: must be above the one before\n$`},
		{"a schedule that starts late", "schedule.csv", demodir.Replace("0,,,yes\n", ""), `^shift: schedule\.csv:1:1: .*below the start of the schedule`},
		{"an implausible result", "readings.csv", demodir.Replace("1-4,142.4", "1-4,42.4"), `^shift: sublots\.csv:5:3: .*outside the plausible range`},
	} {
		var out, errOut bytes.Buffer
		status := run([]string{"-dir", demodir.Changed(t, tt.file, tt.change)}, &out, &errOut)
		if status != 1 || out.Len() > 0 {
			t.Errorf("%s: status %d, output %q", tt.name, status, &out)
		}
		if !regexp.MustCompile(tt.want).MatchString(errOut.String()) || strings.Count(errOut.String(), "\n") != 1 {
			t.Errorf("%s: %q, want %s", tt.name, &errOut, tt.want)
		}
	}
}

// The same files from a folder give the same answers, less the remark that they
// are invented; a mark at the very start and blanks around fields do no harm.
func TestOwnFiles(t *testing.T) {
	want, err := os.ReadFile(filepath.Join("testdata", "golden.txt"))
	if err != nil {
		t.Fatal(err)
	}
	plain := strings.Replace(string(want), "Demo data of an invented job; no place, mix, limit or price is real.\n", "", 1)
	for name, change := range map[string]func(string) string{
		"a byte-order mark at the start": func(s string) string { return "\ufeff" + s },
		"blanks around a field":          demodir.Replace("T1,145.0", " T1\t, 145.0 "),
		"Windows line ends":              func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") },
	} {
		var out, errOut bytes.Buffer
		if status := run([]string{"-dir", demodir.Changed(t, "strip.csv", change)}, &out, &errOut); status != 0 {
			t.Fatalf("%s: status %d, %s", name, status, &errOut)
		}
		if diff := cmp.Diff(plain, out.String()); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

func TestOneLimit(t *testing.T) {
	var out, errOut bytes.Buffer
	dir := demodir.Changed(t, "contract.csv", demodir.Replace("upper limit,97.0,% of maximum theoretical density", "upper limit,none,"))
	if status := run([]string{"-json", "-dir", dir}, &out, &errOut); status != 0 {
		t.Fatalf("status %d, %s", status, &errOut)
	}
	var answer struct {
		Demo bool
		Lots []struct{ PWLUpper *lot.Number }
	}
	if err := json.Unmarshal(out.Bytes(), &answer); err != nil || answer.Demo || answer.Lots[0].PWLUpper != nil {
		t.Errorf("%+v, %v", answer, err)
	}
}

func TestWrongFlags(t *testing.T) {
	var errOut bytes.Buffer
	if status := run([]string{"-dir", "no such folder"}, io.Discard, &errOut); status != 1 || !strings.Contains(errOut.String(), "no such folder") {
		t.Errorf("a folder that is not there: status %d, %q", status, &errOut)
	}
	for _, args := range [][]string{{"-nonsense"}, {"folder"}} {
		var out, errOut bytes.Buffer
		if status := run(args, &out, &errOut); status != 2 || errOut.Len() == 0 {
			t.Errorf("%v: status %d, %q", args, status, &errOut)
		}
	}
}
