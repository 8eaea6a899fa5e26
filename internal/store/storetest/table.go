package storetest

import (
	"fmt"
	"strings"

	"railwright/internal/store"
	"railwright/internal/store/merge"
)

// The suite's parts are tables of plain words: a heading and rows, cells parted by commas, the id first.

func encodeTable(t merge.Table) string {
	var b strings.Builder
	fmt.Fprintln(&b, strings.Join(append([]string{"id"}, t.Columns...), ","))
	for _, r := range t.Rows {
		fmt.Fprintln(&b, strings.Join(append([]string{r.ID}, r.Cells...), ","))
	}
	return b.String()
}

func decodeTable(data []byte) merge.Table {
	var t merge.Table
	for i, l := range strings.Split(strings.TrimSuffix(string(data), "\n"), "\n") {
		cells := strings.Split(l, ",")
		if i == 0 {
			t.Columns = cells[1:]
			continue
		}
		t.Rows = append(t.Rows, merge.Row{ID: cells[0], Cells: cells[1:]})
	}
	return t
}

// list makes a table of so many rows with three columns.
func list(rows int) merge.Table {
	t := merge.Table{Columns: []string{"tag", "place", "remarks"}}
	for i := range rows {
		t.Rows = append(t.Rows, merge.Row{ID: fmt.Sprint("S", i), Cells: []string{fmt.Sprint("PT-", i), "P1", ""}})
	}
	return t
}

// join is a merger of such tables.
func join(decide merge.Decide) store.Merger {
	return func(in store.Three) (store.Parts, []store.Conflict, error) {
		return store.PartByPart(in, func(name string, base, mine, theirs []byte) ([]byte, []store.Conflict, bool, error) {
			out, all, _ := merge.Tables(decodeTable(base), decodeTable(mine), decodeTable(theirs), decide)
			var conflicts []store.Conflict
			for _, c := range all {
				sc := store.Conflict{Part: name, Conflict: c}
				if decide != nil {
					sc.Taken = decide(c)
				}
				conflicts = append(conflicts, sc)
			}
			return []byte(encodeTable(out)), conflicts, true, nil
		}, nil)
	}
}
