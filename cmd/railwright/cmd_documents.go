package main

import (
	"path/filepath"
	"strings"

	"railwright/internal/app"
	"railwright/internal/words"
)

func init() {
	register(50, "documents", words.Text("cmd.documents"), func() any { return &documentsCommand{} })
}

type documentsCommand struct {
	Folder    string `arg:"" optional:"" name:"folder" help:"Project folder."`
	Example   bool   `name:"example" help:"The built-in example instead of a folder."`
	Out       string `name:"out" placeholder:"DIR" help:"Write there."`
	Paper     string `name:"paper" placeholder:"SIZE" default:"A4" help:"A4, A3, letter or tabloid. With A3 and tabloid, lists and forms take half of it."`
	Wire      string `name:"wire" placeholder:"UNIT" default:"metric" help:"Conductors in metric sizes or in awg."`
	Language  string `name:"language" placeholder:"CODE" default:"en" help:"Language of the sheets: en or de."`
	Overwrite bool   `name:"overwrite" help:"Replace files that railwright did not write, too."`
}

// Help is the text below the usage line.
func (*documentsCommand) Help() string { return words.Text("help.documents") }

// documentsResult is what --json prints.
type documentsResult struct {
	Format   string                 `json:"format"`
	Of       string                 `json:"of"`
	Dir      string                 `json:"dir"`
	Sheets   int                    `json:"sheets"`
	Files    []string               `json:"files"`
	Draft    []string               `json:"not_for_construction"`
	Unfit    string                 `json:"signs_not_printable"`
	Chapters []documentsChapterJSON `json:"chapters"`
}

type documentsChapterJSON struct {
	Title  string `json:"title"`
	File   string `json:"file"`
	Sheets int    `json:"sheets"`
}

// Run writes the documents and says what there is.
func (c *documentsCommand) Run(r *request) error {
	bar := r.progress()
	res, err := app.Documents(r.ctx, app.DocumentsRequest{
		Folder: c.Folder, Example: c.Example, Out: c.Out, Paper: c.Paper, Wire: c.Wire, Language: c.Language, Overwrite: c.Overwrite, Progress: bar.step,
	})
	bar.done()
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		out := documentsResult{Format: "railwright-documents/1", Of: res.Of, Dir: res.Out, Sheets: res.Sheets, Files: res.Files, Draft: res.Draft, Unfit: res.Unfit}
		for _, ch := range res.Chapters {
			out.Chapters = append(out.Chapters, documentsChapterJSON(ch))
		}
		r.writeJSON(out)
	case !r.Quiet:
		c.show(r, res)
	}
	if res.Design.Findings.HasErrors() {
		return errFindings
	}
	return nil
}

func (c *documentsCommand) show(r *request, res *app.DocumentsResult) {
	p := newPage(r.terminal, r.out)
	p.para("", words.Text("documents.wrote", words.Count(len(res.Files), "file"), words.Count(res.Sheets, "sheet"), res.Out))
	rows := [][]string{{"pack.pdf", words.Text("documents.pack"), words.Thousands(int64(res.Sheets))}}
	for _, ch := range res.Chapters {
		rows = append(rows, []string{ch.File, words.Sentence(ch.Title), words.Thousands(int64(ch.Sheets))})
	}
	drawn := 0
	for _, f := range res.Files {
		if filepath.Ext(f) == ".svg" {
			drawn++
		}
	}
	if drawn > 0 {
		rows = append(rows, []string{"drawings/", words.Text("documents.drawings"), words.Thousands(int64(drawn))})
	}
	rows = append(rows, []string{"schedules.xlsx, csv/", words.Text("documents.schedules"), ""}, []string{"design.json", words.Text("documents.design"), ""})
	p.table("  ", []column{{}, {}, {right: true}}, rows)
	if res.Unfit != "" {
		p.para("", words.Text("documents.unfit", strings.Join(strings.Split(res.Unfit, ""), " ")))
	}
	if len(res.Draft) > 0 {
		p.para("", words.Text("documents.draft"))
		for _, why := range res.Draft {
			p.para("  ", why)
		}
	}
	p.flush()
}
