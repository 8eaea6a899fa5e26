package keeper

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"railwright/internal/store"
)

// querier is a database or a transaction.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

type reader struct {
	q    querier
	told func(error) error
}

// each runs a query and hands every row to f.
func (r reader) each(ctx context.Context, f func(scan func(...any) error) error, query string, args ...any) error {
	rows, err := r.q.QueryContext(ctx, query, args...)
	if err != nil {
		return r.told(err)
	}
	defer rows.Close()
	for rows.Next() {
		if err := f(rows.Scan); err != nil {
			return r.told(err)
		}
	}
	return r.told(errors.Join(rows.Err(), rows.Close()))
}

// Projects returns all projects.
func (r reader) Projects(ctx context.Context) ([]store.Project, error) {
	var all []store.Project
	err := r.each(ctx, func(scan func(...any) error) error {
		p, err := scanProject(scan)
		all = append(all, p)
		return err
	}, "SELECT id, name, created_ms FROM projects ORDER BY id")
	return all, wrap(err, "list projects")
}

func scanProject(scan func(...any) error) (p store.Project, err error) {
	var ms int64
	err = scan(&p.ID, &p.Name, &ms)
	p.Created = time.UnixMilli(ms).UTC()
	return p, err
}

// Project returns one project.
func (r reader) Project(ctx context.Context, id string) (store.Project, error) {
	p, err := scanProject(r.q.QueryRowContext(ctx, "SELECT id, name, created_ms FROM projects WHERE id = $1", id).Scan)
	if errors.Is(err, sql.ErrNoRows) {
		return p, fmt.Errorf("%w: %s", store.ErrNoProject, id)
	}
	return p, wrap(r.told(err), "read project %s", id)
}

// Heads returns the heads of a project.
func (r reader) Heads(ctx context.Context, project string) (map[string]store.ID, error) {
	if _, err := r.Project(ctx, project); err != nil {
		return nil, err
	}
	heads := map[string]store.ID{}
	err := r.each(ctx, func(scan func(...any) error) error {
		var name string
		var id store.ID
		err := scan(&name, &id)
		heads[name] = id
		return err
	}, "SELECT name, revision FROM heads WHERE project = $1", project)
	return heads, wrap(err, "read heads of %s", project)
}

// Revision returns a revision.
func (r reader) Revision(ctx context.Context, id store.ID) (store.Revision, error) {
	all, err := r.revisions(ctx, "WHERE id = $1", id)
	return one(all, err, fmt.Sprintf("%.12s", string(id)))
}

// Numbered returns a revision by its number.
func (r reader) Numbered(ctx context.Context, project string, number int64) (store.Revision, error) {
	all, err := r.revisions(ctx, "WHERE project = $1 AND number = $2", project, number)
	return one(all, err, fmt.Sprintf("%d of %s", number, project))
}

// Revisions returns the revisions after a number.
func (r reader) Revisions(ctx context.Context, project string, after int64, limit int) ([]store.Revision, error) {
	return r.revisions(ctx, "WHERE project = $1 AND number > $2 ORDER BY number LIMIT $3", project, after, int64(limit))
}

// Latest returns the revisions before a number, the newest first.
func (r reader) Latest(ctx context.Context, project string, before int64, limit int) ([]store.Revision, error) {
	if before == 0 {
		before = 1 << 62
	}
	return r.revisions(ctx, "WHERE project = $1 AND number < $2 ORDER BY number DESC LIMIT $3", project, before, int64(limit))
}

func one(all []store.Revision, err error, what string) (store.Revision, error) {
	switch {
	case err != nil:
		return store.Revision{}, err
	case len(all) == 0:
		return store.Revision{}, fmt.Errorf("%w: %s", store.ErrNoRevision, what)
	}
	return all[0], nil
}

