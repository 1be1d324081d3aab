package lot_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/stats"
)

func TestFieldSheetJSON(t *testing.T) {
	for _, seed := range []uint64{20260511, math.MaxUint64} {
		for _, alter := range []func(*lot.SamplingTerms){func(*lot.SamplingTerms) {}, func(t *lot.SamplingTerms) { t.Across = nil },
			func(t *lot.SamplingTerms) { t.Start, t.Along.Rounding = d("1234.50"), absolute }} {
			c := samplingTerms()
			alter(&c)
			sheet, err := lot.RandomLocations(c, seed)
			if err != nil {
				t.Fatal(err)
			}
			data, err := json.Marshal(sheet)
			var back lot.FieldSheet
			if err == nil {
				err = json.Unmarshal(data, &back)
			}
			if diff := cmp.Diff(sheet, back); err != nil || diff != "" {
				t.Errorf("%v, %s\n%s", err, diff, data)
			}
		}
	}
	sheet, err := lot.RandomLocations(samplingTerms(), 7)
	if err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(sheet)
	if err != nil {
		t.Fatal(err)
	}
	for name, tt := range map[string]struct {
		from, to, path string
		want           error
	}{
		"another seed":        {`"seed":"7"`, `"seed":"8"`, "/locations", lot.ErrNotDrawn},
		"a seed that is none": {`"seed":"7"`, `"seed":"-0"`, "/seed", lot.ErrOutOfDomain},
		"a seed as a number":  {`"seed":"7"`, `"seed":7`, "/seed", lot.ErrKind},
		"another size":        {`"id":"2","size":"250"`, `"id":"2","size":"0"`, "/terms/sublots/1", stats.ErrParameter},
		"a sublot twice":      {`"id":"2","size":"250"`, `"id":"1","size":"250"`, "/terms/sublots/1", lot.ErrRepeatedID},
		"no unit":             {`"unit":"m"`, `"unit":""`, "/terms/across/unit", lot.ErrMissing},
		"another weight":      {`"weight":"0.26881720430107525"`, `"weight":"0.25"`, "/locations", lot.ErrNotDrawn},
	} {
		_, err := lot.ParseFieldSheet([]byte(strings.Replace(string(data), tt.from, tt.to, 1)))
		var bad *lot.FormatError
		if !errors.Is(err, tt.want) || !errors.As(err, &bad) || bad.Path != tt.path || bad.Func != "lot.ParseFieldSheet" {
			t.Errorf("%s: %v, want %s: %v", name, err, tt.path, tt.want)
		}
	}
	sheet.Locations[0].Along.At = d("1")
	if _, err := json.Marshal(sheet); !errors.Is(err, lot.ErrNotDrawn) {
		t.Errorf("a place changed by hand: %v", err)
	}
}
