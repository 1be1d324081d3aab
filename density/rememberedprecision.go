package density

import "github.com/shopspring/decimal"

// RememberedPrecision returns precision statements of the usual laboratory methods.
// All are from memory and the editions uncertain, as their notes say: they serve
// to try things out, and a decision needs the statement of the edition in force.
// One, the multilaboratory d2s of T 209 (2005) without dry-back, is not 2√2·s
// (0.018); it stands as remembered.
// The list is new at each call and belongs to the caller.
func RememberedPrecision() []Precision {
	var out []Precision
	for _, r := range []struct {
		standard, edition, property string
		single, multi               [2]string // s and d2s
	}{
		{"AASHTO T 209", "2005", "Gmm without dry-back", [2]string{"0.004", "0.011"}, [2]string{"0.0064", "0.019"}},
		{"AASHTO T 209", "2005", "Gmm with dry-back", [2]string{"0.0064", "0.018"}, [2]string{"0.0193", "0.055"}},
		{"AASHTO T 209", "2012", "Gmm", [2]string{"0.0051", "0.014"}, [2]string{"0.0084", "0.024"}},
		{"ASTM D2726", "not known", "Gmb surface-dry", [2]string{"0.0124", "0.035"}, [2]string{"0.0269", "0.076"}},
		{"ASTM D6752", "not known", "Gmb vacuum sealed", [2]string{"0.0124", "0.035"}, [2]string{"0.0135", "0.038"}},
		{"ASTM D3203", "not known", "air voids in percent", [2]string{"0.51", "1.44"}, [2]string{"1.09", "3.08"}},
	} {
		for i, numbers := range [][2]string{r.single, r.multi} {
			out = append(out, Precision{Standard: r.standard, Edition: r.edition, Property: r.property, Operators: SingleOperator + Operators(i),
				StdDev: decimal.RequireFromString(numbers[0]), D2S: decimal.RequireFromString(numbers[1]), Note: "from memory"})
		}
	}
	return out
}
