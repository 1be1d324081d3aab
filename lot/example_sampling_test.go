package lot_test

import (
	"bytes"
	"encoding/json"
	"fmt"

	"github.com/densilot/densilot/lot"
	"github.com/densilot/densilot/units"
)

// State method S 605-99: random number .022 in the second sublot of 250 t.
func ExamplePlaceOf() {
	p, err := lot.PlaceOf(d(".022"), d("250"), d("250"), units.Rounding{Method: units.HalfEven, Places: 1})
	fmt.Printf("%s t into the sublot, %s t from the start of the lot, %v\n", p.Into, p.At, err)
	// Output: 5.5 t into the sublot, 255.5 t from the start of the lot, <nil>
}

// Numbers by the script of TestRandomLocations; products, rounding and sums by hand.
func ExampleRandomLocations() {
	// An invented lot, the last sublot of which is short.
	sheet, err := lot.RandomLocations(lot.SamplingTerms{
		Lot:   "7",
		Along: lot.Axis{Name: "tonnage", Unit: "t", Rounding: units.Rounding{Method: units.HalfEven, Places: 1}},
		Sublots: []lot.SublotSize{
			{ID: "7-1", Size: d("250")}, {ID: "7-2", Size: d("250")}, {ID: "7-3", Size: d("250")}, {ID: "7-4", Size: d("180")},
		},
		Across: &lot.Transverse{
			Axis: lot.Axis{Name: "offset from left edge", Unit: "m", Rounding: units.Rounding{Method: units.HalfEven, Places: 2},
				Excluded: []lot.Exclusion{
					{From: d("0"), To: d("0.5"), Reason: "unsupported edge"},
					{From: d("3.4"), To: d("3.5"), Reason: "joint"},
				}},
			Width: d("3.5"),
		},
	}, 20260511)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(sheet)
	// Output:
	// lot 7, seed 20260511, SplitMix64; number x size = into sublot
	// width 3.5 m; number x width = offset
	// not at offset from left edge 0 to 0.5 m (unsupported edge)
	// not at offset from left edge 3.4 to 3.5 m (joint)
	//
	// sublot  from (t)  size (t)  weight  number along  into sublot (t)  tonnage (t)  number across  offset from left edge (m)
	// 7-1            0       250  0.2688      0.398179             99.5         99.5       0.784942                       2.75
	// 7-2          250       250  0.2688      0.861583            215.4        465.4       0.284646                       1.00
	// 7-3          500       250  0.2688      0.402368            100.6        600.6       0.830108                       2.91
	// 7-4          750       180  0.1935      0.036028              6.5        756.5       0.575665                       2.01
	// sublot 7-2: number 0.053703 discarded, offset from left edge 0.19: unsupported edge
}

func ExampleParseFieldSheet() {
	// An invented lot.
	sheet, err := lot.RandomLocations(lot.SamplingTerms{Lot: "7", Along: lot.Axis{Name: "tonnage", Unit: "t", Rounding: units.Rounding{Method: units.HalfEven, Places: 1}},
		Sublots: []lot.SublotSize{{ID: "7-1", Size: d("250")}, {ID: "7-2", Size: d("250")}}}, 20260511)
	if err != nil {
		fmt.Println(err)
		return
	}
	saved, err := json.Marshal(sheet)
	if err != nil {
		fmt.Println(err)
		return
	}
	back, err := lot.ParseFieldSheet(saved)
	fmt.Println(back.Locations[0].Along.At, err)
	_, err = lot.ParseFieldSheet(bytes.Replace(saved, []byte("99.5"), []byte("12.0"), 2))
	fmt.Println(err)
	// Output:
	// 99.5 <nil>
	// lot.ParseFieldSheet: /locations: the places are not those that the terms and the seed give
}