// revisions reads revisions with their parts, in one statement so that it sees one moment, and holds
// each against its id. The rows of a revision come together.
func (r reader) revisions(ctx context.Context, where string, args ...any) ([]store.Revision, error) {
	order := " ORDER BY v.number, v.id, rp.name"
	if strings.Contains(where, "DESC") {
		order = " ORDER BY v.number DESC, v.id, rp.name"
	}
	var all []store.Revision
	err := r.each(ctx, func(scan func(...any) error) error {
		v := store.Revision{Parts: store.Parts{}}
		var parent, merged, name, hash sql.NullString
		var ms int64
		var size sql.NullInt64
		if err := scan(&v.ID, &v.Project, &v.Number, &parent, &merged, &v.Author, &ms, &v.Note, &name, &hash, &size); err != nil {
			return err
		}
		if len(all) == 0 || all[len(all)-1].ID != v.ID {
			v.Parent, v.Merged, v.Time = store.ID(parent.String), store.ID(merged.String), time.UnixMilli(ms).UTC()
			all = append(all, v)
		}
		if name.Valid {
			all[len(all)-1].Parts[name.String] = store.Part{Hash: store.Hash(hash.String), Size: size.Int64}
		}
		return nil
	}, "SELECT v.id, v.project, v.number, v.parent, v.merged, v.author, v.time_ms, v.note, rp.name, rp.sha256, p.size FROM (SELECT * FROM revisions "+where+
		") v LEFT JOIN revision_parts rp ON rp.revision = v.id LEFT JOIN parts p ON p.sha256 = rp.sha256"+order, args...)
	if err != nil {
		return nil, wrap(err, "read revisions")
	}
	for i := range all {
		if all[i].Sum() != all[i].ID {
			return nil, fmt.Errorf("%w: revision %d of %s is not what its id says", store.ErrDamaged, all[i].Number, all[i].Project)
		}
	}
	return all, nil
}

// Part returns a part's content.
func (r reader) Part(ctx context.Context, hash store.Hash) ([]byte, error) {
	var size int64
	var coding string
	var data []byte
	err := r.q.QueryRowContext(ctx, "SELECT size, coding, data FROM parts WHERE sha256 = $1", hash).Scan(&size, &coding, &data)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, fmt.Errorf("%w: %.12s", store.ErrNoPart, string(hash))
	}
	if err != nil {
		return nil, wrap(r.told(err), "read part %.12s", string(hash))
	}
	content, err := unpack(coding, data, size)
	if err != nil || store.HashOf(content) != hash {
		return nil, fmt.Errorf("%w: part %.12s is not what its hash says", store.ErrDamaged, string(hash))
	}
	return content, nil
}

// Hashes returns the hashes of parts.
func (r reader) Hashes(ctx context.Context, after store.Hash, limit int) ([]store.Hash, error) {
	var all []store.Hash
	err := r.each(ctx, func(scan func(...any) error) error {
		var h store.Hash
		err := scan(&h)
		all = append(all, h)
		return err
	}, "SELECT sha256 FROM parts WHERE sha256 > $1 ORDER BY sha256 LIMIT $2", after, int64(limit))
	return all, wrap(err, "list parts")
}

// Records returns records of a project.
func (r reader) Records(ctx context.Context, project string, after int64, limit int) ([]store.Record, error) {
	if _, err := r.Project(ctx, project); err != nil {
		return nil, err
	}
	var all []store.Record
	err := r.each(ctx, func(scan func(...any) error) error {
		var v store.Record
		var ms int64
		var sum store.Hash
		if err := scan(&v.ID, &v.Number, &v.Subject, &v.Kind, &v.Author, &ms, &v.Body, &sum); err != nil {
			return err
		}
		v.Time = time.UnixMilli(ms).UTC()
		if v.Body == nil {
			v.Body = []byte{} // some drivers give no bytes as none
		}
		if v.Sum(project) != sum {
			return fmt.Errorf("%w: record %d of %s is not what its checksum says", store.ErrDamaged, v.Number, project)
		}
		all = append(all, v)
		return nil
	}, "SELECT id, number, subject, kind, author, time_ms, body, sha256 FROM records WHERE project = $1 AND number > $2 ORDER BY number LIMIT $3", project, after, int64(limit))
	return all, wrap(err, "read records of %s", project)
}

func wrap(err error, what string, args ...any) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf(what+": %w", append(args, err)...)
}
