package main

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// checks name what can be recomputed.
var checks = map[string]func(*input) (float64, error){
	"quality index":            func(in *input) (float64, error) { return lot.QualityIndex(in.float("pwl"), in.int("n")) },
	"percent within":           func(in *input) (float64, error) { return lot.PercentWithin(in.float("q"), in.int("n")) },
	"mean":                     func(in *input) (float64, error) { s, err := stats.Summarize(in.floats("x")); return s.Mean, err },
	"standard deviation":       func(in *input) (float64, error) { s, err := stats.Summarize(in.floats("x")); return s.StdDev, err },
	"quality index of results": qualityOfResults,
	"percent within limits":    percentWithinLimits,
	"outlier critical value": func(in *input) (float64, error) {
		// Below the region where one term is exact the second term is all but exact.
		lower, _, err := stats.GrubbsCriticalBounds(in.int("n"), in.side("side"), in.float("alpha"))
		return lower, err
	},
	"outlier G":               func(in *input) (float64, error) { r, err := grubbs(in); return r.G, err },
	"outlier p":               func(in *input) (float64, error) { r, err := grubbs(in); return r.P, err },
	"pay factor":              payFactor,
	"step factor":             stepFactor,
	"quadratic factor":        quadraticFactor,
	"composite factor":        composite,
	"mean absolute deviation": meanAbsoluteDeviation,
	"rounding":                rounding,
	"density in kg/m3":        func(in *input) (float64, error) { return in.density("density").In(units.KgPerM3), nil },
	"density in lb/ft3":       func(in *input) (float64, error) { return in.density("density").In(units.LbPerFt3), nil },
	"water in kg/m3":          func(in *input) (float64, error) { d, err := water(in); return d.In(units.KgPerM3), err },
	"water in lb/ft3":         func(in *input) (float64, error) { d, err := water(in); return d.In(units.LbPerFt3), err },
	"water factor R":          waterFactor,
	"maximum density":         maximumDensity,
	"percent of maximum":      percentOfMaximum,
	"percent of Gmm":          percentOfGmm,
	"air voids":               airVoids,
	"core density":            coreDensity,
	"Gmb surface-dry":         gmbSurfaceDry,
	"absorption":              absorption,
	"Gmm bowl":                gmmBowl,
	"Gmm flask":               gmmFlask,
	"two-sigma limit":         twoSigmaLimit,
	"offset":                  func(in *input) (float64, error) { e, err := offset(in); return e.Mean, err },
	"offset rounded":          func(in *input) (float64, error) { e, err := offset(in); return e.Offset.In(e.Unit), err },
	"offset s":                func(in *input) (float64, error) { e, err := offset(in); return e.StdDev, err },
	"offset standard error":   func(in *input) (float64, error) { e, err := offset(in); return e.StdErr, err },
	"offset lower":            func(in *input) (float64, error) { e, err := offset(in); return e.CI.Lo, err },
	"offset upper":            func(in *input) (float64, error) { e, err := offset(in); return e.CI.Hi, err },
	"within the limit on s":   withinLimitOnS,
	"prediction lower":        func(in *input) (float64, error) { e, err := offset(in); return e.Prediction.Lo, err },
	"prediction upper":        func(in *input) (float64, error) { e, err := offset(in); return e.Prediction.Hi, err },
	"pairs kept":              func(in *input) (float64, error) { r, err := eliminated(in); return float64(r.Kept.N), err },
	"offset of pairs kept":    func(in *input) (float64, error) { r, err := eliminated(in); return r.Kept.Mean, err },
	"s by the rule": func(in *input) (float64, error) {
		r, err := eliminated(in)
		return ruled(r).StdDev.In(units.LbPerFt3), err
	},
	"mean by the rule": func(in *input) (float64, error) {
		r, err := eliminated(in)
		return ruled(r).Mean.In(units.LbPerFt3), err
	},
	"s of pairs kept":       func(in *input) (float64, error) { r, err := eliminated(in); return r.Kept.StdDev, err },
	"mean of laboratories":  func(in *input) (float64, error) { r, err := laboratories(in); return r.Mean, err },
	"s of laboratories":     func(in *input) (float64, error) { r, err := laboratories(in); return r.MeansStdDev, err },
	"repeatability":         func(in *input) (float64, error) { r, err := laboratories(in); return r.Repeatability, err },
	"reproducibility":       func(in *input) (float64, error) { r, err := laboratories(in); return r.Reproducibility, err },
	"critical h":            func(in *input) (float64, error) { r, err := laboratories(in); return r.HCritical, err },
	"critical k":            func(in *input) (float64, error) { r, err := laboratories(in); return r.KCritical, err },
	"mean difference":       func(in *input) (float64, error) { r, err := agreement(in); return r.Mean, err },
	"s of differences":      func(in *input) (float64, error) { r, err := agreement(in); return r.StdDev, err },
	"seller's risk":         sellersRisk,
	"limiting quality":      limitingQuality,
	"place into the sublot": func(in *input) (float64, error) { p, err := placeOf(in); return p.Into.InexactFloat64(), err },
	"place in the lot":      func(in *input) (float64, error) { p, err := placeOf(in); return p.At.InexactFloat64(), err },
	"certified figure":      certifiedFigure,
	"corrected mean":        func(in *input) (float64, error) { a, err := audited(in); return a.Density.In(units.LbPerFt3), err },
	"percent of corrected": func(in *input) (float64, error) {
		a, err := audited(in)
		return a.Percentage.InexactFloat64(), err
	},
	"Dixon ratio":          dixonRatio,
	"Dixon critical value": dixonCritical,
}

