// Package bias compares a density gauge with cores: it estimates the offset that
// package density applies to later readings, and says how far to trust it.
//
//	offset = mean core - mean gauge
//
// Readings are averaged within their location first, because several readings at
// one place are not several comparisons. A suspect core is flagged and never
// dropped, both answers are given.
//
// Analysts who hold plain differences can use stats.MeanInterval instead; the
// types here are what keeps readings, cores and units apart.
package bias
