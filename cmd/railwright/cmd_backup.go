package main

import (
	"railwright/internal/app"
	"railwright/internal/store"
	"railwright/internal/words"
)

func init() {
	register(94, "backup", words.Text("cmd.backup"), func() any { return &backupCommand{} })
}

type backupCommand struct {
	Out       string `arg:"" name:"out" help:"File to write."`
	Store     string `name:"store" env:"RAILWRIGHT_STORE" placeholder:"FILE|URL" help:"The store."`
	Overwrite bool   `name:"overwrite" help:"Take the place of a file that is there."`
}

// Help is the text below the usage line.
func (*backupCommand) Help() string { return words.Text("help.backup") }

// backupResult is what --json prints.
type backupResult struct {
	Format    string `json:"format"`
	File      string `json:"file"`
	Bytes     int64  `json:"bytes"`
	Projects  int64  `json:"projects"`
	Revisions int64  `json:"revisions"`
	Parts     int64  `json:"parts"`
	Records   int64  `json:"records"`
}

// Run writes the backup.
func (c *backupCommand) Run(r *request) error {
	res, err := app.Backup(r.ctx, app.BackupRequest{Store: c.Store, Out: c.Out, Overwrite: c.Overwrite})
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		r.writeJSON(backupResult{"railwright-backed-up/1", c.Out, res.Bytes, res.Projects, res.Revisions, res.Parts, res.Records})
	case !r.Quiet:
		p := newPage(r.terminal, r.out)
		projects, revisions, records := held(res.Counts)
		p.para("", words.Text("store.backed_up", c.Out, projects, revisions, records, words.Count(int(res.Bytes), "byte")))
		p.flush()
	}
	return nil
}

// held puts what a store holds into words.
func held(n store.Counts) (projects, revisions, records string) {
	return words.Count(int(n.Projects), "project"), words.Count(int(n.Revisions), "revision"), words.Count(int(n.Records), "record")
}
