package shift

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"

	"github.com/shopspring/decimal"

	"github.com/densilot/densilot/bias"
	"github.com/densilot/densilot/density"
	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

// Records are everything that was recorded.
type Records struct {
	contract Contract
	strip    []bias.Location
	stripAt  []cell // where each location begins
	cores    []gravityCore
	passes   []density.Pass
	gmm      []day
	sublots  []sublot
}

// gravityCore is a core as the laboratory reports it.
type gravityCore struct {
	location string
	gmb      units.SpecificGravity
	place    cell
}

// day is a date and its determinations of Gmm, in the order of the file.
type day struct {
	date density.Date
	gmm  []units.SpecificGravity
}

type sublot struct {
	lot, id  string
	date     density.Date
	quantity decimal.Decimal
	readings []density.Reading
	place    cell
}

// Read reads the records from the CSV files of a folder. An error names file, line
// and column.
func Read(files fs.FS) (r Records, err error) {
	if r.contract, err = readContract(files); err != nil {
		return r, err
	}
	for _, part := range []func(fs.FS) error{r.readStrip, r.readCores, r.readPasses, r.readGmm, r.readSublots, r.readReadings} {
		if err = part(files); err != nil {
			return r, err
		}
	}
	return r, nil
}

func (s *Records) readStrip(files fs.FS) error {
	rows, err := table(files, "strip.csv", "location", "reading", "unit")
	if err != nil {
		return err
	}
	at := make(map[string]int)
	for _, r := range rows {
		id, err := r["location"].word()
		if err != nil {
			return err
		}
		reading, err := r.reading(s.contract.unit())
		if err != nil {
			return err
		}
		i, ok := at[id]
		if !ok {
			i = len(s.strip)
			at[id] = i
			s.strip, s.stripAt = append(s.strip, bias.Location{ID: id}), append(s.stripAt, r["location"])
		}
		s.strip[i].Readings = append(s.strip[i].Readings, reading)
	}
	return nil
}

func (s *Records) readCores(files fs.FS) error {
	rows, err := table(files, "cores.csv", "location", "gmb")
	if err != nil {
		return err
	}
	seen := make(map[string]bool)
	for _, r := range rows {
		id, err := r["location"].word()
		if err != nil {
			return err
		}
		if seen[id] {
			return r["location"].failf("core %q: %w", id, bias.ErrRepeatedID)
		}
		seen[id] = true
		gmb, err := r["gmb"].gravity()
		if err != nil {
			return err
		}
		s.cores = append(s.cores, gravityCore{id, gmb, r["gmb"]})
	}
	return nil
}

func (s *Records) readPasses(files fs.FS) error {
	rows, err := table(files, "passes.csv", "pass", "spot", "reading", "unit", "mat", "mat unit")
	if err != nil {
		return err
	}
	for _, r := range rows {
		n, err := r["pass"].count()
		if err != nil {
			return err
		}
		if n == len(s.passes)+1 {
			s.passes = append(s.passes, density.Pass{})
		}
		if n != len(s.passes) {
			return r["pass"].failf("pass %d is out of order; after pass %d comes %d", n, len(s.passes), len(s.passes)+1)
		}
		reading, err := r.reading(s.contract.unit())
		if err != nil {
			return err
		}
		spot, err := r["spot"].word()
		if err != nil {
			return err
		}
		if slices.Contains(s.passes[n-1].Spots, spot) {
			return r["spot"].failf("pass %d has spot %q twice", n, spot)
		}
		mat, err := r["mat"].temperature(r["mat unit"])
		if err != nil {
			return err
		}
		p := &s.passes[n-1]
		if !p.Mat.IsZero() && !p.Mat.Equal(mat) {
			return r["mat"].failf("pass %d has the mat temperatures %v and %v", n, p.Mat, mat)
		}
		p.Mat = mat
		p.Readings = append(p.Readings, reading)
		p.Spots = append(p.Spots, spot)
	}
	return nil
}

func (s *Records) readGmm(files fs.FS) error {
	rows, err := table(files, "gmm.csv", "date", "gmm")
	if err != nil {
		return err
	}
	at := make(map[density.Date]int)
	for _, r := range rows {
		date, err := r["date"].date()
		if err != nil {
			return err
		}
		g, err := r["gmm"].gravity()
		if err != nil {
			return err
		}
		i, ok := at[date]
		if !ok {
			i = len(s.gmm)
			at[date] = i
			s.gmm = append(s.gmm, day{date: date})
		}
		s.gmm[i].gmm = append(s.gmm[i].gmm, g)
	}
	return nil
}

func (s *Records) readSublots(files fs.FS) error {
	rows, err := table(files, "sublots.csv", "lot", "sublot", "date", "quantity")
	if err != nil {
		return err
	}
	seen := make(map[string]bool)
	for _, r := range rows {
		b := sublot{place: r["sublot"]}
		if b.lot, err = r["lot"].word(); err != nil {
			return err
		}
		if b.id, err = r["sublot"].word(); err != nil {
			return err
		}
		if seen[b.id] {
			return r["sublot"].failf("sublot %q: %w", b.id, bias.ErrRepeatedID)
		}
		seen[b.id] = true
		if b.date, err = s.dateWithGmm(r["date"]); err != nil {
			return err
		}
		if b.quantity, err = r["quantity"].decimal(); err != nil {
			return err
		}
		if b.quantity.Sign() <= 0 {
			return r["quantity"].fail(errPositive)
		}
		s.sublots = append(s.sublots, b)
	}
	return nil
}

func (s *Records) dateWithGmm(c cell) (density.Date, error) {
	date, err := c.date()
	if err != nil {
		return date, err
	}
	for _, d := range s.gmm {
		if d.date == date {
			return date, nil
		}
	}
	return date, c.failf("no Gmm of %s in gmm.csv", date)
}

func (s *Records) readReadings(files fs.FS) error {
	rows, err := table(files, "readings.csv", "sublot", "reading", "unit")
	if err != nil {
		return err
	}
	at := make(map[string]int)
	for i, b := range s.sublots {
		at[b.id] = i
	}
	for _, r := range rows {
		i, ok := at[r["sublot"].text]
		if !ok {
			return r["sublot"].failf("sublot %q is not in sublots.csv", r["sublot"].text)
		}
		reading, err := r.reading(s.contract.unit())
		if err != nil {
			return err
		}
		s.sublots[i].readings = append(s.sublots[i].readings, reading)
	}
	for _, b := range s.sublots {
		if b.readings == nil {
			return b.place.failf("sublot %q has no reading in readings.csv", b.id)
		}
	}
	return nil
}

// atRow gives an error about the row of a table its place.
func atRow(file string, rows []row, column string, err error) error {
	var bad *stats.InputError
	if errors.As(err, &bad) && bad.Index >= 0 && bad.Index < len(rows) {
		return rows[bad.Index][column].fail(bad.Err)
	}
	return fmt.Errorf("%s: %w", file, err)
}
