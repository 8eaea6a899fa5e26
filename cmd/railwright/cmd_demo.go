package main

import (
	"railwright/internal/app"
	"railwright/internal/words"
)

func init() {
	register(10, "demo", words.Text("cmd.demo"), func() any { return &demoCommand{} })
}

type demoCommand struct {
	Dir  string `arg:"" name:"dir" help:"Folder to write; it must be new or empty."`
	Weak bool   `name:"weak" help:"Write it with weak spots planted, for check and explain to find."`
	Next bool   `name:"second-year" help:"Write it as installed, with the signal list of its second year, for plan and modification."`
}

// Help is the text below the usage line.
func (*demoCommand) Help() string { return words.Text("help.demo") }

// demoResult is what --json prints.
type demoResult struct {
	Format string   `json:"format"`
	Dir    string   `json:"dir"`
	Files  []string `json:"files"`
}

// Run writes the example.
func (c *demoCommand) Run(r *request) error {
	bar := r.progress()
	res, err := app.Demo(r.ctx, app.DemoRequest{Dir: c.Dir, Weak: c.Weak, SecondYear: c.Next, Progress: bar.step})
	bar.done()
	if err != nil {
		return err
	}
	if r.JSON {
		r.writeJSON(demoResult{Format: "railwright-demo/1", Dir: c.Dir, Files: res.Files})
		return nil
	}
	if r.Quiet {
		return nil
	}
	p := newPage(r.terminal, r.out)
	p.para("", words.Text("demo.wrote", words.Count(len(res.Files), "file"), c.Dir))
	var rows [][]string
	for _, f := range res.Files {
		rows = append(rows, []string{f, words.FileNote(f)})
	}
	p.table("  ", []column{{}, {}}, rows)
	p.heading(words.Text("summary.next"))
	p.table("  ", []column{{}, {}}, [][]string{
		{words.Text("next.plan"), "railwright plan " + quote(c.Dir)},
		{words.Text("next.check"), "railwright check " + quote(c.Dir)},
	})
	p.flush()
	return nil
}
