package app

import (
	"context"
	"fmt"
	"runtime/debug"
	"strings"
	"sync/atomic"

	"railwright/internal/document"
	"railwright/internal/scene"
	"railwright/internal/scene/dxf"
	"railwright/internal/scene/pdf"
	"railwright/internal/scene/svg"
	"railwright/internal/words"
)

// render makes all files of the documents: the pack, each chapter, each drawing, the schedules, the design.
func render(ctx context.Context, in document.Input, res *DocumentsResult, progress func(Progress)) ([]File, error) {
	step := func(stage string, done, total int) {
		if progress != nil {
			progress(Progress{Stage: stage, Done: int64(done), Total: int64(total)})
		}
	}
	in.Drawings = func() []scene.Sheet { return drawings(in) }
	chapters := document.Pack(in, func(done, total int) { step(words.Text("phase.sheets"), done, total) })
	if ctx.Err() != nil {
		return nil, broken(words.Text("app.stopped"), ctx.Err())
	}
	all := document.All(chapters)
	res.Sheets = len(all)
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(memory(len(all))))
	drawn := drawnSheets(chapters)
	made := make([]File, 1+len(chapters)+2*len(drawn))
	var files []File // schedules and design
	info := pdf.Info{Title: in.Setting.Project, Language: string(in.Setting.Language)}
	var done atomic.Int64
	err := each(ctx, len(made)+1, func(i int) error {
		defer func() { step(words.Text("phase.files"), int(done.Add(1)), len(made)+1) }()
		var err error
		if i == 1 { // beside the whole pack, which takes longest
			files, err = outTables(in.Design, in.Tables)
			return err
		}
		at := max(i-1, 0)
		made[at], err = one(at, chapters, all, drawn, info)
		return err
	})
	if err != nil {
		return nil, broken(words.Text("app.no_documents"), err)
	}
	for i, c := range chapters {
		title := c.Title
		if c.Key == "drawings" {
			title = words.Text("app.drawings")
		}
		res.Chapters = append(res.Chapters, DocumentsChapter{Title: title, File: made[1+i].Name, Sheets: len(c.Sheets)})
	}
	return append(made, files...), nil
}

// memory is the soft limit while files are written: near it the collector works harder instead of letting
// the process grow. Sheets and pages in flight take about 150 KB a sheet.
func memory(sheets int) int64 { return max(330<<20, int64(sheets)*200<<10) }

// one makes one file: the whole pack first, since it takes longest, then chapters, then drawings.
func one(i int, chapters []document.Chapter, all []scene.Sheet, drawn []*scene.Sheet, info pdf.Info) (File, error) {
	if i == 0 {
		data, err := pdf.Bytes(all, info)
		return File{Name: "pack.pdf", Data: data}, err
	}
	i--
	if i < len(chapters) {
		c := chapters[i]
		info.Subject = c.Title
		data, err := pdf.Bytes(c.Sheets, info)
		return File{Name: fmt.Sprintf("%d-%s.pdf", i, c.Key), Data: data}, err
	}
	i -= len(chapters)
	s := drawn[i/2]
	name := "drawings/" + fileName(s.ID)
	if i%2 == 0 {
		return File{Name: name + ".svg", Data: svg.Bytes(s, svg.Options{})}, nil
	}
	return File{Name: name + ".dxf", Data: dxf.Bytes(s)}, nil
}

// drawnSheets are the drawings among the chapters.
func drawnSheets(chapters []document.Chapter) []*scene.Sheet {
	var out []*scene.Sheet
	for i := range chapters {
		if chapters[i].Key != "drawings" {
			continue
		}
		for j := range chapters[i].Sheets {
			out = append(out, &chapters[i].Sheets[j])
		}
	}
	return out
}

// fileName makes a file's name of a sheet's ID: letters, digits and what every disk takes.
func fileName(id string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '.', r == '_', r == '+':
			return r
		}
		return '-'
	}, id)
}
