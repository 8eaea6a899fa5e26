package sqlite

import (
	"bytes"
	"crypto/sha256"
	"database/sql"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand"
	"os"
	"path/filepath"
	"testing"

	"railwright/internal/store"
	"railwright/internal/store/storetest"
)

// filled makes a store in a file, closed.
func filled(t *testing.T) (path string, backup []byte) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "works.store")
	s, err := Open(t.Context(), path, Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.NewProject(t.Context(), store.Project{ID: "works", Created: store.Clock(epoch)}); err != nil {
		t.Fatal(err)
	}
	parent := store.ID("")
	r := rand.New(rand.NewSource(1))
	for n := range 40 {
		noise := make([]byte, 3000)
		r.Read(noise)
		d := store.Draft{Project: "works", Head: store.Main, Expect: parent, Parent: parent, Author: "ada", Time: epoch, Note: fmt.Sprint("save ", n), Parts: store.Parts{"a": store.Content(noise), "b": store.Content([]byte(fmt.Sprint(n)))}}
		rev, err := s.Save(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		parent = rev.ID
	}
	var b bytes.Buffer
	if _, err := store.Backup(t.Context(), s, &b); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path, b.Bytes()
}

// TestDamagedFile changes a store's file in many ways. Each time it is refused and left as it is, or
// reading finds the damage, or nothing that anybody reads has changed.
func TestDamagedFile(t *testing.T) {
	path, backup := filled(t)
	good, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewSource(2))
	type change struct {
		name string
		data []byte
	}
	var changes []change
	for _, n := range []int{1, 15, 50, 99, 100, 512, 4096, len(good) / 2, len(good) - 4096, len(good) - 1} {
		changes = append(changes, change{fmt.Sprint("cut to ", n), good[:n]})
	}
	for range 40 {
		b, at := bytes.Clone(good), r.Intn(len(good))
		b[at] ^= 1 << r.Intn(8)
		changes = append(changes, change{fmt.Sprint("a bit at ", at), b})
	}
	for page := range len(good) / 4096 {
		if page%5 > 0 && page > 5 {
			continue
		}
		b := bytes.Clone(good)
		clear(b[page*4096 : (page+1)*4096])
		changes = append(changes, change{fmt.Sprint("page ", page, " zero"), b})
		b = bytes.Clone(good)
		r.Read(b[page*4096 : page*4096+64])
		changes = append(changes, change{fmt.Sprint("noise in page ", page), b})
	}
	refused, found, harmless := 0, 0, 0
	for _, c := range changes {
		dir := t.TempDir()
		at := filepath.Join(dir, "works.store")
		if err := os.WriteFile(at, c.data, 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := Open(t.Context(), at, Options{Create: true})
		if err != nil {
			refused++
			if !errors.Is(err, store.ErrDamaged) && !errors.Is(err, store.ErrForeign) && !errors.Is(err, store.ErrNewer) {
				t.Errorf("%s: refused with %v", c.name, err)
			}
			unchanged(t, c.name, at, c.data)
			continue
		}
		_, damage, err := store.Verify(t.Context(), s)
		if len(damage) > 0 || errors.Is(err, store.ErrDamaged) {
			found++
		} else {
			var b bytes.Buffer
			if _, berr := store.Backup(t.Context(), s, &b); err != nil || berr != nil || !bytes.Equal(b.Bytes(), backup) {
				t.Errorf("%s: nobody noticed (%v, %v)", c.name, err, berr)
			}
			harmless++
		}
		if err := s.Close(); err != nil {
			t.Errorf("%s: close: %v", c.name, err)
		}
	}
	t.Logf("%d changes: %d refused, %d found by reading, %d without effect", len(changes), refused, found, harmless)
	if refused < 20 || found == 0 {
		t.Error("too few changes had an effect")
	}
}

// unchanged checks that a file is as it was, and that nothing appeared beside it.
func unchanged(t *testing.T, name, path string, want []byte) {
	t.Helper()
	now, err := os.ReadFile(path)
	if err != nil || sha256.Sum256(now) != sha256.Sum256(want) {
		t.Errorf("%s: the file was changed (%v)", name, err)
	}
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(entries) != 1 {
		t.Errorf("%s: beside the file there are %v", name, entries)
	}
}

// TestOtherFiles: what is no store of ours is refused and left as it is.
func TestOtherFiles(t *testing.T) {
	database := func(statements ...string) []byte {
		path := filepath.Join(t.TempDir(), "x")
		db, err := sql.Open("sqlite", path)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range statements {
			if _, err := db.Exec(s); err != nil {
				t.Fatal(err)
			}
		}
		db.Close()
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	newer := func() []byte {
		path, _ := filled(t)
		if err := inFile(path).Exec(t, "INSERT INTO railwright_schema (version_id, is_applied) VALUES (4, 1)", "PRAGMA wal_checkpoint(TRUNCATE)"); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	for name, c := range map[string]struct {
		data []byte
		want error
	}{
		"text":               {[]byte("id,tag\n1,PT-101\n"), store.ErrForeign},
		"long text":          {bytes.Repeat([]byte("id,tag\n1,PT-101\n"), 100), store.ErrForeign},
		"another's database": {database("PRAGMA application_id = 7", "CREATE TABLE a (b)"), store.ErrForeign},
		"some database":      {database("CREATE TABLE projects (b)"), store.ErrForeign},
		"newer":              {newer(), store.ErrNewer},
	} {
		path := filepath.Join(t.TempDir(), "works.store")
		if err := os.WriteFile(path, c.data, 0o600); err != nil {
			t.Fatal(err)
		}
		for _, create := range []bool{true, false} {
			_, err := Open(t.Context(), path, Options{Create: create})
			if !errors.Is(err, c.want) {
				t.Errorf("%s: the error is %v, want %v", name, err, c.want)
			}
			unchanged(t, name, path, c.data)
		}
	}
	dir := t.TempDir()
	if _, err := Open(t.Context(), dir, Options{Create: true}); !errors.Is(err, store.ErrForeign) {
		t.Error(err)
	}
	if _, err := Open(t.Context(), filepath.Join(dir, "none"), Options{}); !errors.Is(err, store.ErrMissing) {
		t.Error(err)
	}
	empty := filepath.Join(dir, "empty")
	if err := os.WriteFile(empty, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(t.Context(), empty, Options{}); !errors.Is(err, store.ErrForeign) {
		t.Error(err)
	}
	if k, err := Open(t.Context(), empty, Options{Create: true}); err != nil {
		t.Error(err)
	} else {
		k.Close()
	}
}

// TestBesideOthers: one who looks while another has the store open sees the newest state and does no
// harm; also when the other was killed and its log is still there.
func TestBesideOthers(t *testing.T) {
	path, _ := filled(t)
	a, err := Open(t.Context(), path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := a.NewProject(t.Context(), store.Project{ID: "annex", Created: epoch}); err != nil {
		t.Fatal(err)
	}
	// A copy of file and log is what a kill leaves behind.
	dir := t.TempDir()
	for _, end := range []string{"", "-wal"} {
		data, err := os.ReadFile(path + end)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "works.store"+end), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, p := range []string{path, filepath.Join(dir, "works.store")} {
		b, err := Open(t.Context(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if all, err := b.Projects(t.Context()); err != nil || len(all) != 2 {
			t.Error(len(all), err)
		}
		if err := b.Close(); err != nil {
			t.Error(err)
		}
	}
	if err := a.Close(); err != nil {
		t.Error(err)
	}
	if entries, _ := os.ReadDir(filepath.Dir(path)); len(entries) != 1 {
		t.Errorf("beside the closed store there are %v", entries)
	}
}

var update = flag.Bool("update", false, "write the store of schema 1 anew (only with the code that wrote schema 1)")

// TestOldFile opens a file as the first version of the tool wrote it.
func TestOldFile(t *testing.T) {
	kept := filepath.Join("testdata", "schema1.store")
	if *update {
		writeOld(t, kept)
	}
	path := filepath.Join(t.TempDir(), "works.store")
	from, err := os.Open(kept)
	if err != nil {
		t.Fatal(err)
	}
	defer from.Close()
	to, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.Copy(to, from); err != nil {
		t.Fatal(err)
	}
	if err := to.Close(); err != nil {
		t.Fatal(err)
	}
	storetest.CheckOld(t, inFile(path))
}

func writeOld(t *testing.T, path string) {
	t.Helper()
	os.Remove(path)
	k, err := Open(t.Context(), path, Options{Create: true, Schema: 1})
	if err != nil {
		t.Fatal(err)
	}
	k.Close()
	db, err := inFile(path).Raw()
	if err != nil {
		t.Fatal(err)
	}
	storetest.FillOld(t, db)
	for _, s := range []string{"UPDATE railwright_schema SET tstamp = '2026-03-02 07:00:00'", "PRAGMA journal_mode = DELETE"} {
		if _, err := db.Exec(s); err != nil {
			t.Fatal(err)
		}
	}
	db.Close()
}

// TestFullDisk: a save that does not fit leaves everything as it was, and goes through once there is
// room.
func TestFullDisk(t *testing.T) {
	path, _ := filled(t)
	s, err := Open(t.Context(), path, Options{full: true})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	heads, err := s.Heads(t.Context(), "works")
	if err != nil {
		t.Fatal(err)
	}
	noise := make([]byte, 100_000)
	rand.New(rand.NewSource(3)).Read(noise)
	d := store.Draft{Project: "works", Head: store.Main, Expect: heads[store.Main], Parent: heads[store.Main], Author: "ada", Time: epoch, Parts: store.Parts{"a": store.Content(noise)}}
	if _, err := s.Save(t.Context(), d); err == nil {
		t.Fatal("it was saved on a full disk")
	}
	if n, damage, err := store.Verify(t.Context(), s); err != nil || len(damage) > 0 || n.Revisions != 40 || n.Parts != 80 {
		t.Error(n, damage, err)
	}
	roomy, err := Open(t.Context(), path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer roomy.Close()
	if r, err := roomy.Save(t.Context(), d); err != nil || r.Number != 41 {
		t.Error(r.Number, err)
	}
}
