package storetest

import (
	"database/sql"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/store"
)

// What a store of schema 1 held, row by row as that schema had them. Never change it: files that were
// written years ago hold such rows, under such ids.
const (
	oldFirst  = "5276d039abe3f8703da862e3b4f444d43dc90948fa8c27cb983b3bfbfffa4dd4"
	oldSecond = "58b04f65472121534669387a28f15bb424abf2562a1f42dd81b454c907f2a286"
	oldThird  = "f06c67b4025a5a4fa445687cbb1bf064bdcd4917235e94b95863b2256b164eeb"
	oldPlain  = "020c16248f6a7eaf0ba5341a911da778e021b7ba09bdfd54328f8732085250e6"
	oldPacked = "9176311d628d7d72bb9471dc9c9ffe54a4524e6d25af31456ef86416b0a887f4"
)

var oldRows = []struct {
	table string
	cells []any
}{
	{"projects (id, name, created_ms, last_revision)", []any{"works", "Wasserwerk Süd", int64(1772434800000), int64(3)}},
	{"parts (sha256, size, coding, data)", []any{oldPlain, int64(16), "raw", []byte("id,tag\n1,PT-101\n")}},
	{"parts (sha256, size, coding, data)", []any{oldPacked, int64(187), "deflate", []byte{
		0xca, 0x4c, 0xd1, 0x29, 0x49, 0x4c, 0xe7, 0x32, 0xd2, 0x9, 0x8, 0xd1, 0x35, 0x34, 0x30, 0x1a, 0x4a, 0xc, 0x40, 0x0, 0x0, 0x0, 0xff, 0xff,
	}}},
	{"revisions (id, project, number, parent, merged, author, time_ms, note)", []any{oldFirst, "works", int64(1), nil, nil, "ada", int64(1772434800000), "first"}},
	{"revisions (id, project, number, parent, merged, author, time_ms, note)", []any{oldSecond, "works", int64(2), oldFirst, nil, "Bö", int64(1772434860000), "second\nline"}},
	{"revisions (id, project, number, parent, merged, author, time_ms, note)", []any{oldThird, "works", int64(3), oldSecond, oldFirst, "ada", int64(1772434920000), ""}},
	{"revision_parts (revision, name, sha256)", []any{oldFirst, "signals.csv", oldPlain}},
	{"revision_parts (revision, name, sha256)", []any{oldSecond, "signals.csv", oldPacked}},
	{"revision_parts (revision, name, sha256)", []any{oldSecond, "project.toml", oldPlain}},
	{"revision_parts (revision, name, sha256)", []any{oldThird, "signals.csv", oldPlain}},
	{"heads (project, name, revision)", []any{"works", "main", oldThird}},
	{"heads (project, name, revision)", []any{"works", "as-built", oldFirst}},
}

// FillOld puts the old rows into a database of schema 1.
func FillOld(t testing.TB, db *sql.DB) {
	t.Helper()
	for _, r := range oldRows {
		marks := []string{"$1", "$2", "$3", "$4", "$5", "$6", "$7", "$8"}[:len(r.cells)]
		if _, err := db.ExecContext(t.Context(), "INSERT INTO "+r.table+" VALUES ("+strings.Join(marks, ", ")+")", r.cells...); err != nil {
			t.Fatal(err)
		}
	}
}

// upgrade: a store that an earlier version wrote opens, holds all, and goes on.
func upgrade(t *testing.T, p Place) {
	s, err := p.Open(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	db, err := p.Raw()
	if err != nil {
		t.Fatal(err)
	}
	FillOld(t, db)
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	CheckOld(t, p)
}

// CheckOld opens a place that holds the old rows, checks that all is there, and goes on with it.
func CheckOld(t *testing.T, p Place) {
	s := p.Store(t)
	if n := sound(t, s); n != (store.Counts{Projects: 1, Parts: 2, Revisions: 3, Heads: 2}) {
		t.Errorf("%+v", n)
	}
	all, err := s.Revisions(t.Context(), "works", 0, 9)
	plain, packed := store.Part{Hash: oldPlain, Size: 16}, store.Part{Hash: oldPacked, Size: 187}
	want := []store.Revision{
		{ID: oldFirst, Project: "works", Number: 1, Parts: store.Parts{"signals.csv": plain}, Author: "ada", Time: at(0), Note: "first"},
		{ID: oldSecond, Project: "works", Number: 2, Parent: oldFirst, Parts: store.Parts{"signals.csv": packed, "project.toml": plain}, Author: "Bö", Time: at(1), Note: "second\nline"},
		{ID: oldThird, Project: "works", Number: 3, Parent: oldSecond, Merged: oldFirst, Parts: store.Parts{"signals.csv": plain}, Author: "ada", Time: at(2)},
	}
	if diff := cmp.Diff(want, all); err != nil || diff != "" {
		t.Error(err, diff)
	}
	for hash, want := range map[store.Hash]string{oldPlain: "id,tag\n1,PT-101\n", oldPacked: "id,tag\n" + strings.Repeat("2,PT-102\n", 20)} {
		if data, err := s.Part(t.Context(), hash); err != nil || string(data) != want {
			t.Errorf("part %s: %q, %v", hash, data, err)
		}
	}
	heads, err := s.Heads(t.Context(), "works")
	if diff := cmp.Diff(map[string]store.ID{"main": oldThird, "as-built": oldFirst}, heads); err != nil || diff != "" {
		t.Error(err, diff)
	}
	if r := save(t, s, draft("works", oldThird, 4, "signals.csv", "new")); r.Number != 4 {
		t.Errorf("the next revision is %d", r.Number)
	}
	if n, err := s.Append(t.Context(), "works", []store.Record{{ID: "r1", Subject: "signal:1", Kind: "loop", Author: "bo", Time: at(5), Body: []byte("{}")}}); err != nil || n != 1 {
		t.Error(n, err)
	}
	sound(t, p.Store(t))
}
