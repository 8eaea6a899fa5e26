package main

import (
	"railwright/internal/app"
	"railwright/internal/words"
)

func init() {
	register(40, "explain", words.Text("cmd.explain"), func() any { return &explainCommand{} })
}

type explainCommand struct {
	Folder  string `arg:"" name:"folder" help:"Project folder."`
	Subject string `arg:"" name:"subject" help:"A signal's tag, KIND:ID (signal, group, station, supply, feeder, cable), or project."`
}

// Help is the text below the usage line.
func (*explainCommand) Help() string { return words.Text("help.explain") }

// Run prints the calculations behind a subject.
func (c *explainCommand) Run(r *request) error {
	bar := r.progress()
	sheet, err := app.Explain(r.ctx, app.ExplainRequest{Folder: c.Folder, Subject: c.Subject, Progress: bar.step})
	bar.done()
	if err != nil {
		return err
	}
	if r.JSON {
		r.writeJSON(sheet)
		return nil
	}
	if !r.Quiet {
		_, err = r.out.Write([]byte(sheet.Text()))
	}
	return err
}
