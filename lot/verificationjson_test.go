package lot_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/densilot/densilot/lot"
)

// Verifications of every shape read back equal.
func TestVerificationJSONReadsBack(t *testing.T) {
	apart := independentPolicy()
	equivalent := splitPolicy()
	equivalent.Margins = &halfPercent
	for name, tt := range map[string]struct {
		policy             lot.VerificationPolicy
		contractor, agency []string
	}{
		"pooled": {apart, texts(tenResults), texts(fiveResults)}, "Welch": {apart, texts(tenResults), []string{"91.0", "94.0"}},
		"one result": {apart, texts(tenResults), []string{"94.1"}}, "constant": {apart, []string{"93", "93"}, []string{"93", "93", "93"}},
		"split": {splitPolicy(), texts(firstHalf), texts(secondHalf[:4])}, "equivalence": {equivalent, texts(firstHalf), texts(secondHalf)},
		"constant equivalence": {equivalent, []string{"93", "92"}, []string{"93", "92"}},
	} {
		v, err := verifies(t, tt.policy).Verify(lotOf(tt.contractor...), lotOf(tt.agency...))
		if err != nil {
			t.Fatal(err)
		}
		data, err := json.Marshal(v)
		var back lot.Verification
		if err == nil {
			err = json.Unmarshal(data, &back)
		}
		if diff := cmp.Diff(v, back); err != nil || diff != "" {
			t.Errorf("%s: %v, %s\n%s", name, err, diff, data)
		}
	}
	pair, err := lot.VerifyPair(d("93.20"), d("92.7"), lot.PairTerms{Characteristic: "core", Unit: "%", D2S: d("0.80"), Source: "invented", Difference: 0.5, Power: 0.9})
	data, err2 := json.Marshal(pair)
	back, err3 := lot.ParsePairVerification(data)
	if diff := cmp.Diff(pair, back); err != nil || err2 != nil || err3 != nil || diff != "" {
		t.Errorf("%v, %v, %v, %s", err, err2, err3, diff)
	}
	if _, err := json.Marshal(lot.Verification{}); err == nil {
		t.Error("an empty verification was written")
	}
	pair.Agency = d("1" + strings.Repeat("0", 30))
	if _, err := json.Marshal(pair); !errors.Is(err, lot.ErrDigits) {
		t.Errorf("endless digits: %v", err)
	}
	text := string(data)
	for from, path := range map[string]string{`"source":"invented"`: "/terms/Source", `"d2s":"0.80"`: "/terms/d2s", `"unit":"%"`: "/terms/unit"} {
		_, err := lot.ParsePairVerification([]byte(strings.Replace(text, from, map[string]string{`"source":"invented"`: `"Source":"invented","source":"x"`, `"d2s":"0.80"`: `"d2s":0.80`, `"unit":"%"`: `"unit":null`}[from], 1)))
		var bad *lot.FormatError
		if !errors.As(err, &bad) || bad.Path != path {
			t.Errorf("%s: %v", path, err)
		}
	}
}
