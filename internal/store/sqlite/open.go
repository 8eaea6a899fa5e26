package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"net/url"
	"path/filepath"
	"strconv"

	"github.com/pressly/goose/v3"
	"modernc.org/sqlite"

	"railwright/internal/store"
	"railwright/internal/store/keeper"
)

// applicationID marks the files that are ours: "RWST".
const applicationID = 0x52575354

// patience is how long a writer waits for others before it gives up, in milliseconds.
const patience = 30_000

// readers is how many connections read at a time.
const readers = 4

var dialect = keeper.Dialect{
	Name: "sqlite", Goose: goose.DialectSQLite3, Told: told,
	Tables: "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY name",
	Again:  func(error) bool { return false }, // writers wait for each other, none loses
}

// Options say how to open.
type Options struct {
	Create bool  // make a store where there is no file, or an empty one
	Schema int64 // stop at this schema, for tests of upgrades; 0 = the newest

	full bool // the file may not grow, for tests of a full disk
}

// Open opens the store in a file. Errors wrap store.ErrMissing, ErrDamaged, ErrForeign, ErrNewer.
func Open(ctx context.Context, path string, o Options) (*keeper.Keeper, error) {
	k, err := open(ctx, path, o)
	if err != nil {
		return nil, fmt.Errorf("open store %s: %w", path, err)
	}
	return k, nil
}

func open(ctx context.Context, path string, o Options) (*keeper.Keeper, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	if err := inspect(ctx, path, o.Create); err != nil {
		return nil, err
	}
	write, err := sql.Open("sqlite", dsn(path, "_txlock", "immediate"))
	if err != nil {
		return nil, err
	}
	write.SetMaxOpenConns(1) // there can be only one anyway; so they queue here in order of arrival
	if err := prepare(ctx, write, o.Schema); err != nil {
		return nil, errors.Join(told(err), write.Close())
	}
	if o.full {
		if _, err := write.ExecContext(ctx, "PRAGMA max_page_count = 1"); err != nil { // SQLite makes it the pages there are
			return nil, errors.Join(told(err), write.Close())
		}
	}
	read, err := sql.Open("sqlite", dsn(path, "_pragma", "query_only(1)"))
	if err != nil {
		return nil, errors.Join(err, write.Close())
	}
	read.SetMaxOpenConns(readers)
	read.SetMaxIdleConns(readers)
	return keeper.New(dialect, write, read), nil
}

// dsn names a file with the settings of every connection.
func dsn(path string, more ...string) string {
	q := url.Values{"_pragma": {
		"busy_timeout(" + strconv.Itoa(patience) + ")",
		"journal_mode(WAL)",
		"synchronous(FULL)", // a confirmed commit outlives a loss of power
		"fullfsync(1)",      // the same where a plain sync does not reach the disk
		"foreign_keys(1)",
		"trusted_schema(0)",
	}}
	for i := 0; i+1 < len(more); i += 2 {
		q.Add(more[i], more[i+1])
	}
	return uri(path) + "?" + q.Encode()
}

// uri is a path as SQLite takes it: what would end it is escaped.
func uri(path string) string {
	return "file:" + (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath()
}

// prepare marks a new file and brings the schema up to date.
func prepare(ctx context.Context, db *sql.DB, to int64) error {
	var id int64
	if err := db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id); err != nil {
		return err
	}
	if id != applicationID {
		if _, err := db.ExecContext(ctx, "PRAGMA application_id = "+strconv.Itoa(applicationID)); err != nil {
			return err
		}
	}
	var err error
	for range 5 { // several processes may find a new file at the same time
		if err = dialect.Migrate(ctx, db, to); err == nil {
			return nil
		}
	}
	return err
}

// The result codes of SQLite that tell of damage, and of others at work.
const (
	codeBusy    = 5
	codeCorrupt = 11
	codeNotADB  = 26
)

// told puts SQLite's errors into the store's.
func told(err error) error {
	var e *sqlite.Error
	switch {
	case errors.As(err, &e):
		switch e.Code() & 0xFF {
		case codeBusy:
			return fmt.Errorf("%w: %w", store.ErrBusy, err)
		case codeCorrupt, codeNotADB:
			return fmt.Errorf("%w: %w", store.ErrDamaged, err)
		}
	case errors.Is(err, io.ErrUnexpectedEOF):
		return fmt.Errorf("%w: %w", store.ErrDamaged, err)
	}
	return err
}
