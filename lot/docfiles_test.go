package lot_test

import (
	"encoding/json"
	"os"
	"regexp"
	"testing"

	"github.com/densilot/densilot/lot"
)

// The keys and words of the files are described where a person would look for them.
func TestFilesAreDescribed(t *testing.T) {
	raw, err := os.ReadFile("doc_files.go")
	if err != nil {
		t.Fatal(err)
	}
	described := map[string]bool{}
	for _, word := range regexp.MustCompile(`"[^"]+"|\w+`).FindAllString(string(raw), -1) {
		described[word] = true
	}
	files := []any{lot.Lot{ID: "1", Unit: "%", Results: []lot.Result{{ID: "a", Value: d("92.1"), Quantity: d("500"), Origin: "core", Removed: true, Cause: "segregation"},
		{ID: "b", Value: d("93.1"), RetestOf: "a"}}}}
	for _, c := range everything(t) {
		files = append(files, plan(t, c))
	}
	for _, file := range files {
		data, err := json.Marshal(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, key := range regexp.MustCompile(`"(\w+)":`).FindAllStringSubmatch(string(data), -1) {
			if !described[key[1]] && !described[`"`+key[1]+`"`] {
				t.Errorf("key %q is not described", key[1])
			}
		}
	}
	for _, word := range enumerated() {
		if !described[`"`+word+`"`] && word != "none" {
			t.Errorf("word %q is not described", word)
		}
	}
}

// enumerated are the words that a file may hold.
func enumerated() (words []string) {
	for i := range uint8(8) {
		words = append(words, lot.Method(i).String(), lot.NegativeRule(i).String(), lot.OutlierTest(i).String(), lot.IndividualAction(i).String(),
			lot.RetestRule(i).String(), lot.SmallLotRule(i).String(), lot.CompositeRule(i).String(), lot.SampleKind(i).String(), lot.Weights(i).String())
	}
	return words
}
