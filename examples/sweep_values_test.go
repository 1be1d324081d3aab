package examples_test

import (
	"context"
	"math"
	"math/big"
	"math/rand/v2"
	"reflect"
	"strings"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

var (
	sweptFloats = []float64{0, 1, 0.5, 0.05, 0.95, 2, 3, 7.5, 94.1, 147.2, -1, -2.4, 95, 1e-3, 1e6, 5e-324, 1e-300, 1e300,
		math.MaxFloat64, -math.MaxFloat64, math.Copysign(0, -1), math.NaN(), math.Inf(1), math.Inf(-1)}
	sweptInts    = []int64{0, 1, 2, 3, 4, 5, 6, 10, 30, 120, 301, -1, -7, math.MaxInt32, math.MaxInt64, math.MinInt64}
	sweptStrings = []string{"\x01" + strings.Repeat("\x00", 72), "", " ", "92.5", "92.5 lb/ft3", "2358 kg/m3", "2.514", "285 °F", "1e999", "-0", "nan", "0x1p3", "lb/ft3",
		"1250.5 g", "g", "12.5 mm", "mm", "°F",
		"% of maximum theoretical density", "G-07", "TC-12.5-A", "surface", "62.245 lb/ft3", "12+34.5 ft", "12+34.5", "-0+050 m",
		"half-even to 0.01", "mean of the day", "2026-05-12T14:05:00-05:00", "2026-05-12", "1e2147483647", "\xff\x00", "九"}
	sweptSamples = [][]float64{
		nil, {}, {94.1}, {94.1, 93.2}, {2, 4}, {94.1, 94.1}, {94.1, 93.2, 95.0, 92.8, 94.4}, {0.1, 0.1, 0.1, 0.1, 0.1}, {92, 92, 92.1},
		{93.1, 93.4, 93.2, 93.3, 88.0, 88.2}, {3, 1, 2, 5, 4}, {1, 1, 2, 3, 3}, {0, 0, 0, 0}, {1, 2, 3, math.NaN(), 4}, {math.NaN()},
		{1, 2, 3, 4, math.Inf(1)}, {math.Inf(-1), math.Inf(1), 3, 4}, {math.MaxFloat64, -math.MaxFloat64, math.MaxFloat64, 1},
		{math.MaxFloat64, math.MaxFloat64, math.MaxFloat64}, {5e-324, 1e-323, 0, 5e-324}, {94.1, 94.1, math.Nextafter(94.1, 95)},
		{0.01, 0.2, 0.9, 0, 1}, {1e-300, 1e300, -1e300, 2, 3, 4, 5, 6, 7, 8, 9, 10},
	}
)

// fiveEach are ordinary samples of one length, for what takes several together.
var fiveEach = [][]float64{{94.1, 93.2, 95, 92.8, 94.4}, {3, 1, 2, 5, 4}, {1, 1, 2, 3, 3}, {0.4, 0.5, 0.3, 0.5, 0.6}}

// generator makes values of any type: of those listed for it, or put together from
// its parts.
type generator struct {
	rng    *rand.Rand
	listed map[reflect.Type][]reflect.Value
}

func newGenerator() *generator {
	g := &generator{listed: make(map[reflect.Type][]reflect.Value)}
	for _, v := range sweptValues(nil) {
		g.list(reflect.TypeOf(v), reflect.ValueOf(v))
	}
	list(g, context.Background(), canceled())
	list[units.Water](g, nil, units.Water62_245, units.WaterConvention(0), units.WaterConvention(200))
	list[any](g, nil, "92.5 lb/ft3", []byte("2358 kg/m3"), int64(3), math.NaN(), true)
	list[func([]float64) (float64, error)](g, stats.Mean, stats.Median, worst, nil)
	list(g, nil, big.NewRat(1, 3), big.NewRat(0, 1), new(big.Rat).SetFrac64(-1<<62, 7))
	list(g, sweptSamples...)
	return g
}

func list[T any](g *generator, values ...T) {
	for _, v := range values {
		g.list(reflect.TypeFor[T](), reflect.ValueOf(&v).Elem())
	}
}

func (g *generator) list(t reflect.Type, v reflect.Value) { g.listed[t] = append(g.listed[t], v) }

func canceled() context.Context {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	return ctx
}

// worst is a statistic that returns what it should not.
func worst([]float64) (float64, error) { return math.NaN(), nil }

// of returns a value of a type, copied as deep as a call could write.
func (g *generator) of(t reflect.Type) reflect.Value {
	listed := g.listed[t]
	if len(listed) > 0 && (t.Kind() == reflect.Interface || g.rng.IntN(4) > 0) || t == reflect.TypeFor[*big.Rat]() {
		v := copied(listed[g.rng.IntN(len(listed))])
		if g.rng.IntN(2) == 0 {
			g.spoil(v)
		}
		return v
	}
	v := reflect.New(t).Elem()
	g.fill(v)
	return v
}

// align makes samples that come together, half of the time, equally long: it cuts
// them, or takes ordinary ones instead.
func (g *generator) align(args []reflect.Value) {
	sample := reflect.TypeFor[[]float64]()
	least, how := math.MaxInt, g.rng.IntN(4)
	for _, a := range args {
		if a.Type() == sample {
			least = min(least, a.Len())
		}
	}
	for i, a := range args {
		switch {
		case a.Type() != sample:
		case how == 0:
			args[i] = a.Slice(0, least)
		case how == 1:
			args[i] = copied(reflect.ValueOf(fiveEach[g.rng.IntN(len(fiveEach))]))
		}
	}
}

// spoil puts another value into one exported field of a struct.
func (g *generator) spoil(v reflect.Value) {
	if v.Kind() != reflect.Struct || v.NumField() == 0 {
		return
	}
	if f := v.Field(g.rng.IntN(v.NumField())); f.CanSet() {
		f.Set(g.of(f.Type()))
	}
}

// fill sets v, which is zero; unexported fields stay so.
func (g *generator) fill(v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		v.SetFloat(sweptFloats[g.rng.IntN(len(sweptFloats))])
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(sweptInts[g.rng.IntN(len(sweptInts))])
	case reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uint:
		v.SetUint(uint64(g.rng.IntN(12)))
	case reflect.String:
		v.SetString(sweptStrings[g.rng.IntN(len(sweptStrings))])
	case reflect.Bool:
		v.SetBool(g.rng.IntN(2) == 0)
	case reflect.Slice:
		g.fillSlice(v)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		v.Elem().Set(g.of(v.Type().Elem()))
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Field(i).CanSet() {
				v.Field(i).Set(g.of(v.Field(i).Type()))
			}
		}
	}
}

func (g *generator) fillSlice(v reflect.Value) {
	if v.Type().Elem().Kind() == reflect.Uint8 {
		v.SetBytes([]byte(sweptStrings[g.rng.IntN(len(sweptStrings))]))
		return
	}
	for range g.rng.IntN(6) {
		v.Set(reflect.Append(v, g.of(v.Type().Elem())))
	}
}

// copied returns v with slices of its own, and settable.
func copied(v reflect.Value) reflect.Value {
	c := reflect.New(v.Type()).Elem()
	c.Set(v)
	switch {
	case v.Kind() == reflect.Slice && !v.IsNil():
		c.Set(reflect.AppendSlice(reflect.MakeSlice(v.Type(), 0, v.Len()), v))
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			if f := c.Field(i); f.CanSet() {
				f.Set(copied(v.Field(i)))
			}
		}
	}
	return c
}
