// Package shift reads the records of one paving shift and judges them: what the
// programs beside it print, draw and write out. The layout of the files is in
// go doc ./examples/shift.
package shift
