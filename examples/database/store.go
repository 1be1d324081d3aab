package main

import (
	"context"
	"crypto/sha256"
	"database/sql"
	_ "embed"
	"encoding/hex"
	"fmt"
	"net/url"

	_ "modernc.org/sqlite" // the engine, in Go

	"github.com/densilot/densilot/lot"
)

//go:embed schema.sql
var schema string

// store keeps plans, lots and what the plans made of them.
type store struct{ db *sql.DB }

// record is a lot in one of its revisions with its evaluation.
type record struct {
	revision   int
	plan       lot.Plan
	lot        lot.Lot
	evaluation lot.Evaluation
}

// open opens a database file, or one in memory for ":memory:".
func open(ctx context.Context, file string) (store, error) {
	address := url.URL{Scheme: "file", Opaque: url.PathEscape(file), RawQuery: "_pragma=foreign_keys(1)"}
	db, err := sql.Open("sqlite", address.String())
	if err != nil {
		return store{}, fmt.Errorf("%s: %w", file, err)
	}
	db.SetMaxOpenConns(1) // in memory each connection would have a database of its own
	if _, err := db.ExecContext(ctx, schema); err != nil {
		db.Close()
		return store{}, fmt.Errorf("%s: %w", file, err)
	}
	return store{db}, nil
}

func (s store) close() error { return s.db.Close() }

// add judges a lot and stores plan, lot and evaluation together or not at all. A lot
// that is stored already gets a new revision; nothing is overwritten.
func (s store) add(ctx context.Context, plan lot.Plan, l lot.Lot) (record, error) {
	e, err := plan.Evaluate(l)
	if err != nil {
		return record{}, err
	}
	r := record{plan: plan, lot: l, evaluation: e}
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return record{}, err
	}
	defer tx.Rollback() // does nothing after a commit
	if err := r.insert(ctx, tx); err != nil {
		return record{}, err
	}
	return r, tx.Commit()
}

// insert writes the three rows of a record and sets its revision.
func (r *record) insert(ctx context.Context, tx *sql.Tx) error {
	digest, err := digestOf(r.plan)
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `INSERT INTO plans VALUES (?, ?, ?) ON CONFLICT DO NOTHING`,
		digest, r.plan.Terms().Name, column[lot.Plan]{r.plan}); err != nil {
		return err
	}
	if err := tx.QueryRowContext(ctx, `INSERT INTO lots SELECT ?1, coalesce(max(revision), 0) + 1, ?2 FROM lots WHERE id = ?1 RETURNING revision`,
		r.lot.ID, column[lot.Lot]{r.lot}).Scan(&r.revision); err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO evaluations VALUES (?, ?, ?, ?, ?, ?, ?)`,
		r.lot.ID, r.revision, digest, r.evaluation.Decision.String(), r.evaluation.PWL.Exact, payOf(r.evaluation), column[lot.Evaluation]{r.evaluation})
	return err
}

// digestOf names a plan by its content.
func digestOf(p lot.Plan) (string, error) {
	data, err := p.MarshalJSON()
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:]), err
}

// payOf returns the pay as text, NULL where there is none.
func payOf(e lot.Evaluation) sql.NullString {
	if e.Payment == nil {
		return sql.NullString{}
	}
	return sql.NullString{String: e.Payment.Total.String(), Valid: true}
}

// history returns every revision of a lot, the oldest first.
func (s store) history(ctx context.Context, id string) ([]record, error) {
	return s.query(ctx, `WHERE e.lot = ? ORDER BY e.revision`, id)
}

// current returns the newest revision of every lot.
func (s store) current(ctx context.Context) ([]record, error) {
	return s.query(ctx, `WHERE e.revision = (SELECT max(revision) FROM lots WHERE id = e.lot) ORDER BY e.lot`)
}

// query reads records back; which ends the statement.
func (s store) query(ctx context.Context, which string, args ...any) ([]record, error) {
	rows, err := s.db.QueryContext(ctx, `SELECT e.revision, p.document, l.document, e.document FROM evaluations e
		JOIN plans p ON p.digest = e.plan
		JOIN lots l ON l.id = e.lot AND l.revision = e.revision `+which, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []record
	for rows.Next() {
		var (
			r record
			p column[lot.Plan]
			l column[lot.Lot]
			e column[lot.Evaluation]
		)
		if err := rows.Scan(&r.revision, &p, &l, &e); err != nil {
			return nil, err
		}
		r.plan, r.lot, r.evaluation = p.Of, l.Of, e.Of
		all = append(all, r)
	}
	return all, rows.Err()
}

// meanWithin returns the mean PWL of the newest revisions, as the database sees it.
func (s store) meanWithin(ctx context.Context) (mean float64, err error) {
	err = s.db.QueryRowContext(ctx, `SELECT avg(pwl) FROM evaluations e
		WHERE revision = (SELECT max(revision) FROM lots WHERE id = e.lot)`).Scan(&mean)
	return mean, err
}
