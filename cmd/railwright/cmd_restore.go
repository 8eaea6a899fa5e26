package main

import (
	"railwright/internal/app"
	"railwright/internal/words"
)

func init() {
	register(95, "restore", words.Text("cmd.restore"), func() any { return &restoreCommand{} })
}

type restoreCommand struct {
	File  string `arg:"" name:"backup" help:"The backup."`
	Store string `name:"store" env:"RAILWRIGHT_STORE" placeholder:"FILE|URL" help:"A file that is not there yet, or an empty database."`
}

// Help is the text below the usage line.
func (*restoreCommand) Help() string { return words.Text("help.restore") }

// restoreResult is what --json prints.
type restoreResult struct {
	Format    string `json:"format"`
	Projects  int64  `json:"projects"`
	Revisions int64  `json:"revisions"`
	Parts     int64  `json:"parts"`
	Records   int64  `json:"records"`
}

// Run restores.
func (c *restoreCommand) Run(r *request) error {
	n, err := app.Restore(r.ctx, app.RestoreRequest{File: c.File, Store: c.Store})
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		r.writeJSON(restoreResult{"railwright-restored/1", n.Projects, n.Revisions, n.Parts, n.Records})
	case !r.Quiet:
		p := newPage(r.terminal, r.out)
		projects, revisions, records := held(*n)
		p.para("", words.Text("store.restored", app.StoreName(c.Store), projects, revisions, records))
		p.flush()
	}
	return nil
}
