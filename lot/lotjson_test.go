package lot_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/units"
)

func TestLotJSONReadsBack(t *testing.T) {
	l := lotOf("93.20", "92.1", "94.3", "91.8")
	l.Results[0].Origin, l.Results[1].Removed, l.Results[1].Cause = "core", true, "broken"
	l.Results = append(l.Results, lot.Result{ID: "S2R", Value: d("92.9"), RetestOf: "S2", Origin: "gauge"})
	data, err := json.Marshal(l)
	if err != nil {
		t.Fatal(err)
	}
	var back lot.Lot
	if err := json.Unmarshal(data, &back); err != nil || cmp.Diff(l, back) != "" || back.Results[0].Value.Exponent() != -2 {
		t.Errorf("%v\n%s", err, cmp.Diff(l, back))
	}
	for _, tt := range []struct {
		from, to, path string
		want           error
	}{
		{`"93.20"`, `93.20`, "/results/0/value", lot.ErrKind},
		{`"93.20"`, `"nan"`, "/results/0/value", units.ErrSyntax},
		{`"93.20"`, `"0x1p-2"`, "/results/0/value", units.ErrSyntax},
		{`"93.20"`, `"9_3"`, "/results/0/value", units.ErrSyntax},
		{`"93.20"`, `"93.2\u00a0"`, "/results/0/value", units.ErrSyntax},
		{`"id":"S1"`, `"id":""`, "/results/0/id", lot.ErrNoID},
		{`"id":"S1"`, `"ID":"S1"`, "/results/0/ID", lot.ErrUnknownKey},
		{`"origin":"core"`, `"origin":"a\nb"`, "/results/0/origin", lot.ErrText},
	} {
		_, err := lot.ParseLot(bytes.Replace(data, []byte(tt.from), []byte(tt.to), 1))
		var bad *lot.FormatError
		if !errors.As(err, &bad) || bad.Path != tt.path || !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %s: %v", tt.to, err, tt.path, tt.want)
		}
	}
	for _, bad := range []lot.Lot{{}, {ID: "1", Results: []lot.Result{{}}}, {ID: "1", Results: []lot.Result{{ID: "a", Value: d("1").Shift(1 << 30)}}}} {
		if data, err := bad.MarshalJSON(); err == nil {
			t.Errorf("%s was written", data)
		}
	}
	l.Results[3].Value = decimal.Decimal{} // which is not 0
	var bad *lot.FormatError
	if data, err := l.MarshalJSON(); !errors.As(err, &bad) || bad.Path != "/results/3/value" || !errors.Is(err, lot.ErrMissing) {
		t.Errorf("a missing value was written as %s, %v", data, err)
	}
	l.Results[3].Value = decimal.New(0, 0)
	if data, err := l.MarshalJSON(); err != nil || !bytes.Contains(data, []byte(`"value":"0"`)) {
		t.Errorf("a recorded 0 was written as %s, %v", data, err)
	}
}

func TestEvaluationJSONReadsBack(t *testing.T) {
	for _, c := range everything(t) {
		for _, values := range [][]string{{"93.2", "92.1", "94.3", "93.8"}, {"93", "93", "93", "93"}, {"91.2", "91.3", "91.4", "90.1"}, {"95.1", "95.3", "94.9", "93.1"}} {
			e, err := plan(t, c).Evaluate(lotOf(values...))
			if err != nil {
				t.Fatal(err)
			}
			data, err := json.Marshal(e)
			if err != nil {
				t.Fatal(err)
			}
			var back lot.Evaluation
			if err := json.Unmarshal(data, &back); err != nil || cmp.Diff(e, back) != "" {
				t.Errorf("%v\n%s\n%s", err, cmp.Diff(e, back), data)
			}
		}
	}
}
