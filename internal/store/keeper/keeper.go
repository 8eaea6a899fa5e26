package keeper

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"log/slog"

	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"

	"railwright/internal/store"
)

// Dialect is where the two databases differ.
type Dialect struct {
	Name   string // "sqlite" or "postgres"
	Goose  goose.Dialect
	Tables string                             // a query for the names of all tables
	Locker func() (lock.SessionLocker, error) // for migrations by several servers at once, nil = none
	Again  func(error) bool                   // the transaction lost to another and may be tried again
	Told   func(error) error                  // an error in the store's words, or as it is
}

// silent keeps goose from writing to the terminal.
var silent = slog.New(slog.DiscardHandler)

// Keeper is a store.Store in an SQL database.
type Keeper struct {
	reader
	dialect Dialect
	write   *sql.DB
	read    *sql.DB
}

var _ store.Store = (*Keeper)(nil)

// New makes a store of a database in the newest schema. Writes go to one pool of connections and reads
// to the other, which may be the same.
func New(d Dialect, write, read *sql.DB) *Keeper {
	return &Keeper{reader: reader{read, d.Told}, dialect: d, write: write, read: read}
}

// Schema returns the number of the schema.
func (k *Keeper) Schema() int64 { return Schema }

// Close closes both pools.
func (k *Keeper) Close() error {
	err := k.read.Close()
	if k.write != k.read {
		err = errors.Join(err, k.write.Close())
	}
	return err
}

// mostTries is how often a transaction that lost to another is begun anew.
const mostTries = 20

// change runs f in a transaction that writes.
func (k *Keeper) change(ctx context.Context, f func(tx *sql.Tx) error) error {
	for try := 1; ; try++ {
		err := k.once(ctx, f)
		if err == nil || try == mostTries || ctx.Err() != nil || !k.dialect.Again(err) {
			return k.dialect.Told(err)
		}
	}
}

func (k *Keeper) once(ctx context.Context, f func(tx *sql.Tx) error) error {
	tx, err := k.write.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("begin to write: %w", err)
	}
	defer tx.Rollback() //nolint:errcheck // no effect after a commit
	if err := f(tx); err != nil {
		return err
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("commit: %w", err)
	}
	return nil
}

// Snapshot reads in one transaction.
func (k *Keeper) Snapshot(ctx context.Context, f func(store.Reader) error) error {
	tx, err := k.read.BeginTx(ctx, &sql.TxOptions{Isolation: sql.LevelRepeatableRead, ReadOnly: true})
	if err != nil {
		return fmt.Errorf("begin to read: %w", k.dialect.Told(err))
	}
	defer tx.Rollback() //nolint:errcheck // nothing was written
	return f(reader{tx, k.dialect.Told})
}
