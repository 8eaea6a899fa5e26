package document

import (
	"strconv"
	"strings"

	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// cover heads the pack: what it is, of what, its status, and what it contains. chapters are those that
// follow it.
func (v *view) cover(chapters []Chapter) []scene.Sheet {
	f := paper.NewFlow(v.Setting, paper.Block{ID: "cover", Kind: "cover", Chapter: v.Say("doc.contents"), Title: v.Say("doc.contents")})
	f.Heading(1, v.Setting.Project)
	f.Paragraph(v.Say("doc.cover_intro", len(v.Design.Stations), len(v.placed())))
	f.Fields(4,
		paper.Field{Caption: v.Say("doc.controller_name"), Value: v.Setting.Controller}, paper.Field{Caption: v.Say("doc.revision"), Value: v.Setting.Revision},
		paper.Field{Caption: v.Say("paper.date"), Value: v.Setting.Date}, paper.Field{Caption: v.Say("doc.address_convention"), Value: v.Design.Project.Convention})
	if v.Setting.Draft {
		f.Caution(v.Say("doc.caution_draft"))
	}
	f.Caution(v.Say("doc.caution_general"))
	f.Heading(2, v.Say("doc.contents"))
	t := paper.Table{Size: 3, Columns: []paper.Column{{Head: v.Say("doc.sheet"), Style: typeface.Mono, Width: 18}, {Head: v.Say("doc.chapter")}, {Head: v.Say("doc.title"), Grow: true}, {Head: v.Say("doc.sheets"), Anchor: scene.Right}}}
	for _, c := range chapters {
		for _, e := range contents(c.Sheets) {
			t.Rows = append(t.Rows, []paper.Cell{{Text: "–", Role: paper.RoleSheet, Sheet: e.first.ID}, {Text: e.first.Chapter}, {Text: e.title}, {Text: strconv.Itoa(e.n)}})
		}
	}
	f.Table(t)
	return f.Sheets()
}

// entry is one line of the contents: a title and how many sheets bear it.
type entry struct {
	first *scene.Sheet
	title string
	n     int
}

// contents gathers sheets by title; where a chapter has many (loop sheets), by their kind, from the first
// to the last.
func contents(sheets []scene.Sheet) []entry {
	var out []entry
	for i := range sheets {
		s := &sheets[i]
		if n := len(out); n > 0 && out[n-1].title == s.Title && out[n-1].first.Chapter == s.Chapter {
			out[n-1].n++
			continue
		}
		out = append(out, entry{first: s, title: s.Title, n: 1})
	}
	perChapter := map[string]int{}
	for _, e := range out {
		perChapter[e.first.Chapter+"\x00"+e.first.Kind]++
	}
	var short []entry
	for _, e := range out {
		key := e.first.Chapter + "\x00" + e.first.Kind
		if perChapter[key] <= many(e.first.Kind) {
			short = append(short, e)
			continue
		}
		if n := len(short); n > 0 && short[n-1].first.Chapter == e.first.Chapter && short[n-1].first.Kind == e.first.Kind {
			short[n-1].n += e.n
			first, _, _ := strings.Cut(short[n-1].title, " … ")
			short[n-1].title = first + " … " + e.title
			continue
		}
		short = append(short, e)
	}
	return short
}

// many is how many titles of a kind stand in the contents of one chapter before they are drawn together.
func many(kind string) int {
	switch kind {
	case "module", "loop", "loop sheet":
		return 4
	}
	return 40
}
