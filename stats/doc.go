// Package stats holds the statistics a quality engineer needs when a decision
// rests on a handful of results: means with honest intervals, outlier screens,
// and the distributions behind them, accurate in both tails.
//
// It knows nothing of paving and nothing of units. Programs that judge a lot
// against a contract want package lot, programs that correlate a gauge with
// cores want package bias; both call this one.
//
// # Conventions
//
// Functions take plain float64 slices, never change them and keep no state, so
// all of them are safe for concurrent use. A standard deviation has divisor
// n-1. A level is the confidence of an interval as a fraction, alpha the
// significance of a test as a fraction; neither has a default, because both
// move decisions.
//
// Bad input is an [*InputError] that names the argument and wraps a reason for
// errors.Is. A sound result with something to think about carries [Warning]s.
// No function panics, and none returns NaN or an infinity beside a nil error.
package stats
