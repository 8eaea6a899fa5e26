package document

import (
	"sync"
	"sync/atomic"

	"railwright/internal/paper"
	"railwright/internal/scene"
)

// Chapter is one part of the pack, and one file.
type Chapter struct {
	Key    string // name of its file: "loop-sheets"
	Title  string // its bookmark; "" where the sheets bring their own chapters
	Sheets []scene.Sheet
}

// Pack returns all sheets in their order, by chapter, numbered through: cover and contents, report,
// drawings, schedules, assembly guides, verification, loop sheets, labels.
// Step, which may be nil, is told how many of the chapters are done; chapters are made side by side.
func Pack(in Input, step func(done, total int)) []Chapter {
	v := look(in)
	makers := []struct {
		key  string
		make func() []scene.Sheet
	}{
		{"report", v.report},
		{"drawings", v.drawings},
		{"schedules", v.schedules},
		{"assembly", v.guides},
		{"verification", v.verifications},
		{"loop-sheets", v.loopSheets},
		{"labels", v.labels},
	}
	made := make([][]scene.Sheet, len(makers))
	var wait sync.WaitGroup
	var done atomic.Int64
	for i, m := range makers {
		wait.Go(func() {
			made[i] = m.make()
			if n := done.Add(1); step != nil {
				step(int(n), len(makers)+1)
			}
		})
	}
	wait.Wait()
	var out []Chapter
	for i, m := range makers {
		if sheets := made[i]; len(sheets) > 0 {
			out = append(out, Chapter{Key: m.key, Title: sheets[0].Chapter, Sheets: sheets})
		}
	}
	out = append([]Chapter{{Key: "cover", Title: v.Say("doc.contents"), Sheets: v.cover(out)}}, out...)
	number(in.Setting, out)
	if step != nil {
		step(len(makers)+1, len(makers)+1)
	}
	return out
}

func (v *view) drawings() []scene.Sheet {
	if v.Drawings == nil {
		return nil
	}
	return v.Drawings()
}

// number gives all sheets their numbers and puts them back into their chapters.
func number(set paper.Setting, chapters []Chapter) {
	all := All(chapters)
	paper.Finish(set, all)
	n := 0
	for i := range chapters {
		chapters[i].Sheets = all[n : n+len(chapters[i].Sheets) : n+len(chapters[i].Sheets)]
		n += len(chapters[i].Sheets)
	}
}

// All returns the sheets of all chapters in their order.
func All(chapters []Chapter) []scene.Sheet {
	var all []scene.Sheet
	for _, c := range chapters {
		all = append(all, c.Sheets...)
	}
	return all
}
