package stats

import (
	"math"
	"testing"
)

func TestRecordedResolution(t *testing.T) {
	tests := []struct {
		name   string
		xs     []float64
		want   Resolution // by hand
		coarse bool
	}{
		{"halves", []float64{93, 93.5, 93.5, 94, 93, 93.5}, Resolution{Distinct: 3, Step: 0.5, OnGrid: true, StepsInDeviation: math.Sqrt(17.0/24/5) / 0.5}, true},
		{"tenths", []float64{93.1, 94.4, 92.8, 95.0, 92.9}, Resolution{Distinct: 5, Step: 0.1, OnGrid: true, StepsInDeviation: 9.964938534682503}, false}, // R: sd(x)/0.1
		{"no grid", []float64{0, 1, math.Pi, 10}, Resolution{Distinct: 4, Step: 1, StepsInDeviation: 4.504569668905608}, false},                           // R: sd(x)
		{"two values", []float64{0, 1}, Resolution{Distinct: 2, Step: 1, StepsInDeviation: math.Sqrt(0.5)}, false},
		{"equal", []float64{3, 3, 3}, Resolution{Distinct: 1}, false},
	}
	for _, tt := range tests {
		r, err := RecordedResolution(tt.xs)
		if err != nil || r.Distinct != tt.want.Distinct || r.OnGrid != tt.want.OnGrid || r.Coarse() != tt.coarse ||
			math.Abs(r.Step-tt.want.Step) > 1e-13 || math.Abs(r.StepsInDeviation-tt.want.StepsInDeviation) > 1e-7 {
			t.Errorf("%s: %+v, %v", tt.name, r, err)
		}
		if ws := r.Warnings(); (len(ws) == 1 && ws[0].Code == WarnResolution) != tt.coarse {
			t.Errorf("%s: warnings %v", tt.name, ws)
		}
	}
}
