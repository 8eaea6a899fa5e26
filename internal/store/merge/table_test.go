package merge

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var columns = []string{"tag", "place", "voltage_v", "remarks"}

// someTable draws a table; its rows have different ids.
func someTable(t *rapid.T, label string) Table {
	out := Table{Columns: columns}
	for _, id := range rapid.SliceOfNDistinct(rapid.IntRange(0, 9), 0, 8, rapid.ID[int]).Draw(t, label+" ids") {
		r := Row{ID: fmt.Sprint("S", id)}
		for range columns {
			r.Cells = append(r.Cells, rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, label))
		}
		out.Rows = append(out.Rows, r)
	}
	return out
}

// edited draws edits of a table: cells, rows taken out, rows added (with the ids that anyone may use).
func edited(t *rapid.T, from Table, label string) Table {
	out := Table{Columns: columns}
	used := map[string]bool{}
	for _, r := range from.Rows {
		used[r.ID] = true
		if rapid.IntRange(0, 9).Draw(t, label+" out") == 0 {
			continue
		}
		n := Row{ID: r.ID, Cells: slices.Clone(r.Cells)}
		for i := range n.Cells {
			if rapid.IntRange(0, 4).Draw(t, label+" edit") == 0 {
				n.Cells[i] = rapid.SampledFrom([]string{"", "a", "b", "c"}).Draw(t, label)
			}
		}
		out.Rows = append(out.Rows, n)
	}
	for _, r := range someTable(t, label+" new").Rows {
		if !used[r.ID] {
			at := rapid.IntRange(0, len(out.Rows)).Draw(t, label+" at")
			out.Rows = slices.Insert(out.Rows, at, r)
		}
	}
	return out
}

// byID is a table as a map of maps, without order and without empty cells.
func byID(t Table) map[string]map[string]string {
	out := map[string]map[string]string{}
	for _, r := range t.Rows {
		cells := map[string]string{}
		for i, c := range t.Columns {
			if r.Cells[i] != "" {
				cells[c] = r.Cells[i]
			}
		}
		out[r.ID] = cells
	}
	return out
}

// TestOneSide: where only one side changed something, or both made the same of it, that is the result,
// its order too.
func TestOneSide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := someTable(t, "base")
		x := edited(t, base, "x")
		for name, got := range map[string]Table{"mine": first(Tables(base, x, base, nil)), "theirs": first(Tables(base, base, x, nil)), "both": first(Tables(base, x, x, nil))} {
			if diff := cmp.Diff(x.Rows, got.Rows); diff != "" {
				t.Errorf("%s: %s", name, diff)
			}
		}
	})
}

func first(t Table, all []Conflict, open int) Table {
	if len(all) > 0 || open > 0 {
		panic(fmt.Sprint("conflicts: ", all))
	}
	return t
}

// TestEveryCell takes each cell a second way: by the sentence of what a merge is.
func TestEveryCell(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := someTable(t, "base")
		mine, theirs := edited(t, base, "mine"), edited(t, base, "theirs")
		right := rapid.SampledFrom([]Side{Neither, Mine, Theirs}).Draw(t, "right")
		out, all, open := Tables(base, mine, theirs, func(Conflict) Side { return right })
		if want := map[bool]int{true: len(all)}[right == Neither]; open != want {
			t.Errorf("%d open, want %d", open, want)
		}
		b, m, o, got := byID(base), byID(mine), byID(theirs), byID(out)
		wantConflicts := map[string]bool{}
		want := map[string]map[string]string{}
		for i := range 10 {
			id := fmt.Sprint("S", i)
			_, inB := b[id]
			_, inM := m[id]
			_, inO := o[id]
			untouched := func(x map[string]string) bool { return cmp.Equal(x, b[id]) }
			switch {
			case !inM && !inO:
			case inB && !inM && untouched(o[id]), inB && !inO && untouched(m[id]):
			case inB && !inM:
				wantConflicts[id+"/"] = true
				if right != Mine {
					want[id] = o[id]
				}
			case inB && !inO:
				wantConflicts[id+"/"] = true
				if right == Mine {
					want[id] = m[id]
				}
			default:
				cells := map[string]string{}
				for _, c := range columns {
					v := o[id][c]
					switch {
					case !inO, o[id][c] == b[id][c]:
						v = m[id][c]
					case !inM, m[id][c] == b[id][c], m[id][c] == o[id][c]:
					default:
						wantConflicts[id+"/"+c] = true
						if right == Mine {
							v = m[id][c]
						}
					}
					if v != "" {
						cells[c] = v
					}
				}
				if !inO { // added by mine alone
					cells = m[id]
				}
				if !inM {
					cells = o[id]
				}
				want[id] = cells
			}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Error(diff)
		}
		gotConflicts := map[string]bool{}
		for _, c := range all {
			gotConflicts[c.ID+"/"+c.Column] = true
		}
		if diff := cmp.Diff(wantConflicts, gotConflicts); diff != "" {
			t.Error(diff)
		}
		if len(gotConflicts) != len(all) {
			t.Errorf("a conflict is told twice: %v", all)
		}
	})
}

