package keeper

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/store"
)

// packed is a part ready to be kept.
type packed struct {
	name   string
	hash   store.Hash
	size   int64
	coding string
	data   []byte
}

// NewProject begins a project.
func (k *Keeper) NewProject(ctx context.Context, p store.Project) error {
	if err := p.Valid(); err != nil {
		return err
	}
	return k.change(ctx, func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, "INSERT INTO projects (id, name, created_ms) VALUES ($1, $2, $3) ON CONFLICT (id) DO NOTHING", p.ID, p.Name, p.Created.UnixMilli())
		if err != nil {
			return wrap(err, "begin project %s", p.ID)
		}
		if n, err := res.RowsAffected(); err != nil || n == 0 {
			return errors.Join(err, fmt.Errorf("%w: %s", store.ErrExists, p.ID))
		}
		return nil
	})
}

// Save keeps a revision and moves a head.
func (k *Keeper) Save(ctx context.Context, d store.Draft) (store.Revision, error) {
	if err := d.Valid(); err != nil {
		return store.Revision{}, err
	}
	parts, err := k.pack(ctx, &d) // before the lock is taken
	if err != nil {
		return store.Revision{}, k.dialect.Told(err)
	}
	var out store.Revision
	err = k.change(ctx, func(tx *sql.Tx) (err error) {
		s := saving{ctx, tx, reader{tx, k.dialect.Told}, &d}
		n, err := s.lock()
		if err == nil {
			out, err = s.save(n, parts)
		}
		return err
	})
	if err != nil {
		return store.Revision{}, err
	}
	return out, nil
}

// SaveOnTop saves what f makes of the head while nobody else can move it.
func (k *Keeper) SaveOnTop(ctx context.Context, project, head string, f func(store.Reader, *store.Revision) (store.Draft, error)) (store.Revision, error) {
	var out store.Revision
	err := k.change(ctx, func(tx *sql.Tx) error {
		s := saving{ctx, tx, reader{tx, k.dialect.Told}, &store.Draft{Project: project, Head: head}}
		n, err := s.lock()
		if err != nil {
			return err
		}
		id, err := s.head()
		if err != nil {
			return err
		}
		var now *store.Revision
		if id != "" {
			r, err := s.Revision(ctx, id)
			if err != nil {
				return err
			}
			now = &r
		}
		d, err := f(s.reader, now)
		if err != nil {
			return err
		}
		d.Project, d.Head, d.Expect = project, head, id
		if err := d.Valid(); err != nil {
			return err
		}
		s.d = &d
		parts, err := s.pack(ctx, &d)
		if err == nil {
			out, err = s.save(n, parts)
		}
		return err
	})
	if err != nil {
		return store.Revision{}, err
	}
	return out, nil
}

// pack makes a draft's parts ready that the store does not have yet, and makes sure that it has those
// that come without content. Parts never go, so what is there stays there. They come in one order for
// all savers: two that keep the same parts wait for each other, but never in a circle.
func (r reader) pack(ctx context.Context, d *store.Draft) ([]packed, error) {
	have, err := r.sizes(ctx, d.Parts)
	if err != nil {
		return nil, err
	}
	var parts []packed
	for _, name := range d.Parts.Names() {
		p := d.Parts[name]
		size, there := have[p.Hash]
		switch {
		case there && size == p.Size:
		case p.Data == nil || there:
			return nil, fmt.Errorf("%w: %.12s for %s, and no content was given", store.ErrNoPart, string(p.Hash), name)
		default:
			q := packed{name: name, hash: p.Hash, size: p.Size}
			q.coding, q.data = pack(p.Data)
			parts = append(parts, q)
			have[p.Hash] = p.Size
		}
	}
	slices.SortFunc(parts, func(a, b packed) int { return cmp.Compare(a.hash, b.hash) })
	return parts, nil
}

// sizes returns the sizes of those parts that the store has.
func (r reader) sizes(ctx context.Context, parts store.Parts) (map[store.Hash]int64, error) {
	var hashes []any
	var marks []string
	for _, name := range parts.Names() {
		hashes = append(hashes, parts[name].Hash)
		marks = append(marks, "$"+strconv.Itoa(len(hashes)))
	}
	have := map[store.Hash]int64{}
	if len(hashes) == 0 {
		return have, nil
	}
	err := r.each(ctx, func(scan func(...any) error) error {
		var h store.Hash
		var n int64
		err := scan(&h, &n)
		have[h] = n
		return err
	}, "SELECT sha256, size FROM parts WHERE sha256 IN ("+strings.Join(marks, ", ")+")", hashes...)
	return have, wrap(err, "look for parts")
}

// saving is one Save inside its transaction.
type saving struct {
	ctx context.Context
	tx  *sql.Tx
	reader
	d *store.Draft
}

// lock takes the next number, which keeps all other savers of the project out until the transaction ends.
func (s saving) lock() (number int64, err error) {
	err = s.tx.QueryRowContext(s.ctx, "UPDATE projects SET last_revision = last_revision + 1 WHERE id = $1 RETURNING last_revision", s.d.Project).Scan(&number)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, fmt.Errorf("%w: %s", store.ErrNoProject, s.d.Project)
	}
	return number, wrap(err, "save in %s", s.d.Project)
}

