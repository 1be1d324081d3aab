package shift

import (
	"errors"
	"io/fs"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
)

// BlockChecks are the readings of the gauge on its reference block in order of
// time, the last one of them judged by those before it.
type BlockChecks struct {
	Readings []bias.BlockReading
	Check    bias.BlockCheck
}

// ReadBlockChecks reads and judges the checks of the gauge. A folder with neither
// of the two files has none, and nil is returned.
func ReadBlockChecks(files fs.FS) (*BlockChecks, error) {
	if absent(files, "block.csv") && absent(files, "block-terms.csv") {
		return nil, nil
	}
	options, err := readBlockTerms(files)
	if err != nil {
		return nil, err
	}
	rows, readings, err := readBlock(files)
	if err != nil {
		return nil, err
	}
	last := len(readings) - 1
	check, err := bias.CheckBlock(readings[:last], readings[last], options)
	if err != nil {
		return nil, atRow("block.csv", rows, "reading", err)
	}
	return &BlockChecks{Readings: readings, Check: check}, nil
}

func absent(files fs.FS, name string) bool {
	_, err := fs.Stat(files, name)
	return errors.Is(err, fs.ErrNotExist)
}

func readBlockTerms(files fs.FS) (bias.BlockOptions, error) {
	t, err := readTerms(files, "block-terms.csv")
	if err != nil {
		return bias.BlockOptions{}, err
	}
	o := bias.BlockOptions{Assigned: read(t, "block value", cell.density), Tolerance: read(t, "tolerance", cell.difference),
		Multiple: t.positive("limit multiple"), Reference: t.positive("sum slack"), Decision: t.positive("sum decision")}
	return o, t.finish()
}

func (t *terms) positive(name string) float64 {
	return readIn(t, name, "", func(v cell) (decimal.Decimal, error) {
		d, err := v.decimal()
		if err == nil && d.Sign() <= 0 {
			err = v.fail(errPositive)
		}
		return d, err
	}).InexactFloat64()
}

func readBlock(files fs.FS) ([]row, []bias.BlockReading, error) {
	rows, err := table(files, "block.csv", "at", "reading", "unit")
	if err != nil {
		return nil, nil, err
	}
	if len(rows) == 0 {
		return nil, nil, cell{file: "block.csv", line: 1, column: 1}.failf("no check of the gauge; leave the file out if there was none")
	}
	var readings []bias.BlockReading
	for i, r := range rows {
		at, err := density.ParseInstant(r["at"].text)
		if err != nil {
			return nil, nil, r["at"].fail(err)
		}
		if i > 0 && !at.After(readings[i-1].At) {
			return nil, nil, r["at"].failf("%s is not after the check before it", r["at"].text)
		}
		d, err := r["reading"].density(r["unit"])
		if err != nil {
			return nil, nil, err
		}
		readings = append(readings, bias.BlockReading{At: at, Value: d})
	}
	return rows, readings, nil
}
