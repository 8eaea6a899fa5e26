package document

import (
	"slices"
	"strconv"
	"strings"

	"rsc.io/qr"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/schedule"
	"railwright/internal/typeface"
)

// label is one label: a heading, lines below it, and a code to read where there is one.
type label struct {
	head    string
	lines   []string
	code    string // text of the QR code; "" = none
	subject string
}

// layout is how labels of one size lie on a sheet.
type layout struct {
	w, h, head, text float64
}

// The sizes of labels, mm.
var (
	plates    = layout{85, 42, 6.9, 3}
	cableTags = layout{56, 20, 4.2, 2.5}
	slotTags  = layout{34, 12, 3.4, 2.5}
	terminals = layout{21.5, 7, 2.6, 1.9}
	ferrules  = layout{57, 8, 2.5, 2}
)

// Labels are the sheets of labels: station plates, two tags for each cable, a label for each module, each
// terminal and each end of a wire.
func Labels(in Input) []scene.Sheet { return look(in).labels() }

func (v *view) labels() []scene.Sheet {
	out := v.labelSheets("labels/stations", v.Say("doc.station_plates"), plates, v.stationLabels())
	out = append(out, v.labelSheets("labels/cables", v.Say("doc.cable_tags"), cableTags, v.cableLabels())...)
	out = append(out, v.labelSheets("labels/modules", v.Say("doc.module_labels"), slotTags, v.moduleLabels())...)
	out = append(out, v.labelSheets("labels/terminals", v.Say("doc.terminal_labels"), terminals, v.listed("labels_terminals", "station", "text", "tag"))...)
	return append(out, v.labelSheets("labels/wires", v.Say("doc.wire_labels"), ferrules, v.listed("labels_wires", "", "text", "other_end"))...)
}

// listed are the labels of a schedule made for label printers: its text, below it another column, and a
// label of its own where the column group changes.
func (v *view) listed(key, group, head, below string) []label {
	var out []label
	for i := range v.Tables {
		t := &v.Tables[i]
		if t.Key != key {
			continue
		}
		column := func(row []schedule.Cell, name string) string {
			if j := slices.Index(t.Heads, name); j >= 0 {
				return row[j].Text
			}
			return ""
		}
		last := ""
		for _, row := range t.Rows {
			if g := column(row, group); g != last {
				out = append(out, label{head: g})
				last = g
			}
			out = append(out, label{head: column(row, head), lines: []string{column(row, below)}})
		}
	}
	return out
}

func (v *view) stationLabels() []label {
	var out []label
	for i := range v.Design.Stations {
		st := &v.Design.Stations[i]
		n := v.node(st.ID)
		feeds := []string{}
		for _, fd := range v.Design.Feeders {
			if fd.Station == st.ID {
				feeds = append(feeds, fd.ID+" "+with(fd.VoltageV, 0, "V"))
			}
		}
		out = append(out, label{
			head: st.ID, lines: []string{st.Name, v.Setting.Project, strings.TrimSpace(n.Name + "  " + n.Address), strings.Join(feeds, ", "), v.Say("doc.revision_is", v.Setting.Revision)},
			code: codeText(v.Setting, "station:"+st.ID, n.Address), subject: "station:" + st.ID,
		})
	}
	return out
}

func (v *view) cableLabels() []label {
	var out []label
	for i := range v.Design.Cables {
		c := &v.Design.Cables[i]
		size := strconv.Itoa(c.Cores)
		if a := area(v.Setting, c.AreaMM2); a != "" {
			size += " × " + a
		}
		one := label{head: c.Name, lines: []string{v.endOf(c.From), "→ " + v.endOf(c.To), size}, code: codeText(v.Setting, "cable:"+c.ID, ""), subject: "cable:" + c.ID}
		out = append(out, one, one) // one for each end
	}
	return out
}

func (v *view) moduleLabels() []label {
	var out []label
	for i := range v.Design.Stations {
		st := &v.Design.Stations[i]
		for _, s := range st.Slots {
			out = append(out, label{head: st.ID + " : " + strconv.Itoa(s.Slot), lines: []string{s.Module + bytesOf(&s)}, subject: "station:" + st.ID})
		}
	}
	return out
}

func bytesOf(s *design.Slot) string {
	text := ""
	if s.InputBytes > 0 {
		text += "  I " + strconv.Itoa(s.InputByte)
	}
	if s.OutputBytes > 0 {
		text += "  Q " + strconv.Itoa(s.OutputByte)
	}
	return text
}