// TestSides: it does not matter who is called mine, but for who is right in a conflict.
func TestSides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := someTable(t, "base")
		a, b := edited(t, base, "a"), edited(t, base, "b")
		one, c1, _ := Tables(base, a, b, func(Conflict) Side { return Mine })
		two, c2, _ := Tables(base, b, a, func(Conflict) Side { return Theirs })
		if diff := cmp.Diff(byID(one), byID(two)); diff != "" {
			t.Error(diff)
		}
		mirrored := map[string]Conflict{}
		for _, c := range c2 {
			c.Mine, c.Theirs, c.Removed = c.Theirs, c.Mine, c.Removed.Other()
			mirrored[c.ID+"/"+c.Column] = c
		}
		for _, c := range c1 {
			if diff := cmp.Diff(c, mirrored[c.ID+"/"+c.Column]); diff != "" {
				t.Error(diff)
			}
		}
		if len(c1) != len(c2) {
			t.Errorf("%d and %d conflicts", len(c1), len(c2))
		}
	})
}

// TestColumns: columns come and go on both sides.
func TestColumns(t *testing.T) {
	base := Table{[]string{"tag", "old", "kept"}, []Row{{"1", []string{"A", "x", "y"}}, {"2", []string{"B", "", ""}}}}
	mine := Table{[]string{"tag", "kept", "new"}, []Row{{"1", []string{"A", "y", "n"}}, {"2", []string{"B", "", ""}}}}
	theirs := Table{[]string{"tag", "old", "kept", "more"}, []Row{{"2", []string{"B", "", "", "m"}}, {"1", []string{"A", "x", "z", ""}}}}
	got, all, _ := Tables(base, mine, theirs, nil)
	want := Table{[]string{"tag", "kept", "more", "new"}, []Row{{"2", []string{"B", "", "m", ""}}, {"1", []string{"A", "z", "", "n"}}}}
	if diff := cmp.Diff(want, got); diff != "" || len(all) > 0 {
		t.Error(diff, all)
	}
	theirs.Rows[1].Cells[1] = "changed"
	got, all, open := Tables(base, mine, theirs, nil)
	if diff := cmp.Diff([]Conflict{{ID: "1", Column: "old", Base: "x", Mine: "", Theirs: "changed"}}, all); diff != "" || open != 1 {
		t.Error(diff)
	}
	if !slices.Contains(got.Columns, "old") {
		t.Error("the column that theirs changed is gone")
	}
}

// TestDoubles: rows with one id are not lost.
func TestDoubles(t *testing.T) {
	base := Table{[]string{"tag"}, []Row{{"1", []string{"A"}}, {"1", []string{"B"}}, {"", []string{"C"}}, {"", []string{"D"}}}}
	theirs := Table{[]string{"tag"}, []Row{{"1", []string{"A"}}, {"1", []string{"B2"}}, {"", []string{"C"}}, {"", []string{"D"}}, {"", []string{"E"}}}}
	got, all, _ := Tables(base, base, theirs, nil)
	if diff := cmp.Diff(theirs, got); diff != "" || len(all) > 0 {
		t.Error(diff, all)
	}
}
