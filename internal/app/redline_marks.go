package app

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/tabular"
	"railwright/internal/words"
)

// markReader reads mark-ups and holds each against what is installed before anything is planned.
type markReader struct {
	src   *source
	file  string
	sheet *tabular.Sheet
	at    map[string]int // heading -> column
	marks []Redline
	found finding.List
}

// readRedlines reads the mark-ups of a table; every faulty cell is named, with what would be right.
func readRedlines(src *source, path string) ([]Redline, error) {
	book, err := tabular.ReadFile(path, tabular.Options{})
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, usage(words.Text("app.redline_no_file", path))
	case err != nil:
		return nil, usage(words.Text("app.redline_unreadable", path, err.Error()))
	case len(book.Sheets) == 0 || book.Sheets[0].Rows() == 0:
		return nil, usage(words.Text("app.redline_heads", path))
	}
	r := &markReader{src: src, file: filepath.Base(path), sheet: book.Sheets[0], at: map[string]int{}}
	for i := range r.sheet.Cols() {
		r.at[strings.ToLower(strings.TrimSpace(r.sheet.Text(0, i)))] = i
	}
	for _, need := range []string{"subject", "property", "value"} {
		if _, ok := r.at[need]; !ok {
			return nil, usage(words.Text("app.redline_heads", path))
		}
	}
	for n := 1; n < r.sheet.Rows(); n++ {
		r.row(n)
	}
	switch {
	case len(r.found) > 0:
		return nil, &Fault{Kind: Usage, What: words.Text("app.redline_faulty", path, words.Count(len(r.found), "fault")), Findings: r.found}
	case len(r.marks) == 0:
		return nil, usage(words.Text("app.redline_empty", path))
	}
	return r.marks, nil
}

func (r *markReader) row(n int) {
	cell := func(name string) string {
		if i, ok := r.at[name]; ok {
			return strings.TrimSpace(r.sheet.Text(n, i))
		}
		return ""
	}
	m := Redline{Subject: cell("subject"), Property: cell("property"), Value: cell("value"), By: cell("by"), On: cell("on"), Remark: cell("remark")}
	if m == (Redline{}) {
		return
	}
	m.Row = n + 1
	for _, need := range []string{"subject", "property", "value"} {
		if cell(need) == "" {
			r.fault(m, need, "the cell is empty", "Example: signal:LS-101, channel, P1-S1/3/5")
			return
		}
	}
	kind, id, _ := strings.Cut(m.Subject, ":")
	switch kind {
	case "signal":
		r.signal(m, id)
	case "station":
		r.station(m, id)
	default:
		r.fault(m, "subject", fmt.Sprintf("%q names nothing that can be marked up", m.Subject), "Write signal:ID or station:ID.")
	}
}

func (r *markReader) fault(m Redline, column, what, mend string) {
	r.found = append(r.found, finding.Finding{
		Rule: "CHO-004", Severity: finding.Error, Subject: m.Subject, Message: what, Remedy: finding.Remedy{Text: mend}, Source: "arithmetic",
		Where: &finding.Where{File: r.file, Cell: string(rune('A'+r.at[column]%26)) + strconv.Itoa(m.Row)},
	})
}

func (r *markReader) signal(m Redline, name string) {
	for _, s := range r.src.project.Signals {
		if s.ID != name && s.Tag != name {
			continue
		}
		m.Subject = "signal:" + s.ID
		switch m.Property {
		case "channel":
			r.channel(m)
		case "cable":
			r.code(m)
		default:
			r.fault(m, "property", fmt.Sprintf("a signal has no property %q", m.Property), "Write channel or cable.")
		}
		return
	}
	r.fault(m, "subject", fmt.Sprintf("the list has no signal %q", name), "Write the id or the tag of a signal of the list.")
}

// channel: a channel of a module that is installed.
func (r *markReader) channel(m Redline) {
	parts := strings.Split(m.Value, "/")
	if len(parts) != 3 {
		r.fault(m, "value", fmt.Sprintf("%q is no channel", m.Value), "Write STATION/SLOT/CHANNEL, for instance P1-S1/3/5.")
		return
	}
	st := r.installed(parts[0])
	if st == nil {
		r.fault(m, "value", fmt.Sprintf("no station %q is installed", parts[0]), "Write one of: "+r.stations()+".")
		return
	}
	slot, err := strconv.Atoi(parts[1])
	if err != nil || slot < 1 || slot > len(st.Slots) {
		r.fault(m, "value", fmt.Sprintf("station %s has no slot %q", st.ID, parts[1]), fmt.Sprintf("Write a slot from 1 to %d.", len(st.Slots)))
		return
	}
	var printed []string
	for _, c := range st.Slots[slot-1].Channels {
		printed = append(printed, strconv.Itoa(c.Channel))
	}
	if !slices.Contains(printed, parts[2]) {
		r.fault(m, "value", fmt.Sprintf("module %s in slot %d has no channel %q", st.Slots[slot-1].Module, slot, parts[2]), "Write one of: "+strings.Join(printed, ", ")+".")
		return
	}
	r.marks = append(r.marks, m)
}

func (r *markReader) station(m Redline, id string) {
	st := r.installed(id)
	if st == nil {
		r.fault(m, "subject", fmt.Sprintf("no station %q is installed", id), "Write station: and one of: "+r.stations()+".")
		return
	}
	property, number, _ := strings.Cut(m.Property, ".")
	n, err := strconv.Atoi(number)
	switch {
	case m.Property == "coupler" || m.Property == "enclosure":
		r.code(m)
	case property == "slot" && err == nil && n >= 1 && n <= len(st.Slots), property == "protection" && err == nil && n >= 0 && n <= len(st.Slots):
		r.code(m)
	default:
		r.fault(m, "property", fmt.Sprintf("station %s has no property %q", st.ID, m.Property),
			fmt.Sprintf("Write coupler, enclosure, slot.N or protection.N with N up to %d.", len(st.Slots)))
	}
}

// code: parts that the hardware list has, a module with its base behind an @.
func (r *markReader) code(m Redline) {
	for _, code := range strings.Split(m.Value, "@") {
		if !slices.Contains(r.src.hardware.Codes(), code) {
			r.fault(m, "value", fmt.Sprintf("the hardware list has no part %q", code), "Write a code of the hardware list, or add the part to hardware.toml.")
			return
		}
	}
	r.marks = append(r.marks, m)
}

func (r *markReader) installed(id string) *design.Station {
	if i := slices.IndexFunc(r.src.built.Stations, func(s design.Station) bool { return s.ID == id }); i >= 0 && slices.Contains(r.src.frozen, id) {
		return &r.src.built.Stations[i]
	}
	return nil
}

func (r *markReader) stations() string { return strings.Join(r.src.frozen, ", ") }