// codeText is what a QR code says: the subject by which commands and screens know the thing, then the
// project and its revision.
func codeText(s paper.Setting, subject, more string) string {
	parts := []string{subject}
	if more != "" {
		parts = append(parts, more)
	}
	if s.Revision != "" {
		parts = append(parts, "rev "+s.Revision)
	}
	return strings.Join(parts, " ")
}

// labelSheets lays labels out in rows and columns, each within a thin line to cut along.
func (v *view) labelSheets(id, title string, l layout, labels []label) []scene.Sheet {
	if len(labels) == 0 {
		return nil
	}
	f := paper.NewFlow(v.Setting, paper.Block{ID: id, Kind: "labels", Chapter: v.Say("doc.labels"), Title: title})
	perRow := max(int(f.Width()/l.w), 1)
	for len(labels) > 0 {
		row := labels[:min(perRow, len(labels))]
		labels = labels[len(row):]
		r, add := f.Place(l.h)
		for i, x := range row {
			add(v.label(scene.Rect{X: r.X + float64(i)*l.w, Y: r.Y, W: l.w, H: l.h}, l, x)...)
		}
	}
	return f.Sheets()
}

func (v *view) label(r scene.Rect, l layout, x label) []scene.Item {
	items := []scene.Item{outline(r, scene.Stroke{Width: scene.Hair}, scene.None)}
	inner := r.Inset(min(1.5, r.H*0.12))
	if x.code != "" {
		side := min(r.H-0.5, r.W*0.45)
		box := scene.Rect{X: r.X + r.W - side - 0.25, Y: r.Y + (r.H-side)/2, W: side, H: side}
		items = append(items, qrItems(box, x.code, x.subject)...)
		inner.W = box.X - inner.X
	}
	y := inner.Y
	put := func(words string, style typeface.Style, size, least float64, role string) {
		words = typeface.Printable(words)
		if words == "" || y+size > inner.Y+inner.H+0.5 {
			return
		}
		size, ok := typeface.Shrink(style, words, size, least, inner.W)
		if !ok {
			words = typeface.Clip(style, words, size, inner.W)
		}
		if words == "" {
			return
		}
		box := scene.Rect{X: inner.X, Y: y, W: inner.W, H: size * 1.25}
		items = append(items, scene.Item{Subject: x.subject, Role: role, Text: &scene.Text{
			At: scene.Point{X: inner.X, Y: y + size*0.9}, Size: size, Style: style, Words: words, Box: &box,
		}})
		y += size * 1.25
	}
	put(x.head, typeface.MonoBold, l.head, 2, "label")
	for _, line := range x.lines {
		put(line, typeface.Regular, l.text, 1.9, "")
	}
	return items
}

// qrItems draws a QR code as black rectangles within a quiet zone of white paper.
func qrItems(box scene.Rect, text, subject string) []scene.Item {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return nil // longer than a code can hold: an id of more than 2,000 signs
	}
	n := float64(code.Size)
	const quiet = 4 // modules of white all round (ISO/IEC 18004)
	m := min(box.W, box.H) / (n + 2*quiet)
	at := func(x, y, w, h int) scene.Item {
		it := outline(scene.Rect{X: box.X + (float64(x)+quiet)*m, Y: box.Y + (float64(y)+quiet)*m, W: float64(w) * m, H: float64(h) * m}, scene.Stroke{}, scene.Black)
		it.Subject, it.Role = subject, "code"
		return it
	}
	var items []scene.Item
	done := make([]bool, code.Size*code.Size)
	black := func(x, y int) bool { return x < code.Size && y < code.Size && code.Black(x, y) && !done[y*code.Size+x] }
	for y := range code.Size {
		for x := range code.Size {
			if !black(x, y) {
				continue
			}
			w, h := 1, 1
			for black(x+w, y) {
				w++
			}
			for rowBlack(black, x, y+h, w) {
				h++
			}
			for i := range h {
				for j := range w {
					done[(y+i)*code.Size+x+j] = true
				}
			}
			items = append(items, at(x, y, w, h))
		}
	}
	return items
}

func rowBlack(black func(x, y int) bool, x, y, w int) bool {
	for i := range w {
		if !black(x+i, y) {
			return false
		}
	}
	return true
}

func outline(r scene.Rect, stroke scene.Stroke, fill scene.Ink) scene.Item {
	return scene.Item{Path: &scene.Path{
		Points: []scene.Point{{X: r.X, Y: r.Y}, {X: r.X + r.W, Y: r.Y}, {X: r.X + r.W, Y: r.Y + r.H}, {X: r.X, Y: r.Y + r.H}},
		Closed: true, Stroke: stroke, Fill: fill,
	}}
}
