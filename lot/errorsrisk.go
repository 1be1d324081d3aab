package lot

import "errors"

// Reasons a question about risk is refused.
var (
	ErrEmptyRisk = errors.New("the estimator is empty; make it with NewEstimator")
	ErrNoPlan    = errors.New("no sample size meets these risks")
)
