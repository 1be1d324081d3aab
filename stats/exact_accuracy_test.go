package stats

import (
	"fmt"
	"math/big"
	"strings"
	"testing"
)

// The certified values hold for the decimal text of the data, not for the float64
// values read from it. These tests run the formulas of LagOne, Summarize and
// OneWay on the text in rational arithmetic: if they agree with NIST, so do the
// formulas, and what is missing from the tables of the other accuracy tests is
// the rounding of the input alone.

func rationals(t *testing.T, rows [][]string, at int) []*big.Rat {
	t.Helper()
	xs := make([]*big.Rat, len(rows))
	for i, row := range rows {
		x, ok := new(big.Rat).SetString(row[at])
		if !ok {
			t.Fatalf("row %d: %q is no decimal", i, row[at])
		}
		xs[i] = x
	}
	return xs
}

func ratMean(xs []*big.Rat) *big.Rat {
	sum := new(big.Rat)
	for _, x := range xs {
		sum.Add(sum, x)
	}
	return sum.Quo(sum, big.NewRat(int64(len(xs)), 1))
}

// ratProducts returns Σ(xᵢ-centre)(xᵢ₊ₗ-centre).
func ratProducts(xs []*big.Rat, centre *big.Rat, lag int) *big.Rat {
	sum := new(big.Rat)
	for i := range xs[lag:] {
		a, b := new(big.Rat).Sub(xs[i], centre), new(big.Rat).Sub(xs[i+lag], centre)
		sum.Add(sum, a.Mul(a, b))
	}
	return sum
}

func toBig(x *big.Rat) *big.Float { return new(big.Float).SetPrec(300).SetRat(x) }

func rootOf(x *big.Rat) *big.Float { return new(big.Float).SetPrec(300).Sqrt(toBig(x)) }

// checkPrinted wants got to round to the certified text and to agree with the 30
// digits of the rational recomputation.
func checkPrinted(t *testing.T, set certified, name, quantity string, got *big.Float) string {
	t.Helper()
	printed := set.printed(quantity)
	mantissa, exponent, _ := strings.Cut(strings.ToLower(printed), "e")
	decimals := 0
	if _, fraction, ok := strings.Cut(mantissa, "."); ok {
		decimals = len(fraction)
	}
	half := parseBig(t, fmt.Sprintf("0.5e%s", orZero(exponent)))
	half.Quo(half, parseBig(t, fmt.Sprintf("1e%d", decimals)))
	// A hair more than half a unit, for the 200 bits the texts are read with.
	half.Mul(half, parseBig(t, "1.0000000001"))
	off := new(big.Float).Sub(got, parseBig(t, printed))
	if off.Abs(off).Cmp(half) > 0 {
		t.Errorf("%s %s = %.20g, certified %s", name, quantity, got, printed)
	}
	if want := set.exact(t, quantity); lreBig(got, want) < 29 {
		t.Errorf("%s %s = %.35g, recomputed %.35g", name, quantity, got, want)
	}
	return got.Text('g', 18)
}

func orZero(exponent string) string {
	if exponent == "" {
		return "0"
	}
	return exponent
}

// lreBig is the number of right digits, up to 40.
func lreBig(got, want *big.Float) int {
	off := new(big.Float).Sub(got, want)
	if off.Sign() == 0 {
		return 40
	}
	off.Quo(off, want)
	return min(40, -int(float64(off.MantExp(nil))*0.30103))
}

func TestUnivariateExactAccuracy(t *testing.T) {
	var table strings.Builder
	fmt.Fprintf(&table, "from decimal text\n%-9s %22s %22s %22s\n", "set", "mean", "s", "r1")
	sets := readCertified(t, "univariate")
	for _, name := range univariateSets {
		xs := rationals(t, strdRows(t, "univariate", name), 0)
		mean := ratMean(xs)
		squares := ratProducts(xs, mean, 0)
		variance := new(big.Rat).Quo(squares, big.NewRat(int64(len(xs)-1), 1))
		r1 := new(big.Rat).Quo(ratProducts(xs, mean, 1), squares)
		fmt.Fprintf(&table, "%-9s %22s %22s %22s\n", name,
			checkPrinted(t, sets[name], name, "mean", toBig(mean)),
			checkPrinted(t, sets[name], name, "sd", rootOf(variance)),
			checkPrinted(t, sets[name], name, "r1", toBig(r1)))
	}
	t.Log(table.String())
}

func TestOneWayExactAccuracy(t *testing.T) {
	var table strings.Builder
	fmt.Fprintf(&table, "from decimal text\n%-8s %22s %22s %22s %22s %22s\n", "set", "SS between", "SS within", "F", "R²", "residual sd")
	sets := readCertified(t, "anova")
	for _, name := range anovaSets {
		rows := strdRows(t, "anova", name)
		fmt.Fprintf(&table, "%-8s", name)
		for i, got := range ratOneWay(rationals(t, rows, 1), rows) {
			fmt.Fprintf(&table, " %22s", checkPrinted(t, sets[name], name, anovaQuantities[i], got))
		}
		fmt.Fprintln(&table)
	}
	t.Log(table.String())
}

// ratOneWay returns the figures named by anovaQuantities; the first field of a
// row is its group.
func ratOneWay(xs []*big.Rat, rows [][]string) []*big.Float {
	mean := ratMean(xs)
	between, within := new(big.Rat), new(big.Rat)
	groups := 0
	for start := 0; start < len(xs); groups++ {
		end := start
		for end < len(xs) && rows[end][0] == rows[start][0] {
			end++
		}
		group := xs[start:end]
		centre := ratMean(group)
		within.Add(within, ratProducts(group, centre, 0))
		off := centre.Sub(centre, mean)
		off.Mul(off, off)
		between.Add(between, off.Mul(off, big.NewRat(int64(len(group)), 1)))
		start = end
	}
	total := new(big.Rat).Add(between, within)
	residual := new(big.Rat).Quo(within, big.NewRat(int64(len(xs)-groups), 1))
	f := new(big.Rat).Quo(between, big.NewRat(int64(groups-1), 1))
	f.Quo(f, residual)
	return []*big.Float{toBig(between), toBig(within), toBig(f), toBig(new(big.Rat).Quo(between, total)), rootOf(residual)}
}
