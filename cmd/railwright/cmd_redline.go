package main

import (
	"railwright/internal/app"
	"railwright/internal/words"
)

func init() {
	register(75, "redline", words.Text("cmd.redline"), func() any { return &redlineCommand{} })
}

type redlineCommand struct {
	Folder  string `arg:"" name:"folder" help:"Project folder."`
	File    string `arg:"" name:"file" help:"Table of mark-ups: subject, property, value, by, on, remark."`
	Approve bool   `name:"approve" help:"Make the proposal the as-built record."`
	By      string `name:"by" placeholder:"NAME" help:"Who approves."`
}

// Help is the text below the usage line.
func (*redlineCommand) Help() string { return words.Text("help.redline") }

// Run shows or approves mark-ups.
func (c *redlineCommand) Run(r *request) error {
	bar := r.progress()
	res, err := app.Redlines(r.ctx, app.RedlineRequest{Folder: c.Folder, File: c.File, Approve: c.Approve, By: c.By, Progress: bar.step})
	bar.done()
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		r.writeJSON(res)
	case !r.Quiet:
		p := newPage(r.terminal, r.out)
		p.redlines(c, res)
		p.flush()
	}
	if res.Findings.HasErrors() {
		return errFindings
	}
	return nil
}

func (p *page) redlines(c *redlineCommand, res *app.RedlineResult) {
	marks := words.Count(len(res.Marks), "mark-up")
	if len(res.Changes) == 0 && len(res.Findings) == 0 {
		p.para("", words.Text("redline.same", marks))
		return
	}
	if res.Findings.HasErrors() {
		p.para("", words.Text("redline.cannot", marks))
		p.blank()
		p.everyFinding(res.Findings)
		return
	}
	p.para("", words.Text("redline.proposal", marks, words.Count(len(res.Changes), "place")))
	for _, ch := range res.Changes {
		p.para("  ", ch.Key)
		p.para("    "+words.Text("redline.was")+"      ", orNothing(ch.Before))
		p.para("    "+words.Text("redline.becomes")+"  ", orNothing(ch.After))
	}
	p.blank()
	if res.Approved {
		p.para("", words.Text("redline.approved", c.By, res.File))
	} else {
		p.para("", words.Text("redline.next", c.Folder, c.File))
	}
}

func orNothing(s string) string {
	if s == "" {
		return words.Text("redline.none")
	}
	return s
}
