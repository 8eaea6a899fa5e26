package storetest

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/store"
)

// saverRow makes a saver edit one row of one list beside others, instead of saving alone.
const saverRow = "RAILWRIGHT_SAVER_ROW"

// edits is how often each of them saves.
const edits = 25

// editor changes the remarks of one row again and again, each time from the revision that its last save
// gave, and joins what the others did.
func editor(p Place, row int) error {
	ctx := context.Background()
	s, err := p.Open(ctx, 0)
	if err != nil {
		return err
	}
	heads, err := s.Heads(ctx, "works")
	if err != nil {
		return err
	}
	r, err := s.Revision(ctx, heads[store.Main])
	if err != nil {
		return err
	}
	for n := 1; n <= edits; n++ {
		data, err := s.Part(ctx, r.Parts["signals.csv"].Hash)
		if err != nil {
			return err
		}
		out, err := store.SaveMerged(ctx, s, tableDraft(r.ID, n, fmt.Sprint("process ", row), edit(decodeTable(data), row, "remarks", fmt.Sprint("edit ", n))), join(nil))
		if err != nil || out.Open > 0 {
			return errors.Join(err, fmt.Errorf("edit %d: %d conflicts", n, out.Open))
		}
		r = out.Revision
	}
	return s.Close()
}

// Processes lets several processes edit one list, each a row of its own.
func Processes(t *testing.T, p Place) {
	const processes = 3
	s := p.Store(t)
	begin(t, s, "works")
	base := list(processes)
	save(t, s, tableDraft("", 0, "ada", base))
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var group sync.WaitGroup
	for row := range processes {
		c := exec.Command(exe)
		c.Env = append(os.Environ(), saverPlace+"="+p.Name, saverRow+"="+strconv.Itoa(row))
		group.Go(func() {
			if out, err := c.CombinedOutput(); err != nil {
				t.Errorf("%v\n%s", err, out)
			}
		})
	}
	group.Wait()
	heads, err := s.Heads(t.Context(), "works")
	if err != nil {
		t.Fatal(err)
	}
	head, err := s.Revision(t.Context(), heads[store.Main])
	if err != nil {
		t.Fatal(err)
	}
	data, err := s.Part(t.Context(), head.Parts["signals.csv"].Hash)
	want := base
	for row := range processes {
		want = edit(want, row, "remarks", fmt.Sprint("edit ", edits))
	}
	if diff := cmp.Diff(encodeTable(want), string(data)); err != nil || diff != "" {
		t.Error(err, diff)
	}
	if n := sound(t, s); n.Revisions < 1+processes*edits {
		t.Errorf("%d edits were confirmed, %d revisions are there", processes*edits, n.Revisions)
	}
}
