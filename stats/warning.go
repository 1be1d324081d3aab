package stats

// WarningCode names a kind of warning for programs. Each package that warns
// declares its own codes as constants of this type.
type WarningCode string

// Codes of the warnings that functions of this package give.
const (
	WarnConstant WarningCode = "constant"      // all values are equal
	WarnSmallN   WarningCode = "small-n"       // too few values for the answer to mean much
	WarnMasking  WarningCode = "masking"       // several outliers may hide each other
	WarnTies     WarningCode = "tied-extremes" // more than one value is the extreme one
	WarnBound    WarningCode = "bounded-only"  // a probability is known within bounds only, and alpha lies between them
)

// Warning is a doubt about a sound result: the number beside it is right, but a
// person should read the text before acting on it.
type Warning struct {
	Code  WarningCode
	Text  string // one sentence, with what would help where something would
	Where string // the id, index or name it is about, "" for the whole result
}

// String returns the text, led by the place where there is one.
func (w Warning) String() string {
	if w.Where == "" {
		return w.Text
	}
	return w.Where + ": " + w.Text
}
