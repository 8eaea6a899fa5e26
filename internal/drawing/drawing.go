package drawing

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/project"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Input is what drawings are made from: a design, the project and hardware list it was made from, and the
// paper it goes on. Project and List may lack what the design names; then those facts are left out.
type Input struct {
	Design  *design.Design
	Project *project.Project
	List    *hardware.List
	Setting paper.Setting
}

// All returns every drawing in the order of the pack: site, power, earthing, network, stations, loops. The
// sheets are not finished: paper.Finish numbers them within the whole pack.
func All(in Input) []scene.Sheet {
	b := newBook(in)
	b.site()
	b.charts()
	b.powerSite()
	b.earthSite()
	b.network()
	for i := range in.Design.Stations {
		b.station(&in.Design.Stations[i])
	}
	b.loops()
	return b.done()
}

// station draws what belongs to one station.
func (b *book) station(st *design.Station) {
	b.powerStation(st)
	b.earthStation(st)
	b.stationSheets(st)
}

// book collects the sheets of a pack.
type book struct {
	Input
	ix     *index
	memo   memo
	sheets []*scene.Sheet
}

func newBook(in Input) *book {
	if in.Project == nil {
		in.Project = &project.Project{}
	}
	if in.List == nil {
		in.List = &hardware.List{}
	}
	return &book{Input: in, ix: newIndex(in)}
}

func (b *book) done() []scene.Sheet {
	out := make([]scene.Sheet, len(b.sheets))
	for i, s := range b.sheets {
		out[i] = *s
	}
	return out
}

// page is a sheet being drawn.
type page struct {
	pen  scene.Pen
	area scene.Rect // free, above the legend
}

// open begins a sheet and draws its legend along the bottom.
func (b *book) open(k paper.Block, legend []mark) page {
	k.Drawing = true
	if !numberFits(k.Number) {
		k.Number = ""
	}
	s, free := paper.Open(b.Setting, k)
	b.sheets = append(b.sheets, &s)
	pg := page{pen: scene.NewPen(&s).Font(typeface.Regular, paper.Small), area: free}
	h := b.legend(pg.pen, free, legend)
	pg.area.H -= h
	return pg
}

// free is the area that open would leave with a legend.
func (b *book) free(legend []mark) scene.Rect {
	free := paper.Free(b.Setting, paper.Block{Drawing: true})
	free.H -= b.legendHeight(free, legend)
	return free
}

// numberFits reports whether a sheet number of its own can be printed in the title block.
func numberFits(number string) bool {
	return typeface.Width(typeface.Bold, number, 2) < 18.5 && len(typeface.Missing(number)) == 0
}

// more names the n-th sheet (from 1) of a subject.
func more(id string, n int) string {
	if n == 1 {
		return id
	}
	return fmt.Sprintf("%s#%d", id, n)
}

// numberOf is a number that follows the subject, so that no other subject moves it: LD-PT-101, LD-PT-101/2.
func numberOf(prefix, subject string, n int) string {
	if n == 1 {
		return prefix + "-" + subject
	}
	return fmt.Sprintf("%s-%s/%d", prefix, subject, n)
}

// refer writes the number of another sheet into a box; Finish fills it in.
func refer(p scene.Pen, box scene.Rect, to string, a scene.Anchor) {
	p.Role(paper.RoleSheet).Link(to).Ink(scene.Accent).TextIn(box, a, paper.Small, "–")
}

func (b *book) say(key string, args ...any) string { return b.Setting.Say(key, args...) }
