// # A contract and a lot in files
//
// A plan in JSON has the fields of [Terms] as keys, first letter small, and a lot those
// of [Lot]. Counts and places are numbers, yes and no are true and false, and every
// number that a person recorded is a text with all its digits, "92.0". A key
// is needed unless it is called optional; one that does not apply is left out, not null.
//
//	format, version         "densilot/plan" and 1
//	name, characteristic    of the plan, such as "item 402 mat density"; what is measured
//	unit, gmmSource         of results and limits; where the Gmm behind them comes from, or "none"
//	limits                  {"lower": "92.0", "upper": "97.0"}, one of them or both; left out for a
//	                        mean absolute deviation
//	plausible               likewise; results outside are mistakes
//	estimation              {"method": …} and what the method needs
//	  method                "exact percent within limits", "table of percent within limits",
//	                        "range method", "mean absolute deviation", "moving average"
//	  weights               optional: "quantity"; left out where each result counts alike
//	  table                 for the table: cell (a rounding), negative ("100 less the positive row",
//	                        "signed rows")
//	  ranges                for the range method: a list of n, group, c
//	  target, window        for the mean deviation; for the moving average
//	rounding                value, mean, stdDev, q, measure, factor, money, each a rounding:
//	                        {"method": "half-even" or "half-up", "places": 2} or {"method": "absolute"}
//	outlier                 optional: test ("Grubbs", "two outliers", "generalized ESD"), side ("low",
//	                        "high", "two-sided"), alpha, minN, suspects (generalized ESD alone),
//	                        maxRemoved, causeRequired, retestNeeded
//	individual              optional: limits of a single result, action ("report", "reject lot")
//	smallLot                optional: fewest, rule ("join previous", "join next", "own table"),
//	                        last (for "join next"), own (for "own table": target, measure, byCount)
//	retest                  "none", "replace" or "pool"
//	schedule                a list of rows from 0 up; left out where byCount has them all
//	  from, after           where the row begins; true if only behind it
//	  pay                   {"coefficients": ["0.55", "0.005"]} for 0.55 + 0.005·PWL, one number for
//	                        a step, three for a quadratic; {"through": ["75", "0.90", "90", "1"]} for
//	                        a line through two points
//	  max, reject           optional, most that the row pays; true for a row without pay
//	byCount                 optional: a list of from, to, schedule, by number of results
//	second                  optional: below, limits, max of a second pass
//	maxFactor, rejectBelow  optional
//	composite               optional: rule ("weighted sum", "product", "lowest"), weight (for the sum)
//	verification            optional: kind ("independent samples", "split samples"), varianceAlpha
//	                        (independent samples alone), meanAlpha, difference, power; optional margins
//	                        (lower, upper), familyAlpha, pair (d2s, source)
//	unitPrice               of one quantityUnit, in currency
//	quantityUnit, currency  such as "t" and "USD"
//	anyScale                true to take limits that are 80 to 125 fold off the results
//
// A lot is shorter:
//
//	format, version         "densilot/lot" and 1
//	id, unit                of the lot; the unit of the plan
//	results                 a list of
//	  id, value, quantity   as recorded; the quantity of a retest is "0"
//	  removed               true if the engineer takes it out as an outlier
//	  cause                 optional: of the removal
//	  origin                optional: how it was measured, such as "core"
//	  retestOf              optional: id of the result that it repeats
//
// The folder examples/decision has one of each. A mistake is refused with its place in
// the file, such as /schedule/1/pay.
package lot
