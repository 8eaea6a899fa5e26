package storetest

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/store"
)

// filled is a store with some of everything.
func filled(t *testing.T, s store.Store) {
	t.Helper()
	begin(t, s, "annex")
	begin(t, s, "works")
	base := list(5)
	one := save(t, s, tableDraft("", 1, "ada", base))
	save(t, s, tableDraft(one.ID, 2, "ada", edit(base, 0, "place", "P2 <&>")))
	if _, err := store.SaveMerged(t.Context(), s, tableDraft(one.ID, 3, "bo", edit(base, 1, "place", "P3")), join(nil)); err != nil {
		t.Fatal(err)
	}
	built := draft("works", one.ID, 4, "empty", "")
	built.Head, built.Expect = "as-built", ""
	save(t, s, built)
	for i := range 3 {
		if _, err := s.Append(t.Context(), "works", []store.Record{{ID: fmt.Sprint("r", i), Subject: "signal:PT-1", Kind: "loop", Author: "cy", Time: at(i), Body: []byte{0, 1, byte(i)}}}); err != nil {
			t.Fatal(err)
		}
	}
}

func backedUp(t testing.TB, s store.Store) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := store.Backup(t.Context(), s, &b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// backup: what comes out of a backup is what went in, to the byte of the next backup, and work goes on.
func backup(t *testing.T, p Place) {
	s := p.Store(t)
	filled(t, s)
	data := backedUp(t, s)
	there := p.Another(t).Store(t)
	n, err := store.Restore(t.Context(), there, bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if got := sound(t, there); got != n || got != sound(t, s) {
		t.Errorf("%+v, counted %+v", got, n)
	}
	if !bytes.Equal(data, backedUp(t, there)) {
		t.Error("the backup of what was restored differs")
	}
	heads, err := there.Heads(t.Context(), "works")
	if err != nil {
		t.Fatal(err)
	}
	if r := save(t, there, tableDraft(heads[store.Main], 9, "ada", list(2))); r.Number != 6 {
		t.Errorf("the next revision is %d", r.Number)
	}
	if added, err := there.Append(t.Context(), "works", []store.Record{{ID: "r9", Subject: "signal:A", Kind: "loop", Author: "cy", Time: epoch}}); err != nil || added != 1 {
		t.Error(err)
	}
	_, err = store.Restore(t.Context(), there, bytes.NewReader(data))
	wantError(t, err, store.ErrNotEmpty)
}

// Moves checks that a store goes from one keeper to another and back without a byte changing.
func Moves(t *testing.T, from, to Place) {
	a, b := from.Store(t), to.Store(t)
	filled(t, a)
	data := backedUp(t, a)
	if _, err := store.Restore(t.Context(), b, bytes.NewReader(data)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(data, backedUp(t, b)) {
		t.Error("the other keeper's backup differs")
	}
	back := from.Another(t).Store(t)
	if _, err := store.Restore(t.Context(), back, bytes.NewReader(backedUp(t, b))); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(sound(t, a), sound(t, back)); diff != "" {
		t.Error(diff)
	}
}

// backupWhileSaving: a backup that is made while others save holds one moment: in every project the
// first so many revisions, and the head on the last.
func backupWhileSaving(t *testing.T, p Place) {
	s, other := p.Store(t), p.Store(t)
	var stop atomic.Bool
	var saves atomic.Int64
	var group sync.WaitGroup
	for _, project := range []string{"annex", "works"} {
		begin(t, s, project)
		group.Go(func() {
			parent := store.ID("")
			for n := 1; !stop.Load(); n++ {
				r, err := other.Save(t.Context(), draft(project, parent, n, "a", fmt.Sprint(project, n), "b", strings.Repeat("text ", n)))
				if err != nil {
					t.Error(err)
					return
				}
				parent = r.ID
				saves.Add(1)
				if _, err := other.Append(t.Context(), project, []store.Record{{ID: fmt.Sprint(n), Subject: "signal:A", Kind: "loop", Author: "bo", Time: at(n)}}); err != nil {
					t.Error(err)
					return
				}
			}
		})
	}
	for range 4 {
		for before := saves.Load(); saves.Load() < before+3 && !t.Failed(); {
			time.Sleep(time.Millisecond)
		}
		before := saves.Load()
		data := backedUp(t, s)
		there := p.Another(t).Store(t)
		if _, err := store.Restore(t.Context(), there, bytes.NewReader(data)); err != nil {
			t.Error(err)
			break
		}
		n := sound(t, there)
		for _, project := range []string{"annex", "works"} {
			heads, err := there.Heads(t.Context(), project)
			last, err2 := there.Latest(t.Context(), project, 0, 1)
			if err != nil || err2 != nil || len(last) == 1 && heads[store.Main] != last[0].ID {
				t.Error("the head is not the newest revision", err, err2)
			}
		}
		if n.Revisions-n.Records > 2 || n.Records > n.Revisions {
			t.Errorf("%+v is not one moment", n)
		}
		if n.Revisions < before {
			t.Errorf("%d revisions were confirmed before the backup began, it holds %d", before, n.Revisions)
		}
	}
	stop.Store(true)
	group.Wait()
}

// badBackups: one that is not sound is refused, and the store stays empty.
func badBackups(t *testing.T, p Place) {
	s := p.Store(t)
	filled(t, s)
	good := backedUp(t, s)
	z, err := gzip.NewReader(bytes.NewReader(good))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	zipped := func(text string) []byte {
		var b bytes.Buffer
		w := gzip.NewWriter(&b)
		io.WriteString(w, text)
		w.Close()
		return b.Bytes()
	}
	flipped := func(at int) []byte {
		b := bytes.Clone(good)
		b[at] ^= 0x10
		return b
	}
	lines := strings.SplitAfter(string(text), "\n")
	there := p.Another(t).Store(t)
	for name, c := range map[string]struct {
		data []byte
		want error
	}{
		"nothing":         {nil, store.ErrBackup},
		"something else":  {[]byte("id,tag\n1,PT-1\n"), store.ErrBackup},
		"another gzip":    {zipped("id,tag\n"), store.ErrBackup},
		"newer":           {zipped(strings.Replace(string(text), "railwright-backup/1", "railwright-backup/2", 1)), store.ErrNewer},
		"cut":             {good[:len(good)/2], store.ErrBackup},
		"cut by a byte":   {good[:len(good)-1], store.ErrBackup},
		"cut at a line":   {zipped(strings.Join(lines[:len(lines)-3], "")), store.ErrBackup},
		"without its end": {zipped(strings.Join(lines[:len(lines)-2], "")), store.ErrBackup},
		"more":            {zipped(string(text) + lines[1]), store.ErrBackup},
		"flip early":      {flipped(60), store.ErrBackup},
		"flip middle":     {flipped(len(good) / 2), store.ErrBackup},
		"flip in the sum": {flipped(len(good) - 6), store.ErrBackup},
		"forged note":     {zipped(strings.Replace(string(text), "save 2", "save 7", 1)), store.ErrBackup},
		"forged record":   {zipped(strings.Replace(string(text), `"author":"cy"`, `"author":"di"`, 1)), store.ErrBackup},
	} {
		_, err := store.Restore(t.Context(), there, bytes.NewReader(c.data))
		if err == nil {
			t.Fatalf("%s: it was restored", name)
		}
		t.Run(name, func(t *testing.T) { wantError(t, err, c.want) })
	}
	if n := sound(t, there); n != (store.Counts{}) {
		t.Errorf("something was kept: %+v", n)
	}
	if _, err := store.Restore(t.Context(), there, bytes.NewReader(good)); err != nil {
		t.Error(err)
	}
}
