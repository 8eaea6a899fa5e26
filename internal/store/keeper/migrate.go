package keeper

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/pressly/goose/v3"

	"railwright/internal/store"
)

//go:embed migrations
var migrations embed.FS

// versionTable holds which migrations were made.
const versionTable = "railwright_schema"

// Schema is the number of the schema that this version of the tool keeps.
const Schema = 3

// files are the migrations of one keeper: those for both, and its own.
type files struct{ dialect string }

func (f files) dirs() []string { return []string{"migrations/both", "migrations/" + f.dialect} }

// Open finds a migration.
func (f files) Open(name string) (fs.File, error) {
	for _, d := range f.dirs() {
		if file, err := migrations.Open(d + "/" + name); err == nil {
			return file, nil
		}
	}
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

// ReadDir lists them all.
func (f files) ReadDir(string) ([]fs.DirEntry, error) {
	var all []fs.DirEntry
	for _, d := range f.dirs() {
		entries, err := migrations.ReadDir(d)
		if err != nil {
			return nil, err
		}
		all = append(all, entries...)
	}
	slices.SortFunc(all, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return all, nil
}

// Migrate brings the database to schema number to (0 = the newest). A database of a newer schema is
// left as it is: ErrNewer.
func (d Dialect) Migrate(ctx context.Context, db *sql.DB, to int64) error {
	have, err := d.Version(ctx, db)
	if err != nil {
		return err
	}
	if to == 0 {
		to = Schema
	}
	if have >= to {
		return nil
	}
	options := []goose.ProviderOption{goose.WithTableName(versionTable), goose.WithDisableGlobalRegistry(true), goose.WithSlog(silent)}
	if d.Locker != nil {
		l, err := d.Locker()
		if err != nil {
			return err
		}
		options = append(options, goose.WithSessionLocker(l))
	}
	p, err := goose.NewProvider(d.Goose, db, files{d.Name}, options...)
	if err != nil {
		return fmt.Errorf("read migrations: %w", err)
	}
	if _, err := p.UpTo(ctx, to); err != nil {
		if have, verr := d.Version(ctx, db); verr == nil && have >= to {
			return nil // somebody else was quicker
		}
		return fmt.Errorf("bring the store to schema %d: %w", to, err)
	}
	return nil
}

// Version returns the number of the schema a database is in, 0 for an empty one. It only reads.
// ErrNewer for a number above Schema, ErrForeign for tables of something else.
func (d Dialect) Version(ctx context.Context, db *sql.DB) (int64, error) {
	tables, err := d.tables(ctx, db)
	if err != nil {
		return 0, err
	}
	if len(tables) == 0 {
		return 0, nil
	}
	if !slices.Contains(tables, versionTable) {
		return 0, fmt.Errorf("%w: it holds other tables (%s)", store.ErrForeign, strings.Join(tables[:min(len(tables), 3)], ", "))
	}
	var v sql.NullInt64
	if err := db.QueryRowContext(ctx, "SELECT max(version_id) FROM "+versionTable+" WHERE is_applied").Scan(&v); err != nil {
		return 0, fmt.Errorf("read the schema's number: %w", d.Told(err))
	}
	if v.Int64 > Schema {
		return v.Int64, fmt.Errorf("%w: its schema is %d, this version knows up to %d", store.ErrNewer, v.Int64, Schema)
	}
	return v.Int64, nil
}

func (d Dialect) tables(ctx context.Context, db *sql.DB) ([]string, error) {
	rows, err := db.QueryContext(ctx, d.Tables)
	if err != nil {
		return nil, fmt.Errorf("list tables: %w", d.Told(err))
	}
	defer rows.Close()
	var all []string
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			return nil, err
		}
		all = append(all, name)
	}
	return all, errors.Join(rows.Err(), rows.Close())
}
