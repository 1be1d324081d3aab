package bias

import (
	"fmt"
	"math"

	"github.com/densilot/densilot/stats"
)

// Laboratory is what one laboratory, gauge or operator found on one material.
type Laboratory struct {
	ID      string
	Results []float64 // in one unit, as many as every other laboratory has
}

// LaboratoryScore says how one laboratory stands among the others.
type LaboratoryScore struct {
	ID       string
	Mean     float64
	StdDev   float64
	H, K     float64 // its mean less that of all in standard deviations of the means; its standard deviation over the pooled one
	Far      bool    // |H| is above HCritical
	Unsteady bool    // K is above KCritical
}

// LaboratoryStudy is the precision of a method as laboratories showed it on one
// material, in the unit of the results.
type LaboratoryStudy struct {
	Laboratories    int
	Replicates      int
	Mean            float64
	MeansStdDev     float64 // of the means of the laboratories
	Repeatability   float64 // standard deviation within a laboratory
	Reproducibility float64 // of one result in any laboratory, at least Repeatability
	Scores          []LaboratoryScore
	HCritical       float64
	KCritical       float64
	Alpha           float64
}

// CompareLaboratories gives the repeatability and reproducibility of a method and
// shows which of the p laboratories stands apart, each with n results on one material:
//
//	s(r) = √(Σsᵢ²/p),   s(R) = √(s²(x̄) + s²(r)·(n-1)/n), at least s(r)
//	hᵢ = (x̄ᵢ - x̄)/s(x̄),   kᵢ = sᵢ/s(r)
//
// A laboratory is marked where |h| or k exceeds what alpha allows one chosen in
// advance to reach,
//
//	h = (p-1)·t/√(p·(t²+p-2)), t(1-α/2; p-2);   k = √(p/(1+(p-1)/F)), F(1-α; n-1, (p-1)(n-1))
//
// usually with alpha 0.005. A mark is a question to the laboratory; nothing is left
// out. p is at least 3, n at least 2. Where all means or all standard deviations are
// equal to 0, h or k is 0.
//
// Errors are [*stats.InputError] with the id, around [ErrNoID], [ErrRepeatedID],
// [stats.ErrTooFew], [stats.ErrLength], [stats.ErrNotFinite], [stats.ErrLevel] or
// [stats.ErrOverflow].
//
// Source: ASTM E691 (from memory).
func CompareLaboratories(labs []Laboratory, alpha float64) (LaboratoryStudy, error) {
	const fn = "bias.CompareLaboratories"
	if !(alpha > 0 && alpha < 1) {
		return LaboratoryStudy{}, refuse(fn, "alpha", fmt.Sprint(alpha), stats.ErrLevel)
	}
	if len(labs) < 3 {
		return LaboratoryStudy{}, refuse(fn, "labs", "", fmt.Errorf("%w (have %d, need 3)", stats.ErrTooFew, len(labs)))
	}
	s := LaboratoryStudy{Laboratories: len(labs), Replicates: len(labs[0].Results), Alpha: alpha}
	if err := s.summarize(fn, labs); err != nil {
		return LaboratoryStudy{}, err
	}
	if err := s.critical(); err != nil {
		return LaboratoryStudy{}, err
	}
	s.score()
	return s, nil
}

func (s *LaboratoryStudy) summarize(fn string, labs []Laboratory) error {
	seen := make(map[string]bool, len(labs))
	var means []float64
	for i, l := range labs {
		if err := checkID(fn, "labs", i, l.ID, seen[l.ID]); err != nil {
			return err
		}
		seen[l.ID] = true
		if len(l.Results) != s.Replicates {
			return &stats.InputError{Func: fn, Arg: "labs", Index: i, ID: l.ID, Err: fmt.Errorf("%w (%d results, the first has %d)", stats.ErrLength, len(l.Results), s.Replicates)}
		}
		own, err := stats.Summarize(l.Results)
		if err != nil {
			return &stats.InputError{Func: fn, Arg: "labs", Index: i, ID: l.ID, Err: err}
		}
		means = append(means, own.Mean)
		s.Scores = append(s.Scores, LaboratoryScore{ID: l.ID, Mean: own.Mean, StdDev: own.StdDev})
		s.Repeatability = math.Hypot(s.Repeatability, own.StdDev/math.Sqrt(float64(len(labs))))
	}
	all, err := stats.Summarize(means)
	if err != nil {
		return err
	}
	n := float64(s.Replicates)
	s.Mean, s.MeansStdDev = all.Mean, all.StdDev
	s.Reproducibility = max(math.Hypot(s.MeansStdDev, s.Repeatability*math.Sqrt((n-1)/n)), s.Repeatability)
	if !isFinite(s.Reproducibility) {
		return refuse(fn, "labs", "", stats.ErrOverflow)
	}
	return nil
}

func (s *LaboratoryStudy) critical() error {
	p, n := float64(s.Laboratories), float64(s.Replicates)
	student, err := stats.NewStudentT(p - 2)
	if err != nil {
		return err
	}
	t, err := student.UpperQuantile(s.Alpha / 2)
	if err != nil {
		return err
	}
	ratio, err := stats.NewFDistribution(n-1, (p-1)*(n-1))
	if err != nil {
		return err
	}
	f, err := ratio.UpperQuantile(s.Alpha)
	if err != nil {
		return err
	}
	s.HCritical = (p - 1) / math.Sqrt(p) / math.Hypot(1, math.Sqrt(p-2)/t)
	s.KCritical = math.Sqrt(p / (1 + (p-1)/f))
	return nil
}

func (s *LaboratoryStudy) score() {
	for i := range s.Scores {
		l := &s.Scores[i]
		if s.MeansStdDev > 0 {
			l.H = (l.Mean - s.Mean) / s.MeansStdDev
		}
		if s.Repeatability > 0 {
			l.K = l.StdDev / s.Repeatability
		}
		l.Far, l.Unsteady = math.Abs(l.H) > s.HCritical, l.K > s.KCritical
	}
}
