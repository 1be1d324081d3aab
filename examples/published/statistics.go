package main

import (
	"errors"
	"math"
	"strings"

	"github.com/densilot/densilot/stats"
)

// figures name what gives several numbers at once; the input says which one it is
// about.
var figures = map[string]func(*input) (map[string]float64, error){
	"mean interval":              meanInterval,
	"t test":                     tTest,
	"F test":                     fTest,
	"generalized ESD":            generalizedESD,
	"two outliers":               twoOutliers,
	"Deming line":                demingLine,
	"line with errors per point": yorkLine,
	"calibration":                calibration,
	"lack of fit":                lackOfFit,
	"variance components":        varianceComponents,
	"individuals chart":          individualsChart,
	"cumulative sums":            cumulativeSums,
	"chart constants":            chartConstants,
	"subgroup chart":             subgroupChart,
	"moving average":             movingAverage,
	"Shapiro-Wilk":               shapiroWilk,
}

var errNoFigure = errors.New("no such figure")

// figure returns the one that the input asks for.
func figure(in *input, all func(*input) (map[string]float64, error)) (float64, error) {
	values, err := all(in)
	if err != nil {
		return 0, err
	}
	x, ok := values[in.values["figure"]]
	if !ok {
		return 0, errNoFigure
	}
	return x, nil
}

// summary reads n, mean and s; suffix tells two samples apart.
func (in *input) summary(suffix string) stats.Summary {
	return stats.Summary{N: in.int("n" + suffix), Mean: in.float("mean" + suffix), StdDev: in.float("s" + suffix)}
}

func meanInterval(in *input) (map[string]float64, error) {
	e, err := stats.MeanIntervalOf(in.summary(""), in.float("level"))
	return map[string]float64{"lower": e.CI.Lo, "upper": e.CI.Hi}, err
}

func tTest(in *input) (map[string]float64, error) {
	var r stats.TTest
	var err error
	switch design := in.values["design"]; {
	case design == "paired":
		r, err = stats.PairedT(in.floats("x"), in.floats("y"), 0.95)
	case design == "pooled" && in.has("n1"):
		r, err = stats.PooledTOf(in.summary("1"), in.summary("2"), 0.95)
	case design == "pooled":
		r, err = stats.PooledT(in.floats("x"), in.floats("y"), 0.95)
	default:
		r, err = stats.WelchT(in.floats("x"), in.floats("y"), 0.95)
	}
	if err != nil || r.T == nil {
		return nil, errors.Join(err, in.err)
	}
	return map[string]float64{"t": r.T.Value, "df": r.DF, "p": r.T.P, "lower": r.CI.Lo, "upper": r.CI.Hi}, nil
}

func fTest(in *input) (map[string]float64, error) {
	r, err := stats.EqualVariancesOf(in.summary("1"), in.summary("2"), 0.95)
	if err != nil || r.F == nil {
		return nil, errors.Join(err, in.err)
	}
	return map[string]float64{"F": r.F.Value, "p": r.F.P}, nil
}

func generalizedESD(in *input) (map[string]float64, error) {
	r, err := stats.GeneralizedESD(in.floats("x"), in.int("most"), stats.TwoSide, in.float("alpha"))
	values := map[string]float64{"outliers": float64(r.Outliers)}
	if step := in.int("step"); err == nil && step > 0 && step <= len(r.Steps) {
		values["R"], values["critical"] = r.Steps[step-1].R, r.Steps[step-1].Critical
	}
	return values, err
}

func twoOutliers(in *input) (map[string]float64, error) {
	x, err := stats.TwoOutliersCritical(in.int("n"), in.float("alpha"))
	return map[string]float64{"critical": x}, err
}

