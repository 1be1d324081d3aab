package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"

	"github.com/densilot/densilot/examples/network/road"
)

// reporting writes the report of all contracts.
type reporting struct{ File string }

func (f *reporting) ProcessElement(ctx context.Context, sum road.Sum) error {
	report, err := road.NewReport(sum.Total())
	if err != nil {
		return err
	}
	b, err := report.JSON()
	if err != nil {
		return err
	}
	return writeFile(ctx, f.File, b)
}

// settingAside writes the lines that were set aside in the order of their places.
type settingAside struct{ File string }

func (f *settingAside) ProcessElement(ctx context.Context, _ []byte, next func(*road.Aside) bool) error {
	var asides []road.Aside
	for a := (road.Aside{}); next(&a); {
		asides = append(asides, a)
	}
	slices.SortFunc(asides, func(a, b road.Aside) int {
		return cmp.Or(cmp.Compare(a.Line.Contract, b.Line.Contract), cmp.Compare(a.Line.Number, b.Line.Number))
	})
	rows := [][]string{road.AsideColumns()}
	for _, a := range asides {
		rows = append(rows, a.Row())
	}
	var b bytes.Buffer
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		return err
	}
	return writeFile(ctx, f.File, b.Bytes())
}

// writeFile writes a file of any file system that Beam knows by its name, such as gs:// for
// Google Cloud Storage.
func writeFile(ctx context.Context, name string, data []byte) error {
	files, err := filesystem.New(ctx, name)
	if err != nil {
		return err
	}
	return errors.Join(filesystem.Write(ctx, files, name, data), files.Close())
}

// readReport reads what reporting wrote.
func readReport(ctx context.Context, name string) (report road.Report, err error) {
	files, err := filesystem.New(ctx, name)
	if err != nil {
		return report, err
	}
	b, err := filesystem.Read(ctx, files, name)
	if err = errors.Join(err, files.Close()); err == nil {
		err = json.Unmarshal(b, &report)
	}
	if err != nil {
		err = fmt.Errorf("the report that the workers left: %w", err)
	}
	return report, err
}
