package app

import (
	"cmp"
	"context"
	"runtime"
	"slices"
	"strings"
	"sync"

	"railwright/internal/check"
	"railwright/internal/design"
	"railwright/internal/document"
	"railwright/internal/drawing"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/project"
	"railwright/internal/scene"
	"railwright/internal/typeface"
	"railwright/internal/words"
)

// DocumentsRequest asks for the documents of a folder's design.
type DocumentsRequest struct {
	Folder    string
	Example   bool   // the built-in example instead of a folder
	Out       string // folder to write into
	Paper     string // a name of paper.Sizes; "" = A4
	Wire      string // "metric", "awg"; "" = metric
	Language  string // "en", "de"; "" = en
	Overwrite bool   // replace foreign files too
	Progress  func(Progress)
}

// DocumentsResult says what was written.
type DocumentsResult struct {
	Design   *design.Design
	Of       string // "accepted": the accepted design; "plan": a plan made for the purpose
	Out      string
	Sheets   int      // of the whole pack
	Files    []string // in their order
	Draft    []string // why every sheet is stamped "not for construction"; none: it is not
	Unfit    string   // signs of the project's texts that the fonts lack; each is printed as a box
	Chapters []DocumentsChapter
}

// DocumentsChapter is one part of the pack.
type DocumentsChapter struct {
	Title  string
	File   string
	Sheets int
}

// Documents writes drawings, schedules, sheets and report of the folder's accepted design or, where none
// is accepted, of a plan made for the purpose, stamped as a draft. Nothing is written unless all of it
// could be made.
func Documents(ctx context.Context, r DocumentsRequest) (*DocumentsResult, error) {
	if err := (PlanRequest{Folder: r.Folder, Example: r.Example}).valid(); err != nil {
		return nil, err
	}
	set, err := r.setting()
	if err != nil {
		return nil, err
	}
	src, err := open(r.Folder, r.Example)
	if err != nil {
		return nil, err
	}
	d, of, err := src.current(ctx, r.Progress)
	if err != nil {
		return nil, err
	}
	in := src.documents(d, of, set)
	res := &DocumentsResult{Design: d, Of: of, Out: r.Out, Draft: notForConstruction(d, src.project, of), Unfit: unfit(src.project)}
	in.Setting.Draft = len(res.Draft) > 0
	files, err := render(ctx, in, res, r.Progress)
	if err != nil {
		return nil, err
	}
	if err := writeSet(r.Out, files, r.Overwrite); err != nil {
		return nil, err
	}
	for _, f := range files {
		res.Files = append(res.Files, f.Name)
	}
	return res, nil
}

// setting reads what the request says of paper, wire and language.
func (r DocumentsRequest) setting() (paper.Setting, error) {
	set := paper.Setting{Size: paper.A4, Wire: paper.MM2, Language: words.English}
	if r.Out == "" {
		return set, usage(words.Text("app.no_out"))
	}
	if r.Paper != "" {
		i := slices.IndexFunc(paper.Sizes, func(s paper.Size) bool { return strings.EqualFold(string(s), r.Paper) })
		if i < 0 {
			return set, usage(words.Text("app.unknown_choice", "--paper", r.Paper, "A4, A3, letter, tabloid"))
		}
		set.Size = paper.Sizes[i]
	}
	switch r.Wire {
	case "", "metric", "mm2":
	case "awg":
		set.Wire = paper.AWG
	default:
		return set, usage(words.Text("app.unknown_choice", "--wire", r.Wire, "metric, awg"))
	}
	if r.Language != "" {
		set.Language = words.Language(r.Language)
		if !slices.Contains(words.Languages, set.Language) {
			return set, usage(words.Text("app.unknown_choice", "--language", r.Language, "en, de"))
		}
	}
	return set, nil
}

// documents gathers what sheets are made from. An accepted design brings its hardware by value.
func (s *source) documents(d *design.Design, of string, set paper.Setting) document.Input {
	list := s.hardware
	if of == "accepted" && d.Hardware != "" {
		if kept, found := hardware.Parse("accepted.json", []byte(d.Hardware)); !found.HasErrors() {
			list = kept
		}
	}
	set.Project, set.Controller, set.Revision = d.Project.Name, d.Project.Controller, d.Project.Revision
	set.Date = s.project.Date
	set.Design = d.Input.SHA256[:min(8, len(d.Input.SHA256))]
	in := document.Input{Design: d, Project: s.project, Hardware: list, Setting: set}
	for _, r := range check.All() {
		in.Rules = append(in.Rules, document.Rule{Code: r.Code, Title: r.Title, Source: r.Source})
	}
	in.Tables = s.tables(d, list, set.Wire)
	return in
}

// notForConstruction says why a design must not be built from.
func notForConstruction(d *design.Design, p *project.Project, of string) []string {
	var why []string
	if of != "accepted" {
		why = append(why, words.Text("app.draft_plan"))
	}
	if d.Findings.HasErrors() {
		why = append(why, words.Text("app.draft_errors"))
	}
	holds := 0
	for i := range p.Signals {
		if p.Signals[i].Hold != "" {
			holds++
		}
	}
	if holds > 0 {
		why = append(why, words.Text("app.draft_holds", words.Count(holds, "hold")))
	}
	return why
}

// unfit returns the signs of a project's texts that cannot be printed, each once.
func unfit(p *project.Project) string {
	var b strings.Builder
	b.WriteString(p.Name + p.Controller + p.Revision)
	for i := range p.Places {
		b.WriteString(p.Places[i].ID + p.Places[i].Name)
	}
	for i := range p.Signals {
		s := &p.Signals[i]
		for _, text := range []string{s.ID, s.Tag, s.Description, s.Device, s.Equipment, s.Unit, s.Hold, s.Remarks} {
			b.WriteString(text)
		}
	}
	return strings.Map(func(r rune) rune {
		if r < ' ' {
			return -1
		}
		return r
	}, string(typeface.Missing(b.String())))
}

// each does n pieces of work on all processors and returns the first error by order.
func each(ctx context.Context, n int, work func(i int) error) error {
	errs := make([]error, n)
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), max(n, 1)) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := range next {
				errs[i] = cmp.Or(ctx.Err(), work(i))
			}
		}()
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// drawings are the sheets that the drawing room makes, each chapter's together: site, power, stations, loops.
func drawings(in document.Input) []scene.Sheet {
	all := drawing.All(drawing.Input{Design: in.Design, Project: in.Project, List: in.Hardware, Setting: in.Setting})
	first := map[string]int{}
	for i := range all {
		if _, seen := first[all[i].Chapter]; !seen {
			first[all[i].Chapter] = i
		}
	}
	slices.SortStableFunc(all, func(a, b scene.Sheet) int { return first[a.Chapter] - first[b.Chapter] })
	return all
}