var absolute = units.Rounding{Method: units.Absolute}

// fine rounds where a result must have a number of places, far beyond any print.
var fine = units.Rounding{Method: units.HalfEven, Places: 12}

// qualityOfResults runs the audited path, because some sources round s before it
// is used.
func qualityOfResults(in *input) (float64, error) {
	e, err := evaluate(in)
	if err != nil {
		return 0, err
	}
	if in.values["side"] == "upper" {
		return e.QU.Exact, nil
	}
	return e.QL.Exact, nil
}

// percentWithinLimits runs both paths and holds them together.
func percentWithinLimits(in *input) (float64, error) {
	e, err := evaluate(in)
	if err != nil {
		return 0, err
	}
	if in.has("round s") {
		return e.PWL.Exact, nil
	}
	w, err := lot.EstimateWithin(in.floats("x"), in.limits())
	if err == nil && (w.PWL-e.PWL.Exact > 1e-9 || e.PWL.Exact-w.PWL > 1e-9) {
		err = fmt.Errorf("float path %v, audited path %v", w.PWL, e.PWL.Exact)
	}
	return w.PWL, err
}

func evaluate(in *input) (lot.Evaluation, error) {
	schedule, err := lot.NewSchedule(lot.Segment{From: decimal.Zero, Pay: lot.Step(decimal.NewFromInt(1))})
	if err != nil {
		return lot.Evaluation{}, err
	}
	plan, err := lot.NewPlan(lot.Terms{Name: "check", Characteristic: "check", Unit: "%", UnitPrice: decimal.NewFromInt(1), QuantityUnit: "t", Currency: "USD", Limits: in.limits(),
		GmmSource: "none", Plausible: lot.Between(0, 200), Schedule: schedule, Estimation: lot.Estimation{Method: lot.ExactWithin},
		Rounding: lot.RoundingPolicy{Value: absolute, Mean: absolute, StdDev: in.places("round s"), Q: absolute, Measure: absolute, Factor: fine, Money: fine}})
	if err != nil {
		return lot.Evaluation{}, err
	}
	l := lot.Lot{ID: "1", Unit: "%"}
	for i, d := range in.decimals("x") {
		l.Results = append(l.Results, lot.Result{ID: fmt.Sprint(i), Value: d})
	}
	return plan.Evaluate(l)
}

