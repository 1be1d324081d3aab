module github.com/densilot/densilot

go 1.24.0

require (
	github.com/google/go-cmp v0.7.0 // indirect
	gonum.org/v1/gonum v0.17.0 // indirect
)
