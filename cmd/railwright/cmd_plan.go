package main

import (
	"railwright/internal/app"
	"railwright/internal/words"
)

func init() {
	register(20, "plan", words.Text("cmd.plan"), func() any { return &planCommand{} })
}

type planCommand struct {
	Folder    string `arg:"" optional:"" name:"folder" help:"Project folder."`
	Example   bool   `name:"example" help:"Plan the built-in example instead of a folder."`
	Out       string `name:"out" placeholder:"DIR" help:"Write design.json, schedules.xlsx and csv/*.csv there."`
	Accept    bool   `name:"accept" help:"Keep the design in the folder as accepted.json; later plans keep to it."`
	Overwrite bool   `name:"overwrite" help:"With --out: replace files that railwright did not write, too."`
}

// Help is the text below the usage line.
func (*planCommand) Help() string { return words.Text("help.plan") }

// Run makes a design and shows it.
func (c *planCommand) Run(r *request) error {
	bar := r.progress()
	res, err := app.Plan(r.ctx, app.PlanRequest{
		Folder: c.Folder, Example: c.Example, Out: c.Out, Accept: c.Accept, Overwrite: c.Overwrite, Progress: bar.step,
	})
	bar.done()
	if err != nil {
		return err
	}
	if r.JSON {
		if _, err := r.out.Write(res.JSON); err != nil {
			return err
		}
	} else if !r.Quiet {
		p := newPage(r.terminal, r.out)
		p.summary(res)
		p.flush()
	}
	if res.Design.Findings.HasErrors() {
		return errFindings
	}
	return nil
}