func grubbs(in *input) (stats.GrubbsResult, error) {
	return stats.Grubbs(in.floats("x"), in.side("side"), in.float("alpha"))
}

func payFactor(in *input) (float64, error) {
	s, err := lot.NewSchedule(lot.Segment{From: decimal.Zero, Pay: lot.Formula(in.decimal("intercept"), in.decimal("slope"))})
	if err != nil {
		return 0, err
	}
	f, _, err := s.Factor(in.decimal("pwl"), fine)
	return f.InexactFloat64(), err
}

// quadraticFactor takes a formula in quality level/100 with its cap.
func quadraticFactor(in *input) (float64, error) {
	limit := in.decimal("max")
	s, err := lot.NewSchedule(lot.Segment{From: decimal.Zero, Pay: lot.Quadratic(in.decimal("c0"), in.decimal("c1").Shift(-2), in.decimal("c2").Shift(-4)), Max: &limit})
	if err != nil {
		return 0, err
	}
	f, _, err := s.Factor(in.decimal("quality level"), fine)
	return f.InexactFloat64(), err
}

func stepFactor(in *input) (float64, error) {
	var rows []lot.Segment
	factors := strings.Fields(in.values["factors"])
	for i, from := range in.decimals("from") {
		if factors[i] == "reject" {
			rows = append(rows, lot.Segment{From: from, Reject: true})
			continue
		}
		f, err := units.ParseDecimal(factors[i])
		if err != nil {
			return 0, err
		}
		rows = append(rows, lot.Segment{From: from, Pay: lot.Step(f)})
	}
	s, err := lot.NewSchedule(rows...)
	if err != nil {
		return 0, err
	}
	f, _, err := s.Factor(in.decimal("measure"), fine)
	return f.InexactFloat64(), err
}

func composite(in *input) (float64, error) {
	var parts []lot.CharacteristicFactor
	weights := in.decimals("weights")
	for i, f := range in.decimals("factors") {
		parts = append(parts, lot.CharacteristicFactor{Factor: f, Weight: weights[i]})
	}
	f, err := lot.Composite(parts, lot.CompositeTerms{Rule: lot.WeightedSum, Rounding: fine})
	return f.InexactFloat64(), err
}

func meanAbsoluteDeviation(in *input) (float64, error) {
	m, err := lot.MeanAbsoluteDeviation(in.decimals("x"), in.decimal("target"), fine)
	return m.InexactFloat64(), err
}

func rounding(in *input) (float64, error) {
	r := units.Rounding{Places: in.int("places")}
	for r.Method = units.HalfEven; r.Method < units.Absolute && r.Method.String() != in.values["method"]; r.Method++ {
	}
	d, err := r.Decimal(in.decimal("value"))
	return d.InexactFloat64(), err
}

func water(in *input) (units.Density, error) {
	w, err := units.WaterAt(in.temperature("t"))
	return w.Density(), err
}

func waterFactor(in *input) (float64, error) {
	d, err := water(in)
	if err != nil {
		return 0, err
	}
	standard, err := units.WaterAt(units.Celsius.Of(25))
	return d.In(units.KgPerM3) / standard.Density().In(units.KgPerM3), err
}

func reference(in *input) (density.Reference, error) {
	return density.MaximumTheoretical(in.gravity("gmm"), in.water("water"))
}

func maximumDensity(in *input) (float64, error) {
	ref, err := reference(in)
	return ref.Density().In(ref.Density().Unit()), err
}

func percentOfMaximum(in *input) (float64, error) {
	ref, err := reference(in)
	if err != nil {
		return 0, err
	}
	c, err := density.PercentCompaction(density.Core(in.density("density")), ref)
	return c.Percent, err
}

// percentOfGmm takes both gravities with one density of water, which cancels.
func percentOfGmm(in *input) (float64, error) {
	ref, err := density.MaximumTheoretical(in.gravity("gmm"), units.Water62_245)
	if err != nil {
		return 0, err
	}
	c, err := density.PercentCompaction(density.Core(in.gravity("gmb").Density(units.Water62_245)), ref)
	return c.Percent, err
}

