package schedule

import (
	"maps"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/finding"
	q "railwright/internal/quantity"
	"railwright/internal/words"
)

func findings(d *design.Design) Table { return Findings(d.Findings) }

// Findings is the list of findings as a table, for callers that have no design.
func Findings(list finding.List) Table {
	t := table("findings", "rule", "severity", "subject", "where", "message", "figures", "remedy", "source", "calculation")
	for _, f := range list {
		where := ""
		if f.Where != nil {
			where = f.Where.String()
		}
		var figures []string
		for _, name := range slices.Sorted(maps.Keys(f.Figures)) {
			figures = append(figures, strings.TrimSpace(name+" "+q.Short(f.Figures[name].Value)+" "+f.Figures[name].Unit))
		}
		t.add(text(f.Rule), text(string(f.Severity)), text(f.Subject), text(where), text(f.Message), text(strings.Join(figures, "; ")),
			text(f.Remedy.Text), text(f.Source), text(f.Calculation))
	}
	return t
}

func unplaced(d *design.Design) Table {
	t := table("unplaced", "signal_id", "tag", "where", "why", "proof")
	for _, u := range d.Unplaced {
		t.add(text(u.Signal), text(u.Tag), text(u.Where), text(u.Why), text(u.Proof))
	}
	return t
}

// overview heads the workbook: what this is, of what, and how to read it.
func (b *builder) overview() Table {
	d := b.Design
	t := table("overview", "item", "value")
	channels, used := 0, 0
	for _, s := range d.Stations {
		a, u := use(s)
		channels, used = channels+a, used+u
	}
	t.add(text("project"), text(d.Project.Name))
	t.add(text("revision"), text(d.Project.Revision))
	t.add(text("controller"), text(d.Project.Controller))
	t.add(text("address convention"), text(convention(d.Project.Convention)))
	t.add(text("signals of the list"), whole(d.Project.Signals))
	t.add(text("signals placed"), whole(used))
	t.add(text("signals unplaced"), whole(len(d.Unplaced)))
	t.add(text("stations"), whole(len(d.Stations)))
	t.add(text("channels"), whole(channels))
	t.add(text("spare channels"), whole(channels-used))
	t.add(text("total cost, "+d.Cost.Currency), number(d.Cost.Total))
	t.add(text("home run cost, "+d.Cost.Currency), number(d.HomeRun.Cost))
	for _, s := range []finding.Severity{finding.Error, finding.Warning, finding.Info} {
		t.add(text("findings: "+string(s)), whole(d.Findings.Count(s)))
	}
	t.add(text("complete"), yes(d.Input.Complete))
	t.add(text("input sha256"), text(d.Input.SHA256))
	t.add(text("made by"), text(d.Input.Tool))
	t.add(text("compared with"), text(b.against()))
	t.add(text("holds"), whole(len(b.holds().Rows)))
	lengths := b.Project.Basis.Cable.Drums
	drums := make([]string, len(lengths))
	for i, l := range lengths {
		drums[i] = q.Short(l.Metres())
	}
	t.add(text("drum lengths, m"), text(strings.Join(drums, ", ")))
	t.add(text("ferrules and glands"), text(words.Text("schedule.small_parts")))
	t.add(text("caution"), text(words.Text("schedule.caution")))
	return t
}

// against says which design the changes are counted from.
func (b *builder) against() string {
	if b.Previous == nil {
		return words.Text("schedule.nothing_accepted")
	}
	if r := b.Previous.Project.Revision; r != "" {
		return words.Text("schedule.accepted_revision", r)
	}
	return words.Text("schedule.accepted")
}

func convention(c string) string {
	switch c {
	case "byte":
		return "byte: %IW4 begins at byte 4"
	case "word":
		return "word: %IW4 is the word at bytes 8 and 9"
	default:
		return c
	}
}
