package keeper

import (
	"context"
	"database/sql"
	"fmt"

	"railwright/internal/store"
)

// Load fills an empty store.
func (k *Keeper) Load(ctx context.Context, f func(store.Loader) error) error {
	tx, err := k.write.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("begin to load: %w", k.dialect.Told(err))
	}
	defer tx.Rollback() //nolint:errcheck // no effect after a commit
	var n int64
	if err := tx.QueryRowContext(ctx, "SELECT (SELECT count(*) FROM projects) + (SELECT count(*) FROM parts)").Scan(&n); err != nil {
		return wrap(k.dialect.Told(err), "look whether the store is empty")
	}
	if n > 0 {
		return store.ErrNotEmpty
	}
	if err := f(loader{ctx, tx}); err != nil {
		return k.dialect.Told(err)
	}
	for _, query := range []string{
		"UPDATE projects SET last_revision = (SELECT coalesce(max(number), 0) FROM revisions WHERE project = projects.id)",
		"UPDATE projects SET last_record = (SELECT coalesce(max(number), 0) FROM records WHERE project = projects.id)",
	} {
		if _, err := tx.ExecContext(ctx, query); err != nil {
			return wrap(k.dialect.Told(err), "count what was loaded")
		}
	}
	if err := tx.Commit(); err != nil {
		return wrap(k.dialect.Told(err), "commit what was loaded")
	}
	return nil
}

type loader struct {
	ctx context.Context
	tx  *sql.Tx
}

// Project adds a project.
func (l loader) Project(p store.Project) error {
	if err := p.Valid(); err != nil {
		return err
	}
	_, err := l.tx.ExecContext(l.ctx, "INSERT INTO projects (id, name, created_ms) VALUES ($1, $2, $3)", p.ID, p.Name, p.Created.UnixMilli())
	return wrap(err, "load project %s", p.ID)
}

// Part adds a content.
func (l loader) Part(data []byte) error {
	p := store.Content(data)
	q := packed{name: string(p.Hash), hash: p.Hash, size: p.Size}
	q.coding, q.data = pack(p.Data)
	return insertPart(l.ctx, l.tx, q)
}

// Revision adds a revision under its own number.
func (l loader) Revision(r store.Revision) error {
	d := store.Draft{Project: r.Project, Parent: r.Parent, Merged: r.Merged, Parts: r.Parts, Author: r.Author, Time: r.Time, Note: r.Note}
	if err := d.Valid(); err != nil {
		return err
	}
	if r.Sum() != r.ID || r.Number < 1 {
		return fmt.Errorf("%w: revision %d of %s is not what its id says", store.ErrBackup, r.Number, r.Project)
	}
	return insertRevision(l.ctx, l.tx, r)
}

// Head sets a head.
func (l loader) Head(project, name string, id store.ID) error {
	return setHead(l.ctx, l.tx, project, name, id)
}

// Record adds a record under its own number.
func (l loader) Record(project string, r store.Record) error {
	if err := r.Valid(); err != nil {
		return err
	}
	return insertRecord(l.ctx, l.tx, project, &r)
}