func airVoids(in *input) (float64, error) {
	ref, err := density.MaximumTheoretical(in.gravity("gmm"), units.Water997_1)
	if err != nil {
		return 0, err
	}
	return density.AirVoids(density.Core(in.gravity("gmb").Density(units.Water997_1)), ref)
}

func coreDensity(in *input) (float64, error) {
	d := in.gravity("gmb").Density(in.water("water"))
	return d.In(d.Unit()), nil
}

func surfaceDry(in *input) (density.BulkGravity, error) {
	return density.GmbSurfaceDry(density.SurfaceDryMasses{Dry: in.grams("dry"), SurfaceDry: in.grams("surface dry"), InWater: in.grams("in water")}, fine, fine)
}

func gmbSurfaceDry(in *input) (float64, error) {
	g, err := surfaceDry(in)
	return g.Value.Float64(), err
}

func absorption(in *input) (float64, error) {
	g, err := surfaceDry(in)
	return g.Absorption.InexactFloat64(), err
}

func gmmBowl(in *input) (float64, error) {
	g, err := density.GmmBowl(density.BowlMasses{Dry: in.grams("dry"), BowlInWater: in.grams("bowl"), SampleInWater: in.grams("bowl and sample")}, fine)
	return g.Value.Float64(), err
}

// gmmFlask rounds the temperature factor to five places, as the procedure does.
func gmmFlask(in *input) (float64, error) {
	g, err := density.GmmFlask(density.FlaskMasses{Dry: in.grams("dry"), Filled: in.grams("flask"), WithSample: in.grams("flask and sample"), Water: in.temperature("t")},
		units.Rounding{Method: units.HalfEven, Places: 5}, fine)
	return g.Value.Float64(), err
}

var scope = density.Scope{Gauge: "check", Mix: "check", Lift: "check"}

// pairs takes cores and gauge readings in their order.
func pairs(in *input) (gauge []bias.Location, cores []bias.Core) {
	for i, r := range in.readings("gauge") {
		gauge = append(gauge, bias.Location{ID: fmt.Sprint(i), Readings: []density.Reading{r}})
	}
	for i, x := range in.floats("core") {
		cores = append(cores, bias.Core{ID: fmt.Sprint(i), Densities: []density.InPlace{density.Core(units.LbPerFt3.Of(x))}})
	}
	return gauge, cores
}

func offset(in *input) (bias.OffsetEstimate, error) {
	gauge, cores := pairs(in)
	return bias.EstimateOffset(gauge, cores, bias.Options{Level: 0.95, Rounding: in.places("places"), Scope: scope, Source: "check"})
}

// withinLimitOnS is 1 where the standard deviation of the differences keeps a
// limit, otherwise 0.
func withinLimitOnS(in *input) (float64, error) {
	e, err := offset(in)
	if err != nil || e.StdDev > in.float("limit") {
		return 0, err
	}
	return 1, nil
}

// audited takes readings to percent compaction on the audited path. Without a
// maximum density it stops at the corrected mean.
func audited(in *input) (density.Audited, error) {
	shift := units.LbPerFt3.Difference(in.float("offset"))
	c, err := density.NewOffset(density.Offset{Offset: shift, Exact: shift.Exact(units.LbPerFt3), Scope: scope, Source: "check"})
	if err != nil {
		return density.Audited{}, err
	}
	if !in.has("gmm") {
		mean, unit, err := density.MeanOf(in.readings("readings"))
		if err != nil {
			return density.Audited{}, err
		}
		x, _ := new(big.Rat).Add(mean, c.Exact()).Float64()
		return density.Audited{Density: unit.Of(x)}, nil
	}
	ref, err := reference(in)
	if err != nil {
		return density.Audited{}, err
	}
	return density.AuditReadings(in.readings("readings"), c, scope, ref,
		density.RoundingPolicy{Mean: absolute, Density: absolute, Maximum: in.places("round maximum"), Percentage: fine})
}
