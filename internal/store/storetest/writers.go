package storetest

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/store"
	"railwright/internal/store/merge"
)

// edit sets a cell of a table.
func edit(t merge.Table, row int, column, text string) merge.Table {
	out := merge.Table{Columns: t.Columns}
	for i, r := range t.Rows {
		r.Cells = append([]string(nil), r.Cells...)
		for c, name := range t.Columns {
			if i == row && name == column {
				r.Cells[c] = text
			}
		}
		out.Rows = append(out.Rows, r)
	}
	return out
}

func tableDraft(parent store.ID, n int, author string, t merge.Table) store.Draft {
	d := draft("works", parent, n, "signals.csv", encodeTable(t))
	d.Author = author
	return d
}

// mergedSaves: two people on one revision.
func mergedSaves(t *testing.T, p Place) {
	s := p.Store(t)
	begin(t, s, "works")
	base := list(3)
	one := save(t, s, tableDraft("", 1, "ada", base))
	saved := func(d store.Draft, decide merge.Decide) store.Saved {
		t.Helper()
		out, err := store.SaveMerged(t.Context(), s, d, join(decide))
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	first := saved(tableDraft(one.ID, 2, "ada", edit(base, 0, "place", "P2")), nil)
	if first.Kept != nil || first.Revision.Number != 2 {
		t.Errorf("%+v", first)
	}
	// Another column of the same row merges; both versions are the merge's parents.
	second := saved(tableDraft(one.ID, 3, "bo", edit(base, 0, "remarks", "seen")), nil)
	if second.Kept == nil || second.Open != 0 || second.Revision.Parent != first.Revision.ID || second.Revision.Merged != second.Kept.ID {
		t.Errorf("%+v", second)
	}
	data, _ := s.Part(t.Context(), second.Revision.Parts["signals.csv"].Hash)
	if diff := cmp.Diff(encodeTable(edit(edit(base, 0, "place", "P2"), 0, "remarks", "seen")), string(data)); diff != "" {
		t.Error(diff)
	}
	// The same cell does not; nothing moves, and the saver is told both versions.
	clash := tableDraft(one.ID, 4, "cy", edit(base, 0, "place", "P3"))
	third := saved(clash, nil)
	want := []store.Conflict{{Part: "signals.csv", Conflict: merge.Conflict{ID: "S0", Column: "place", Base: "P1", Mine: "P3", Theirs: "P2"}}}
	if diff := cmp.Diff(want, third.Conflicts); diff != "" || third.Open != 1 || third.Revision.ID != second.Revision.ID {
		t.Error(diff, third)
	}
	data, _ = s.Part(t.Context(), third.Kept.Parts["signals.csv"].Hash)
	if string(data) != encodeTable(edit(base, 0, "place", "P3")) {
		t.Errorf("the saver's own version is not kept: %s", data)
	}
	// Tried again a minute later, decided: the version kept aside serves.
	clash.Time, clash.Note = at(5), "mine is right"
	fourth := saved(clash, func(merge.Conflict) merge.Side { return merge.Mine })
	if fourth.Open != 0 || fourth.Kept.ID != third.Kept.ID || fourth.Revision.Merged != third.Kept.ID || len(fourth.Conflicts) != 1 {
		t.Errorf("%+v", fourth)
	}
	// Who goes on from a version that was kept aside is joined from where it parted.
	aside := decodeTable(data)
	fifth := saved(tableDraft(third.Kept.ID, 6, "cy", edit(aside, 2, "remarks", "later")), nil)
	if fifth.Open != 0 {
		t.Errorf("%+v", fifth)
	}
	data, _ = s.Part(t.Context(), fifth.Revision.Parts["signals.csv"].Hash)
	if string(data) != encodeTable(edit(edit(edit(base, 0, "place", "P3"), 0, "remarks", "seen"), 2, "remarks", "later")) {
		t.Errorf("%s", data)
	}
	// A saver whose answer was lost saves again, later: nothing is there twice, whether or not somebody
	// saved on top of it.
	edited := decodeTable(data)
	lost := tableDraft(fifth.Revision.ID, 7, "ada", edit(edited, 1, "remarks", "lost answer"))
	sixth := saved(lost, nil)
	lost.Time = at(8)
	if again := saved(lost, nil); again.Revision.ID != sixth.Revision.ID || again.Kept != nil {
		t.Errorf("%+v", again)
	}
	seventh := saved(tableDraft(sixth.Revision.ID, 9, "bo", edit(edited, 1, "remarks", "on top")), nil)
	lost.Time = at(10)
	if again := saved(lost, nil); again.Revision.ID != seventh.Revision.ID || again.Open != 0 {
		t.Errorf("%+v", again)
	}
	if n := sound(t, s); n.Revisions != seventh.Revision.Number {
		t.Errorf("%+v", n)
	}
}

// writers: sixty people work on one project at once, through several servers. Forty have rows of their
// own and save twice, twenty want the same cell.
func writers(t *testing.T, p Place) {
	const all, own, servers = 60, 40, 4
	var open [servers]store.Store
	for i := range open {
		open[i] = p.Store(t)
	}
	begin(t, open[0], "works")
	base := list(all)
	one := save(t, open[0], tableDraft("", 0, "ada", base))

	var done [all]store.Saved
	var group sync.WaitGroup
	for i := range all {
		group.Go(func() {
			s, author := open[i%servers], fmt.Sprint("writer ", i)
			mine := edit(base, 0, "tag", author)
			if i < own {
				mine = edit(base, i, "place", author)
			}
			var err error
			if done[i], err = store.SaveMerged(t.Context(), s, tableDraft(one.ID, i, author, mine), join(nil)); err != nil {
				t.Error(err)
				return
			}
			if i >= own {
				return
			}
			if done[i].Open != 0 {
				t.Errorf("%s has conflicts: %+v", author, done[i].Conflicts)
			}
			data, err := s.Part(t.Context(), done[i].Revision.Parts["signals.csv"].Hash)
			if err != nil {
				t.Error(err)
				return
			}
			again := edit(decodeTable(data), i, "remarks", "done")
			if done[i], err = store.SaveMerged(t.Context(), s, tableDraft(done[i].Revision.ID, 100+i, author, again), join(nil)); err != nil || done[i].Open != 0 {
				t.Error(err, done[i].Conflicts)
			}
		})
	}
	group.Wait()
	if t.Failed() {
		return
	}
	s := p.Store(t)
	winner := ""
	for i := own; i < all; i++ {
		if done[i].Open == 0 {
			if winner != "" {
				t.Errorf("writer %d and %s both got the cell", i, winner)
			}
			winner = fmt.Sprint("writer ", i)
		}
	}
	for i := own; i < all; i++ {
		author := fmt.Sprint("writer ", i)
		if author == winner {
			continue
		}
		want := []store.Conflict{{Part: "signals.csv", Conflict: merge.Conflict{ID: "S0", Column: "tag", Base: "PT-0", Mine: author, Theirs: winner}}}
		if diff := cmp.Diff(want, done[i].Conflicts); diff != "" {
			t.Errorf("%s: %s", author, diff)
		}
		r, err := s.Revision(t.Context(), done[i].Kept.ID)
		if err != nil || r.Author != author {
			t.Errorf("%s: own version is not kept: %v", author, err)
			continue
		}
		data, err := s.Part(t.Context(), r.Parts["signals.csv"].Hash)
		if err != nil || string(data) != encodeTable(edit(base, 0, "tag", author)) {
			t.Errorf("%s: own version is not kept: %v", author, err)
		}
	}
	want := edit(base, 0, "tag", winner)
	for i := range own {
		want = edit(edit(want, i, "place", fmt.Sprint("writer ", i)), i, "remarks", "done")
	}
	heads, err := s.Heads(t.Context(), "works")
	if err != nil {
		t.Fatal(err)
	}
	head, err := s.Revision(t.Context(), heads[store.Main])
	if err != nil {
		t.Fatal(err)
	}
	data, err := s.Part(t.Context(), head.Parts["signals.csv"].Hash)
	if diff := cmp.Diff(strings.Split(encodeTable(want), "\n"), strings.Split(string(data), "\n")); err != nil || diff != "" {
		t.Error(err, diff)
	}
	sound(t, s)
}

// openedTogether: several servers find an empty place at the same time.
func openedTogether(t *testing.T, p Place) {
	var group sync.WaitGroup
	for range 6 {
		group.Go(func() {
			s, err := p.Open(t.Context(), 0)
			if err != nil {
				t.Error(err)
				return
			}
			if err := s.Close(); err != nil {
				t.Error(err)
			}
		})
	}
	group.Wait()
	begin(t, p.Store(t), "works")
}
