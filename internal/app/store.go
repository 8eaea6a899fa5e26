package app

import (
	"context"
	"errors"
	"strings"

	"railwright/internal/store"
	"railwright/internal/store/postgres"
	"railwright/internal/store/sqlite"
	"railwright/internal/words"
)

// OpenStore opens the store in a file or, where the name begins with postgres://, in a database. With
// create, one that is not there yet is made. The errors of the store's methods are told by StoreFault.
func OpenStore(ctx context.Context, name string, create bool) (store.Store, error) {
	var s store.Store
	var err error
	switch {
	case name == "":
		return nil, usage(words.Text("store.no_store"), words.Text("store.no_store_hint"))
	case postgres.Is(name):
		s, err = openKeeper(postgres.Open(ctx, name, postgres.Options{Create: create}))
	default:
		s, err = openKeeper(sqlite.Open(ctx, name, sqlite.Options{Create: create}))
	}
	if err != nil {
		return nil, StoreFault(name, err)
	}
	return s, nil
}

// openKeeper keeps a nil pointer from becoming a store.
func openKeeper[S store.Store](s S, err error) (store.Store, error) {
	if err != nil {
		return nil, err
	}
	return s, nil
}

// StoreFault says in a reader's words what went wrong with the store of a name. A Fault stays as it is.
func StoreFault(name string, err error) error {
	var f *Fault
	if err == nil || errors.As(err, &f) {
		return err
	}
	shown := StoreName(name)
	is := func(target error) bool { return errors.Is(err, target) }
	switch {
	case is(store.ErrMissing) && postgres.Is(name):
		return usage(words.Text("store.empty_database", shown), words.Text("store.empty_database_hint"))
	case is(store.ErrMissing):
		return usage(words.Text("store.missing", shown), words.Text("store.missing_hint", shown))
	case is(store.ErrForeign):
		return &Fault{Kind: Usage, What: words.Text("store.foreign", shown), Err: detail(err, store.ErrForeign), Hints: []string{words.Text("store.foreign_hint")}}
	case is(store.ErrNewer):
		return &Fault{Kind: Usage, What: words.Text("store.newer", shown), Err: detail(err, store.ErrNewer), Hints: []string{words.Text("store.newer_hint")}}
	case is(store.ErrDamaged):
		return &Fault{Kind: Broken, What: words.Text("store.damaged", shown), Err: detail(err, store.ErrDamaged), Hints: []string{words.Text("store.damaged_hint"), words.Text("store.untouched_hint")}}
	case is(store.ErrNotEmpty):
		return usage(words.Text("store.not_empty", shown), words.Text("store.not_empty_hint"))
	case is(store.ErrInvalid), is(store.ErrNoProject), is(store.ErrNoRevision), is(store.ErrExists):
		return &Fault{Kind: Usage, What: words.Text("store.refused"), Err: detail(err, store.ErrInvalid)}
	case is(store.ErrBusy):
		return &Fault{Kind: Broken, What: words.Text("store.busy", shown), Err: err}
	}
	return broken(words.Text("store.failed", shown), err)
}

// detail is an error without what the fault says already: all up to the text of kind.
func detail(err, kind error) error {
	if err == nil {
		return nil
	}
	if _, rest, ok := strings.Cut(err.Error(), kind.Error()+": "); ok {
		return &detailed{rest, err}
	}
	return err
}

type detailed struct {
	text string
	err  error
}

func (d *detailed) Error() string { return d.text }
func (d *detailed) Unwrap() error { return d.err }

// StoreName is a store's name as it may be shown: a database's URL can hold a password.
func StoreName(name string) string {
	if postgres.Is(name) {
		return words.Text("store.database", postgres.Describe(name))
	}
	return name
}
