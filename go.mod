module github.com/densilot/densilot

go 1.24.0