func demingLine(in *input) (map[string]float64, error) {
	f, err := stats.FitDeming(in.floats("x"), in.floats("y"), stats.DemingOptions{VarYOverVarX: in.float("variance y over x"), Level: 0.95, Method: stats.DemingJackknife})
	return map[string]float64{"intercept": f.Intercept.Value, "slope": f.Slope.Value, "s of intercept": f.Intercept.StdErr, "s of slope": f.Slope.StdErr,
		"intercept lower": f.InterceptCI.Lo, "intercept upper": f.InterceptCI.Hi, "slope lower": f.SlopeCI.Lo, "slope upper": f.SlopeCI.Hi}, err
}

// yorkLine takes errors, or weights that are 1 over their squares.
func yorkLine(in *input) (map[string]float64, error) {
	errorsOf := func(axis string) []float64 {
		if !in.has("weights " + axis) {
			return in.floats("errors " + axis)
		}
		sizes := in.floats("weights " + axis)
		for i, w := range sizes {
			sizes[i] = 1 / math.Sqrt(w)
		}
		return sizes
	}
	meaning := stats.AbsoluteErrors
	if in.values["meaning"] == "relative" {
		meaning = stats.RelativeErrors
	}
	f, err := stats.FitYork(in.floats("x"), in.floats("y"), errorsOf("x"), errorsOf("y"), stats.YorkOptions{Errors: meaning, Level: 0.95})
	return map[string]float64{"intercept": f.Intercept.Value, "slope": f.Slope.Value, "s of intercept": f.Intercept.StdErr, "s of slope": f.Slope.StdErr,
		"S/(n-2)": f.S / f.DF}, err
}

func calibration(in *input) (map[string]float64, error) {
	fit, err := stats.FitLine(in.floats("x"), in.floats("y"))
	if err != nil {
		return nil, err
	}
	method := stats.Fieller
	if in.values["method"] == "Wald" {
		method = stats.Wald
	}
	c, err := fit.Calibrate(in.float("at"), stats.CalibrationOptions{Readings: in.int("readings"), Level: in.float("level"), Method: method})
	return map[string]float64{"x": c.X, "lower": c.CI.Lo, "upper": c.CI.Hi, "half-width": c.CI.HalfWidth()}, err
}

func lackOfFit(in *input) (map[string]float64, error) {
	r, err := stats.LackOfFit(in.floats("x"), in.floats("y"))
	return map[string]float64{"intercept": r.Fit.Intercept.Value, "slope": r.Fit.Slope.Value, "R squared": r.Fit.RSquared,
		"residual sum": r.Fit.Residual.SS, "pure error sum": r.PureError.SS, "F": r.F, "p": r.P}, err
}

// varianceComponents takes values in order, nested in groups of the sizes given,
// the largest first.
func varianceComponents(in *input) (map[string]float64, error) {
	xs := in.floats("x")
	var factors [][]string
	for _, size := range in.floats("sizes") {
		names := make([]string, len(xs))
		for i := range names {
			names[i] = strings.Repeat("g", 1+i/int(size))
		}
		factors = append(factors, names)
	}
	v, err := stats.NestedComponents(xs, factors, stats.ComponentOptions{Level: 0.95, Method: stats.ModifiedLargeSample})
	values := map[string]float64{"mean": v.Mean}
	if level := in.int("component"); err == nil && level > 0 && level <= len(v.Components) {
		c := v.Components[level-1]
		values["variance"], values["standard deviation"] = c.Variance, c.StdDev
	}
	return values, err
}

func individualsChart(in *input) (map[string]float64, error) {
	c, err := stats.NewIndividualsChart(in.floats("x"), 3)
	return map[string]float64{"mean": c.Mean, "mean range": c.MeanRange, "lower": c.Limits.Lo, "upper": c.Limits.Hi, "limit of ranges": c.RangeLimit}, err
}

// cumulativeSums counts groups from 1, as the sources do.
func cumulativeSums(in *input) (map[string]float64, error) {
	r, err := stats.CUSUM(in.floats("x"), stats.CUSUMOptions{Target: in.float("target"), Reference: in.float("k"), DecisionInterval: in.float("h")})
	return map[string]float64{"first signal": float64(r.FirstSignal + 1)}, err
}
