package storetest

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"railwright/internal/store"
)

// saves is how many revisions the tests save that kill.
const saves = 1000

// The variables that make a test binary a saver.
const (
	saverPlace = "RAILWRIGHT_SAVER"       // where it saves
	saverAfter = "RAILWRIGHT_SAVER_AFTER" // number and id of the last confirmed revision
)

// numbered is the n-th draft of the tests that kill. Made again, it is the same.
func numbered(project string, n int, parent store.ID) store.Draft {
	return draft(project, parent, n, "signals.csv", encodeTable(edit(list(20), n%20, "remarks", fmt.Sprint("save ", n))), "project.toml", "format = 1\n")
}

// recorded says whether a record follows the n-th save.
func recorded(n int) bool { return n%4 == 0 }

func numberedRecord(n int) store.Record {
	return store.Record{ID: fmt.Sprint("r", n), Subject: "signal:PT-1", Kind: "loop", Author: "bo", Time: at(n), Body: []byte(fmt.Sprint(n))}
}

// SaverMain makes this process save until it is killed, if it was started for that. TestMain calls it
// first.
func SaverMain(open func(name string) Place) {
	name := os.Getenv(saverPlace)
	if name == "" {
		return
	}
	work := saver
	if row, err := strconv.Atoi(os.Getenv(saverRow)); err == nil {
		work = func(p Place) error { return editor(p, row) }
	}
	if err := work(open(name)); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// saver saves revision after revision with a record each, and says so after each.
func saver(p Place) error {
	ctx := context.Background()
	n, parent := 0, store.ID("")
	if _, err := fmt.Sscan(os.Getenv(saverAfter), &n, &parent); err != nil && n > 0 {
		return err
	}
	s, err := p.Open(ctx, 0)
	if err != nil {
		return err
	}
	for n++; n <= saves; n++ {
		r, err := s.Save(ctx, numbered("works", n, parent))
		if err != nil {
			return fmt.Errorf("save %d: %w", n, err)
		}
		if recorded(n) {
			if _, err := s.Append(ctx, "works", []store.Record{numberedRecord(n)}); err != nil {
				return fmt.Errorf("record %d: %w", n, err)
			}
		}
		parent = r.ID
		if _, err := fmt.Println(n, r.ID); err != nil {
			return err
		}
	}
	return s.Close()
}

// KilledProcess starts a process that saves a thousand revisions, kills it again and again in the
// middle of its work, and starts it anew at the last revision that was confirmed.
func KilledProcess(t *testing.T, p Place) {
	s := p.Store(t)
	begin(t, s, "works")
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	confirmed := []store.ID{""}
	kills := 0
	for _, until := range []int{1, 130, 377, 502, 640, 941, saves + 1} {
		lines, killed := process(t, p, len(confirmed)-1, confirmed[len(confirmed)-1], until)
		if killed {
			kills++
		}
		for _, l := range lines {
			var n int
			var id store.ID
			if _, err := fmt.Sscan(l, &n, &id); err != nil {
				t.Fatalf("%q: %v", l, err)
			}
			if n != len(confirmed) {
				t.Fatalf("save %d was confirmed after %d", n, len(confirmed)-1)
			}
			confirmed = append(confirmed, id)
		}
		again := p.Store(t)
		for n := len(confirmed) - 1; n > 0 && n > len(confirmed)-8; n-- {
			if r, err := again.Numbered(t.Context(), "works", int64(n)); err != nil || r.ID != confirmed[n] {
				t.Fatalf("save %d was confirmed and is not there: %v", n, err)
			}
		}
		if err := again.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if kills < 5 {
		t.Errorf("the process was killed %d times in the middle", kills)
	}
	all(t, p, "works", confirmed[1:])
}

// process runs a saver until so many saves are confirmed, kills it, and returns what it confirmed.
func process(t *testing.T, p Place, after int, parent store.ID, until int) (lines []string, killed bool) {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(exe)
	c.Env = append(os.Environ(), saverPlace+"="+p.Name, fmt.Sprintf("%s=%d %s", saverAfter, after, parent))
	var errs strings.Builder
	c.Stderr = &errs
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	for in := bufio.NewScanner(out); in.Scan(); { // also what it confirmed before the kill reached it
		lines = append(lines, in.Text())
		if after+len(lines) == until {
			if err := c.Process.Kill(); err != nil {
				t.Error(err)
			}
			killed = true
		}
	}
	if err := c.Wait(); err != nil && !killed {
		t.Fatalf("%v\n%s", err, errs.String())
	}
	return lines, killed
}

// all checks that a project holds exactly the confirmed revisions and a record for each.
func all(t *testing.T, p Place, project string, confirmed []store.ID) {
	t.Helper()
	s := p.Store(t)
	revisions, err := s.Revisions(t.Context(), project, 0, 2*saves)
	if err != nil {
		t.Fatal(err)
	}
	if len(revisions) != len(confirmed) {
		t.Errorf("%s holds %d revisions, %d were saved", project, len(revisions), len(confirmed))
	}
	for i := range min(len(revisions), len(confirmed)) {
		want := numbered(project, i+1, "")
		if i > 0 {
			want.Parent = confirmed[i-1]
		}
		if r := revisions[i]; r.ID != confirmed[i] || r.Number != int64(i+1) || r.Sum() != want.Revision().ID {
			t.Fatalf("save %d of %s is %+v", i+1, project, r)
		}
		if data, err := s.Part(t.Context(), revisions[i].Parts["signals.csv"].Hash); err != nil || string(data) != string(want.Parts["signals.csv"].Data) {
			t.Fatalf("save %d of %s: %v", i+1, project, err)
		}
	}
	records, err := s.Records(t.Context(), project, 0, 2*saves)
	if err != nil || len(records) != len(confirmed)/4 {
		t.Errorf("%s holds %d records, want one for every fourth of %d; %v", project, len(records), len(confirmed), err)
	}
	heads, err := s.Heads(t.Context(), project)
	if err != nil || len(confirmed) > 0 && heads[store.Main] != confirmed[len(confirmed)-1] {
		t.Errorf("the head of %s is not the last revision: %v", project, err)
	}
	sound(t, s)
}

// KilledServer lets four savers save a thousand revisions in all, and kills the database server under
// them. A saver that got an error does not know whether its save arrived, and sends it again until it
// is confirmed.
func KilledServer(t *testing.T, p Place, kill func() error, start func(context.Context) error) {
	const savers, kills = 4, 3
	s := p.Store(t)
	var confirmed [savers][]store.ID
	var done, failures atomic.Int64
	var group sync.WaitGroup
	for i := range savers {
		project := fmt.Sprint("works ", i)
		begin(t, s, project)
		group.Go(func() {
			parent := store.ID("")
			for n := 1; n <= saves/savers; {
				r, err := s.Save(t.Context(), numbered(project, n, parent))
				if err == nil && recorded(n) {
					_, err = s.Append(t.Context(), project, []store.Record{numberedRecord(n)})
				}
				var moved *store.HeadMoved
				if errors.As(err, &moved) || t.Context().Err() != nil {
					t.Error(err)
					return
				}
				if err != nil {
					failures.Add(1)
					time.Sleep(10 * time.Millisecond)
					continue
				}
				parent = r.ID
				confirmed[i] = append(confirmed[i], r.ID)
				done.Add(1)
				n++
			}
		})
	}
	for k := range int64(kills) {
		for done.Load() < (k+1)*saves/(kills+1) && !t.Failed() {
			time.Sleep(time.Millisecond)
		}
		if err := kill(); err != nil {
			t.Error(err)
		}
		if err := start(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	group.Wait()
	if failures.Load() == 0 {
		t.Error("no save was hit")
	}
	for i := range savers {
		all(t, p, fmt.Sprint("works ", i), confirmed[i])
	}
}
