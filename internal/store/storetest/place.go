package storetest

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"testing"
	"time"

	"railwright/internal/store"
)

// Place is where one store is kept. It may be opened again and again, and several times at once.
type Place struct {
	Name string                                                       // file or URL
	Open func(ctx context.Context, schema int64) (store.Store, error) // schema 0 = the newest
	Raw  func() (*sql.DB, error)                                      // the database below the store

	Another func(t *testing.T) Place // an empty place beside it; Run fills it in
}

// Store opens the place for a test.
func (p Place) Store(t testing.TB) store.Store {
	t.Helper()
	s, err := p.Open(t.Context(), 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// Exec runs statements in the database below the store.
func (p Place) Exec(t testing.TB, statements ...string) error {
	t.Helper()
	db, err := p.Raw()
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, s := range statements {
		if _, err := db.ExecContext(t.Context(), s); err != nil {
			return fmt.Errorf("%s: %w", s, err)
		}
	}
	return nil
}

// epoch is the time of the first save of tests, which read no clock.
var epoch = time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)

func at(n int) time.Time { return epoch.Add(time.Duration(n) * time.Minute) }

// draft is a draft with one part for each pair of name and text.
func draft(project string, parent store.ID, n int, parts ...string) store.Draft {
	d := store.Draft{Project: project, Head: store.Main, Expect: parent, Parent: parent, Author: "ada", Time: at(n), Note: fmt.Sprint("save ", n), Parts: store.Parts{}}
	for i := 0; i+1 < len(parts); i += 2 {
		d.Parts[parts[i]] = store.Content([]byte(parts[i+1]))
	}
	return d
}

func begin(t testing.TB, s store.Store, project string) {
	t.Helper()
	if err := s.NewProject(t.Context(), store.Project{ID: project, Name: "Works " + project, Created: epoch}); err != nil {
		t.Fatal(err)
	}
}

func save(t testing.TB, s store.Store, d store.Draft) store.Revision {
	t.Helper()
	r, err := s.Save(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func wantError(t testing.TB, got, want error) {
	t.Helper()
	if !errors.Is(got, want) {
		t.Errorf("the error is %v, want %v", got, want)
	}
}

// sound fails the test if the store is damaged anywhere.
func sound(t testing.TB, s store.Store) store.Counts {
	t.Helper()
	n, damage, err := store.Verify(t.Context(), s)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range damage {
		t.Error(d)
	}
	return n
}
