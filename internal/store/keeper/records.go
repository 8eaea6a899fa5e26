package keeper

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"railwright/internal/store"
)

// Append adds records.
func (k *Keeper) Append(ctx context.Context, project string, records []store.Record) (int, error) {
	for i := range records {
		if err := records[i].Valid(); err != nil {
			return 0, err
		}
	}
	added := 0
	err := k.change(ctx, func(tx *sql.Tx) error {
		added = 0
		var last int64 // the update is the lock, see doc.go
		err := tx.QueryRowContext(ctx, "UPDATE projects SET last_record = last_record + 0 WHERE id = $1 RETURNING last_record", project).Scan(&last)
		if errors.Is(err, sql.ErrNoRows) {
			return fmt.Errorf("%w: %s", store.ErrNoProject, project)
		}
		if err != nil {
			return wrap(err, "add records to %s", project)
		}
		for _, r := range records {
			r.Time = store.Clock(r.Time)
			known, err := knownRecord(ctx, tx, project, &r)
			if err != nil {
				return err
			}
			if known {
				continue
			}
			last++
			added++
			r.Number = last
			if err := insertRecord(ctx, tx, project, &r); err != nil {
				return err
			}
		}
		_, err = tx.ExecContext(ctx, "UPDATE projects SET last_record = $1 WHERE id = $2", last, project)
		return wrap(err, "add records to %s", project)
	})
	if err != nil {
		return 0, err
	}
	return added, nil
}

func knownRecord(ctx context.Context, tx *sql.Tx, project string, r *store.Record) (bool, error) {
	var sum store.Hash
	err := tx.QueryRowContext(ctx, "SELECT sha256 FROM records WHERE project = $1 AND id = $2", project, r.ID).Scan(&sum)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return false, nil
	case err != nil:
		return false, wrap(err, "add record %s", r.ID)
	case sum != r.Sum(project):
		return false, fmt.Errorf("%w: %s in %s", store.ErrRecord, r.ID, project)
	}
	return true, nil
}

func insertRecord(ctx context.Context, tx *sql.Tx, project string, r *store.Record) error {
	body := r.Body
	if body == nil {
		body = []byte{}
	}
	_, err := tx.ExecContext(ctx, "INSERT INTO records (project, number, id, subject, kind, author, time_ms, body, sha256) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
		project, r.Number, r.ID, r.Subject, r.Kind, r.Author, r.Time.UnixMilli(), body, r.Sum(project))
	return wrap(err, "add record %s", r.ID)
}
