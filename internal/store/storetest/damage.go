package storetest

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"railwright/internal/store"
)

// keptForGood: not even somebody with access to the database changes what was kept.
func keptForGood(t *testing.T, p Place) {
	s := p.Store(t)
	begin(t, s, "works")
	save(t, s, draft("works", "", 1, "a", "1"))
	if _, err := s.Append(t.Context(), "works", []store.Record{{ID: "1", Subject: "signal:A", Kind: "loop", Author: "bo", Time: epoch}}); err != nil {
		t.Fatal(err)
	}
	for _, table := range []string{"parts", "revisions", "revision_parts", "records"} {
		for _, statement := range []string{"DELETE FROM " + table, fmt.Sprintf("UPDATE %s SET %s = 'x'", table, map[string]string{"parts": "coding", "revisions": "note", "revision_parts": "name", "records": "author"}[table])} {
			if err := p.Exec(t, statement); err == nil {
				t.Errorf("%s went through", statement)
			}
		}
	}
	if n := sound(t, s); n.Parts != 1 || n.Revisions != 1 || n.Records != 1 {
		t.Errorf("%+v", n)
	}
}

// damage: what changed on the disk behind the store's back is noticed by whoever reads it, by Verify,
// and by Backup.
func damage(t *testing.T, p Place) {
	s := p.Store(t)
	begin(t, s, "works")
	one := save(t, s, draft("works", "", 1, "a", "first", "b", "other"))
	save(t, s, draft("works", one.ID, 2, "a", "second"))
	if _, err := s.Append(t.Context(), "works", []store.Record{{ID: "1", Subject: "signal:A", Kind: "loop", Author: "bo", Time: epoch, Body: []byte("passed")}}); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, do string
		read     func(context.Context) error
	}{
		{"part", "UPDATE parts SET data = (SELECT data FROM parts WHERE size = 6) WHERE size = 5", func(ctx context.Context) error {
			_, err := s.Part(ctx, one.Parts["a"].Hash)
			return err
		}},
		{"coding", "UPDATE parts SET coding = 'deflate'", func(ctx context.Context) error {
			_, err := s.Part(ctx, one.Parts["b"].Hash)
			return err
		}},
		{"note", "UPDATE revisions SET note = 'forged' WHERE number = 1", func(ctx context.Context) error {
			_, err := s.Revision(ctx, one.ID)
			return err
		}},
		{"a part taken out of a revision", "DELETE FROM revision_parts WHERE name = 'b'", func(ctx context.Context) error {
			_, err := s.Numbered(ctx, "works", 1)
			return err
		}},
		{"record", "UPDATE records SET author = 'cy'", func(ctx context.Context) error {
			_, err := s.Records(ctx, "works", 0, 10)
			return err
		}},
		{"numbers", "UPDATE revisions SET number = 7 WHERE number = 2", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			undo := withoutGuards(t, p)
			if err := p.Exec(t, c.do); err != nil {
				t.Fatal(err)
			}
			defer undo()
			if c.read != nil {
				wantError(t, c.read(t.Context()), store.ErrDamaged)
			}
			_, found, err := store.Verify(t.Context(), s)
			if err != nil || len(found) == 0 {
				t.Errorf("Verify found nothing (%v)", err)
			}
			if c.read != nil {
				_, err = store.Backup(t.Context(), s, discard{})
				wantError(t, err, store.ErrDamaged)
			}
		})
	}
	sound(t, s)
}

type discard struct{}

func (discard) Write(b []byte) (int, error) { return len(b), nil }

// guarded are the tables that are guarded by triggers.
var guarded = []string{"parts", "revisions", "revision_parts", "records"}

// withoutGuards takes the triggers away and remembers the tables; the returned function puts the rows
// back.
func withoutGuards(t *testing.T, p Place) (undo func()) {
	t.Helper()
	var drop, forget []string
	for _, table := range guarded {
		drop = append(drop, "DROP TRIGGER IF EXISTS "+table+"_no_update", "DROP TRIGGER IF EXISTS "+table+"_no_delete", "CREATE TABLE was_"+table+" AS SELECT * FROM "+table)
		forget = append(forget, "DROP TABLE was_"+table)
	}
	if strings.HasPrefix(p.Name, "postgres:") {
		for i, table := range guarded {
			drop[3*i], drop[3*i+1] = "DROP TRIGGER IF EXISTS "+table+"_for_good ON "+table, "SELECT 1"
		}
	}
	if err := p.Exec(t, drop...); err != nil {
		t.Fatal(err)
	}
	back := []string{
		"DELETE FROM records", "INSERT INTO records SELECT * FROM was_records",
		"DELETE FROM revision_parts", "INSERT INTO revision_parts SELECT * FROM was_revision_parts",
		"UPDATE parts SET data = (SELECT data FROM was_parts w WHERE w.sha256 = parts.sha256), coding = (SELECT coding FROM was_parts w WHERE w.sha256 = parts.sha256)",
		"UPDATE revisions SET note = (SELECT note FROM was_revisions w WHERE w.id = revisions.id), number = (SELECT number FROM was_revisions w WHERE w.id = revisions.id)",
	}
	return func() {
		t.Helper()
		if err := p.Exec(t, append(back, forget...)...); err != nil {
			t.Fatal(err)
		}
	}
}

// newer: a store of a later schema is left alone.
func newer(t *testing.T, p Place) {
	s := p.Store(t)
	begin(t, s, "works")
	if err := p.Exec(t, "INSERT INTO railwright_schema (version_id, is_applied) VALUES (99, TRUE)"); err != nil {
		t.Fatal(err)
	}
	_, err := p.Open(t.Context(), 0)
	wantError(t, err, store.ErrNewer)
}

// foreign: a database of something else is left alone.
func foreign(t *testing.T, p Place) {
	if err := p.Exec(t, "CREATE TABLE projects (what TEXT)", "INSERT INTO projects VALUES ('somebody''s')"); err != nil {
		t.Fatal(err)
	}
	_, err := p.Open(t.Context(), 0)
	wantError(t, err, store.ErrForeign)
	if err := p.Exec(t, "SELECT what FROM projects"); err != nil {
		t.Error(err)
	}
}
