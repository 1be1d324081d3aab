package shift

import (
	"errors"
	"io/fs"
	"slices"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Contract is what the shift is judged by.
type Contract struct {
	Project  string
	Water    units.WaterConvention
	Kind     density.ReferenceKind
	Strip    StripTerms
	Pattern  density.PatternOptions
	Rounding density.RoundingPolicy
	Gravity  units.Rounding // of the mean Gmm of a day
	Plan     lot.Plan
}

// unit is that of every density of the job.
func (c Contract) unit() units.DensityUnit { return c.Water.Density().Unit() }

// StripTerms are what the test strip is judged by.
type StripTerms struct {
	Scope     density.Scope // with the days the offset is valid on
	Made      density.Date
	Source    string
	Level     float64
	Alpha     float64 // of the screen for a bad core
	Tolerance units.DensityDifference
	Rounding  units.Rounding
}

// terms reads a file of terms by name and keeps the first error, so that the reading
// of each term is one line.
type terms struct {
	file string
	rows map[string]row
	used map[string]bool
	err  error
}

func readTerms(files fs.FS, name string) (*terms, error) {
	rows, err := table(files, name, "term", "value", "unit")
	if err != nil {
		return nil, err
	}
	t := &terms{file: name, rows: make(map[string]row), used: make(map[string]bool)}
	for _, r := range rows {
		name := r["term"].text
		if _, repeated := t.rows[name]; repeated {
			return nil, r["term"].failf("term %q is given more than once", name)
		}
		t.rows[name] = r
	}
	return t, nil
}

// read hands the cells of a term to f, unless an earlier term failed.
func read[T any](t *terms, name string, f func(value, unit cell) (T, error)) (v T) {
	if t.err != nil {
		return v
	}
	r, ok := t.rows[name]
	if !ok {
		t.err = cell{file: t.file, line: 1, column: 1}.failf("term %q is missing", name)
		return v
	}
	t.used[name] = true
	v, t.err = f(r["value"], r["unit"])
	return v
}

// readIn is read for a term that is in one unit, "" for none: another one would say
// what the number does not mean.
func readIn[T any](t *terms, name, want string, f func(value cell) (T, error)) T {
	return read(t, name, func(v, unit cell) (none T, err error) {
		switch {
		case unit.text == want:
			return f(v)
		case want == "":
			return none, unit.failf("%q, but %s has no unit", unit.text, name)
		}
		return none, unit.failf("%q is not %s", unit.text, want)
	})
}

func (t *terms) word(name string) string { return readIn(t, name, "", cell.word) }

func (t *terms) fraction(name string) float64 { return readIn(t, name, "", cell.fraction) }

// valid limits the offset to its days.
func (t *terms) valid(s StripTerms) density.Scope {
	return readIn(t, "offset valid", "days", func(v cell) (density.Scope, error) {
		days, err := v.count()
		if err != nil {
			return density.Scope{}, err
		}
		scope, err := s.Scope.ValidFor(s.Made, days)
		if err != nil {
			return density.Scope{}, v.fail(err)
		}
		return scope, nil
	})
}

// tolerance reads a difference in the unit of the contract.
func (t *terms) tolerance(name string, contract units.DensityUnit) units.DensityDifference {
	return read(t, name, func(v, unit cell) (units.DensityDifference, error) {
		d, err := v.difference(unit)
		if err == nil {
			err = unit.check(d.Unit(), contract)
		}
		return d, err
	})
}

func (t *terms) place(name, unit string, m units.RoundingMethod) units.Rounding {
	return readIn(t, name, unit, func(v cell) (units.Rounding, error) { return v.rounding(m) })
}

// percent reads a percentage of the kind of density that this job is judged by.
func (t *terms) percent(name string, kind density.ReferenceKind) decimal.Decimal {
	return read(t, name, func(v, unit cell) (decimal.Decimal, error) {
		k, err := density.ParseReferenceKind(unit.text)
		if err != nil {
			return decimal.Decimal{}, unit.fail(err)
		}
		if k != kind {
			return decimal.Decimal{}, unit.failf("%w: the results are %s", density.ErrKind, kind.PercentOf())
		}
		return v.decimal()
	})
}

// limits reads the two limits; the value "none" means that there is no such limit.
func (t *terms) limits(kind density.ReferenceKind) lot.Limits {
	none := func(v, _ cell) (bool, error) { return v.text == "none", nil }
	noLower, noUpper := read(t, "lower limit", none), read(t, "upper limit", none)
	switch {
	case noLower && noUpper:
		return lot.Limits{}
	case noUpper:
		return lot.AtLeastDecimal(t.percent("lower limit", kind))
	case noLower:
		return lot.AtMostDecimal(t.percent("upper limit", kind))
	}
	return lot.BetweenDecimal(t.percent("lower limit", kind), t.percent("upper limit", kind))
}

func (t *terms) method(name string) units.RoundingMethod {
	return readIn(t, name, "", func(v cell) (units.RoundingMethod, error) {
		for m := units.HalfEven; m <= units.HalfUp; m++ {
			if m.String() == v.text {
				return m, nil
			}
		}
		return 0, v.failf("%q is not half-even or half-up", v.text)
	})
}

func (t *terms) side(name string) stats.Side {
	return readIn(t, name, "", func(v cell) (stats.Side, error) {
		for s := stats.Low; s <= stats.TwoSide; s++ {
			if s.String() == v.text {
				return s, nil
			}
		}
		return 0, v.failf("%q is not low, high or two-sided", v.text)
	})
}

// finish reports a term that nobody reads: a slip of the pen there would
// otherwise change nothing and say nothing.
func (t *terms) finish() error {
	if t.err != nil {
		return t.err
	}
	var unknown []row
	for name, r := range t.rows {
		if !t.used[name] {
			unknown = append(unknown, r)
		}
	}
	if unknown == nil {
		return nil
	}
	first := slices.MinFunc(unknown, func(a, b row) int { return a["term"].line - b["term"].line })
	return first["term"].failf("unknown term %q", first["term"].text)
}

func readContract(files fs.FS) (Contract, error) {
	t, err := readTerms(files, "contract.csv")
	if err != nil {
		return Contract{}, err
	}
	schedule, err := readSchedule(files)
	if err != nil {
		return Contract{}, err
	}
	c := Contract{Kind: density.KindMaximumTheoretical, Project: t.word("project")}
	c.Water = read(t, "water density", func(v, unit cell) (units.WaterConvention, error) {
		if _, err := v.density(unit); err != nil {
			return 0, err
		}
		w, err := units.ParseWaterConvention(v.text + " " + unit.text)
		if err != nil {
			return 0, v.fail(err)
		}
		return w, nil
	})
	m := t.method("rounding method")
	density01 := t.place("round density", c.unit().String(), m)
	c.Gravity = t.place("round gravity", "", m)
	c.Rounding = density.RoundingPolicy{Mean: units.Rounding{Method: units.Absolute}, Density: density01, Maximum: density01, Percentage: t.place("round percentage", "%", m)}
	c.Strip = StripTerms{Scope: density.Scope{Gauge: t.word("gauge"), Mix: t.word("mix"), Lift: t.word("lift"), Base: t.word("base")}, Source: t.word("offset source"),
		Made: readIn(t, "offset made", "", cell.date), Level: t.fraction("offset confidence"), Alpha: t.fraction("core screen alpha"), Tolerance: t.tolerance("offset tolerance", c.unit()), Rounding: density01}
	c.Strip.Scope = t.valid(c.Strip)
	c.Pattern = density.PatternOptions{Tolerance: t.tolerance("pattern tolerance", c.unit()), MinMat: read(t, "lowest mat temperature", cell.temperature)}
	planTerms := t.planTerms(c, m, schedule)
	if err := t.finish(); err != nil {
		return Contract{}, err
	}
	c.Plan, err = lot.NewPlan(planTerms)
	if err != nil {
		return Contract{}, t.placed(err)
	}
	return c, nil
}

// placed gives an error about the terms of the plan the place of the term.
func (t *terms) placed(err error) error {
	var bad *stats.InputError
	if !errors.As(err, &bad) {
		return err
	}
	name := map[string]string{"t.Limits": "lower limit", "t.Plausible": "plausible from", "t.UnitPrice": "price",
		"t.Outlier.MinN": "outlier fewest results"}[bad.Arg]
	if r, ok := t.rows[name]; ok {
		return r["value"].fail(err)
	}
	if bad.Arg == "t.Schedule" {
		return cell{file: "schedule.csv", line: 1, column: 1}.fail(err)
	}
	return cell{file: t.file, line: 1, column: 1}.fail(err)
}

func (t *terms) planTerms(c Contract, m units.RoundingMethod, schedule lot.Schedule) lot.Terms {
	none := units.Rounding{Method: units.Absolute}
	currency := read(t, "price", func(_, unit cell) (string, error) { return unit.word() })
	return lot.Terms{
		Name:           c.Project,
		Characteristic: "mat density",
		Unit:           c.Kind.PercentOf(),
		Limits:         t.limits(c.Kind),
		Plausible:      lot.BetweenDecimal(t.percent("plausible from", c.Kind), t.percent("plausible to", c.Kind)),
		Rounding: lot.RoundingPolicy{Value: none, Mean: none, StdDev: none, Q: t.place("round quality index", "", m),
			Measure: t.place("round percent within limits", "%", m), Factor: t.place("round pay factor", "", m), Money: t.place("round money", currency, m)},
		Estimation: lot.Estimation{Method: lot.ExactWithin},
		GmmSource:  "mean of day",
		Outlier: &lot.OutlierPolicy{Test: lot.GrubbsTest, Side: t.side("outlier side"), Alpha: t.fraction("outlier alpha"),
			MinN: readIn(t, "outlier fewest results", "", cell.count)},
		Schedule:     schedule,
		UnitPrice:    readIn(t, "price", currency, cell.decimal),
		Currency:     currency,
		QuantityUnit: t.word("quantity unit"),
	}
}

func readSchedule(files fs.FS) (lot.Schedule, error) {
	rows, err := table(files, "schedule.csv", "from", "intercept", "slope", "reject")
	if err != nil {
		return lot.Schedule{}, err
	}
	var segments []lot.Segment
	for _, r := range rows {
		s, err := r.segment()
		if err != nil {
			return lot.Schedule{}, err
		}
		segments = append(segments, s)
	}
	schedule, err := lot.NewSchedule(segments...)
	if err != nil {
		return schedule, atRow("schedule.csv", rows, "from", err)
	}
	return schedule, nil
}

func (r row) segment() (lot.Segment, error) {
	from, err := r["from"].decimal()
	if err != nil {
		return lot.Segment{}, err
	}
	switch r["reject"].text {
	case "yes":
		return lot.Segment{From: from, Reject: true}, nil
	case "no":
	default:
		return lot.Segment{}, r["reject"].failf("%q is not yes or no", r["reject"].text)
	}
	intercept, err := r["intercept"].decimal()
	if err != nil {
		return lot.Segment{}, err
	}
	slope, err := r["slope"].decimal()
	if err != nil {
		return lot.Segment{}, err
	}
	return lot.Segment{From: from, Pay: lot.Formula(intercept, slope)}, nil
}
