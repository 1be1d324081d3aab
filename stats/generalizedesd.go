package stats

import (
	"fmt"
	"math"
	"slices"
)

// ESDStep is one row of [GeneralizedESD]: the most extreme of the values that are
// left.
type ESDStep struct {
	Summary          // of the values left
	Index    int     // position in xs of the suspect
	Suspect  float64 // xs[Index]
	R        float64 // |Suspect - Mean|/StdDev, 0 where nothing varies
	Critical float64
}

// ESDResult is the outcome of [GeneralizedESD]. The first Outliers rows of Steps are
// the outliers.
type ESDResult struct {
	Steps    []ESDStep
	Outliers int
	Side     Side
	Alpha    float64
	Warnings []Warning
}

// leastForESD is the sample size from which Rosner's simulations find the level of
// the procedure accurate.
const leastForESD = 25

// GeneralizedESD looks for up to most outliers in xs, by taking away the most
// extreme value again and again and comparing its deviation with
//
//	λ(i) = t·(n-i)/√((n-i-1+t²)(n-i+1)),   i = 1 ... most
//
// where t is the upper α/(2(n-i+1)) point of Student's t with n-i-1 degrees of
// freedom, α/(n-i+1) for one side. The number of outliers is the largest i with
// R(i) > λ(i), so that outliers which hide each other in the first steps are found
// in a later one; a first step below λ(1) then has [WarnMasking]. Unlike repeated
// single tests it nearly holds the level: at alpha 0.05 and most 3 it finds something
// in 0.052, 0.057, 0.067 and 0.086 of normal samples of 50, 25, 15 and 10 (simulated).
// Below 25 Warnings holds [WarnSmallN].
//
// xs holds finite values in any order and is not changed; most is at least 1 and at
// most n-2. side says which values are suspected; alpha is the significance as a
// fraction in (0, 1). It assumes a normal population. Where equal values are cut
// apart by the verdict Warnings holds [WarnTies].
//
// Errors are [*InputError] around [ErrTooFew], [ErrNotFinite], [ErrLevel],
// [ErrParameter] (side, most) or [ErrOverflow].
//
// Source: B. Rosner, Technometrics 25 (1983) 165; NIST/SEMATECH e-Handbook of
// Statistical Methods, 1.3.5.17.3.
func GeneralizedESD(xs []float64, most int, side Side, alpha float64) (ESDResult, error) {
	const fn = "stats.GeneralizedESD"
	if err := checkESD(fn, len(xs), most, side, alpha); err != nil {
		return ESDResult{}, err
	}
	r := ESDResult{Side: side, Alpha: alpha}
	left, positions := slices.Clone(xs), make([]int, len(xs))
	for i := range positions {
		positions[i] = i
	}
	for i := range most {
		s, err := summarize(fn, "xs", left)
		if err != nil {
			return ESDResult{}, err
		}
		at := suspect(left, s.Mean, side)
		step := ESDStep{Summary: s, Index: positions[at], Suspect: left[at], Critical: grubbsCriticalOf(s.N, side, alpha)}
		if s.StdDev > 0 {
			step.R = min(math.Abs(left[at]-s.Mean)/s.StdDev, maxDeviation(s.N))
		}
		if step.R > step.Critical {
			r.Outliers = i + 1
		}
		r.Steps = append(r.Steps, step)
		left, positions = slices.Delete(left, at, at+1), slices.Delete(positions, at, at+1)
	}
	r.Warnings = r.doubts(xs)
	return r, nil
}

func checkESD(fn string, n, most int, side Side, alpha float64) error {
	switch {
	case n < 3:
		return tooFew(fn, "xs", n, 3)
	case side < Low || side > TwoSide:
		return outOfRange(fn, "side", side.String(), anySide)
	case most < 1 || most > n-2:
		return outOfRange(fn, "most", fmt.Sprint(most), fmt.Sprintf("1 to %d, two fewer than the values", n-2))
	}
	return checkFraction(fn, "alpha", alpha)
}

func (r ESDResult) doubts(xs []float64) (ws []Warning) {
	if r.Steps[0].StdDev == 0 {
		return []Warning{{Code: WarnConstant, Text: "all values are equal, so none is an outlier"}}
	}
	if n := len(xs); n < leastForESD {
		ws = append(ws, Warning{Code: WarnSmallN, Text: fmt.Sprintf("with %d values the level is not kept well; %d would do", n, leastForESD)})
	}
	if r.Outliers > 1 && r.Steps[0].R <= r.Steps[0].Critical {
		ws = append(ws, Warning{Code: WarnMasking, Text: fmt.Sprintf("the %d outliers hide each other: a test for one would find none", r.Outliers)})
	}
	if r.Outliers > 0 {
		last := r.Steps[r.Outliers-1].Suspect
		taken := 0
		for _, s := range r.Steps[:r.Outliers] {
			if s.Suspect == last {
				taken++
			}
		}
		if n := count(xs, last); n > taken {
			ws = append(ws, Warning{Code: WarnTies, Text: fmt.Sprintf("%d values equal the last outlier and only %d of them are among the outliers", n, taken)})
		}
	}
	return ws
}