func (s saving) save(number int64, parts []packed) (store.Revision, error) {
	rev := s.d.Revision()
	rev.Number = number
	var now sql.NullString
	var known, parents int64
	err := s.tx.QueryRowContext(s.ctx, `SELECT (SELECT revision FROM heads WHERE project = $1 AND name = $2),
		(SELECT count(*) FROM revisions WHERE id = $3), (SELECT count(*) FROM revisions WHERE project = $1 AND id IN ($4, $5))`,
		s.d.Project, s.d.Head, rev.ID, s.d.Parent, s.d.Merged).Scan(&now, &known, &parents)
	if err != nil {
		return rev, wrap(err, "save in %s", s.d.Project)
	}
	head := store.ID(now.String)
	switch {
	case known > 0:
		old, err := s.Revision(s.ctx, rev.ID)
		if err != nil {
			return rev, err
		}
		return old, s.again(old, head)
	case s.d.Head != "" && head != s.d.Expect:
		return rev, s.moved(head)
	case parents < s.follows():
		return rev, fmt.Errorf("%w: %.12s or %.12s in %s", store.ErrNoRevision, string(s.d.Parent), string(s.d.Merged), s.d.Project)
	}
	for _, p := range parts {
		if err := insertPart(s.ctx, s.tx, p); err != nil {
			return rev, err
		}
	}
	if err := insertRevision(s.ctx, s.tx, rev); err != nil {
		return rev, err
	}
	return rev, s.move(rev.ID)
}

// follows counts the different revisions that the draft follows.
func (s saving) follows() int64 {
	switch {
	case s.d.Parent == "" && s.d.Merged == "":
		return 0
	case s.d.Parent == "" || s.d.Merged == "" || s.d.Parent == s.d.Merged:
		return 1
	}
	return 2
}

// again settles a save of a revision that is there already: the number taken for it goes back.
func (s saving) again(old store.Revision, now store.ID) error {
	if _, err := s.tx.ExecContext(s.ctx, "UPDATE projects SET last_revision = last_revision - 1 WHERE id = $1", s.d.Project); err != nil {
		return wrap(err, "save in %s", s.d.Project)
	}
	switch {
	case s.d.Head == "" || now == old.ID:
		return nil
	case now == s.d.Expect:
		return s.move(old.ID)
	}
	// It was confirmed to nobody, or somebody saved on top of it since.
	var n int64
	err := s.tx.QueryRowContext(s.ctx, `WITH RECURSIVE up (id) AS (
		SELECT id FROM revisions WHERE id = $1
		UNION SELECT r.id FROM revisions c JOIN up ON c.id = up.id JOIN revisions r ON r.id IN (c.parent, c.merged) WHERE r.number >= $2
	) SELECT count(*) FROM up WHERE id = $3`, now, old.Number, old.ID).Scan(&n)
	if err != nil {
		return wrap(err, "save in %s", s.d.Project)
	}
	if n > 0 {
		return nil
	}
	return s.moved(now)
}

// head returns where the draft's head stands, "" where there is none.
func (s saving) head() (store.ID, error) {
	var id store.ID
	err := s.tx.QueryRowContext(s.ctx, "SELECT revision FROM heads WHERE project = $1 AND name = $2", s.d.Project, s.d.Head).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return id, wrap(err, "read head %s of %s", s.d.Head, s.d.Project)
}

func (s saving) moved(now store.ID) error {
	e := &store.HeadMoved{Head: s.d.Head, Expected: s.d.Expect}
	if now != "" {
		r, err := s.Revision(s.ctx, now)
		if err != nil {
			return err
		}
		e.Now = &r
	}
	return e
}

func insertPart(ctx context.Context, tx *sql.Tx, p packed) error {
	_, err := tx.ExecContext(ctx, "INSERT INTO parts (sha256, size, coding, data) VALUES ($1, $2, $3, $4) ON CONFLICT (sha256) DO NOTHING", p.hash, p.size, p.coding, p.data)
	return wrap(err, "keep part %s", p.name)
}

func insertRevision(ctx context.Context, tx *sql.Tx, v store.Revision) error {
	_, err := tx.ExecContext(ctx, "INSERT INTO revisions (id, project, number, parent, merged, author, time_ms, note) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
		v.ID, v.Project, v.Number, orNull(v.Parent), orNull(v.Merged), v.Author, v.Time.UnixMilli(), v.Note)
	if err != nil {
		return wrap(err, "keep revision %d of %s", v.Number, v.Project)
	}
	for names := range slices.Chunk(v.Parts.Names(), 100) {
		args, rows := []any{v.ID}, []string{}
		for _, name := range names {
			args = append(args, name, v.Parts[name].Hash)
			rows = append(rows, fmt.Sprintf("($1, $%d, $%d)", len(args)-1, len(args)))
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO revision_parts (revision, name, sha256) VALUES "+strings.Join(rows, ", "), args...); err != nil {
			return wrap(err, "keep revision %d of %s", v.Number, v.Project)
		}
	}
	return nil
}

func orNull(id store.ID) sql.NullString {
	return sql.NullString{String: string(id), Valid: id != ""}
}

// move puts the draft's head on a revision.
func (s saving) move(id store.ID) error {
	if s.d.Head == "" {
		return nil
	}
	return setHead(s.ctx, s.tx, s.d.Project, s.d.Head, id)
}

func setHead(ctx context.Context, tx *sql.Tx, project, name string, id store.ID) error {
	_, err := tx.ExecContext(ctx, "INSERT INTO heads (project, name, revision) VALUES ($1, $2, $3) ON CONFLICT (project, name) DO UPDATE SET revision = excluded.revision", project, name, id)
	return wrap(err, "move head %s of %s", name, project)
}
