package schedule_test

import (
	"slices"
	"strings"
	"testing"

	"railwright/internal/design"
	"railwright/internal/design/designtest"
	"railwright/internal/schedule"
)

// changed are the rows of the table of changes, each as one text.
func changed(t *testing.T, in schedule.Input) []string {
	x := get(t, schedule.Make(in), "changes")
	var out []string
	for _, r := range x.Rows {
		var cells []string
		for _, c := range r {
			cells = append(cells, print(c))
		}
		out = append(out, strings.Join(cells, "|"))
	}
	return out
}

// Each kind of edit of a design stands in the table of changes as the cells that it changes, and as no others.
func TestChanges(t *testing.T) {
	tag := "LS-9"
	for _, c := range []struct {
		name string
		edit func(d *design.Design)
		want []string
	}{
		{"nothing", func(*design.Design) {}, nil},
		{"tag", func(d *design.Design) { d.Stations[0].Slots[0].Channels[0].Signal = &tag }, []string{"signal|s1|changed|tag|LS-1|LS-9", "wires|C-1/1|changed|tag|LS-1|LS-9", "wires|C-1/2|changed|tag|LS-1|LS-9"}},
		{"row", func(d *design.Design) { d.Issued[0].SHA256 = "other" }, []string{"signal|s1|changed|row||"}},
		{"gone", func(d *design.Design) { d.Cables, d.Wires = d.Cables[1:], d.Wires[4:] }, []string{
			"signal|s1|changed|cable|C-1|", "signal|s2|changed|cable|C-1|",
			"cables|C-1|removed|||", "wires|C-1/1|removed|||", "wires|C-1/2|removed|||", "wires|C-1/3|removed|||", "wires|C-1/4|removed|||",
		}},
		{"longer", func(d *design.Design) { d.Cables[1].LengthM = 15 }, []string{"cables|C-2|changed|length_m|14|15"}},
		{"module", func(d *design.Design) { d.Stations[0].Slots[0].Module = "di4-fast" }, []string{
			"signal|s1|changed|module|di4|di4-fast", "signal|s2|changed|module|di4|di4-fast", "slots|PUMP-1 1|changed|module|di4|di4-fast",
		}},
		{"part", func(d *design.Design) { d.Parts[0].Count++ }, []string{"parts|cable scr-2x075|changed|count|36.4|37.4", "parts|cable scr-2x075|changed|sum|54.6|56.1"}},
	} {
		rows := []design.IssuedRow{{Signal: "s1", Revision: "A", SHA256: "sum1"}, {Signal: "s2", Revision: "A", SHA256: "sum2"}}
		before, now := designtest.Sample(), designtest.Sample()
		before.Issued, now.Issued = rows, slices.Clone(rows)
		c.edit(now)
		if got := changed(t, schedule.Input{Design: now, Project: sampleProject(), Previous: before}); !slices.Equal(got, c.want) {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
	}
}

// The signal list shows which rows are new or changed since the accepted design, with their revisions.
func TestRowRevisions(t *testing.T) {
	before, now := designtest.Sample(), designtest.Sample()
	before.Issued = []design.IssuedRow{{Signal: "s1", Revision: "A", SHA256: "1"}, {Signal: "s2", Revision: "A", SHA256: "2"}}
	now.Issued = []design.IssuedRow{{Signal: "s1", Revision: "A", SHA256: "1"}, {Signal: "s2", Revision: "B", SHA256: "2b"}, {Signal: "s3", Revision: "B", SHA256: "3"}}
	list := get(t, schedule.Make(schedule.Input{Design: now, Project: sampleProject(), Previous: before}), "signals")
	ids, revisions, changes := column(t, list, "id"), column(t, list, "row_revision"), column(t, list, "row_change")
	want := map[string]string{"s1": "A ", "s2": "B changed", "s3": "B new", "s4": " ", "s5": " "}
	for i := range ids {
		if got := print(revisions[i]) + " " + print(changes[i]); got != want[ids[i].Text] {
			t.Errorf("%s: %q, want %q", ids[i].Text, got, want[ids[i].Text])
		}
	}
}
