package main

import (
	"strings"

	"railwright/internal/app"
	"railwright/internal/words"
)

func init() {
	register(70, "freeze", words.Text("cmd.freeze"), func() any { return &freezeCommand{} })
}

type freezeCommand struct {
	Folder  string   `arg:"" name:"folder" help:"Project folder."`
	Station []string `name:"station" placeholder:"ID" help:"Station to freeze; all where none is named."`
	Release []string `name:"release" placeholder:"ID" help:"Station that shall be free again."`
	By      string   `name:"by" placeholder:"NAME" help:"Who says that it is installed."`
}

// Help is the text below the usage line.
func (*freezeCommand) Help() string { return words.Text("help.freeze") }

// Run freezes stations.
func (c *freezeCommand) Run(r *request) error {
	bar := r.progress()
	res, err := app.Freeze(r.ctx, app.FreezeRequest{Folder: c.Folder, Stations: c.Station, Release: c.Release, By: c.By, Progress: bar.step})
	bar.done()
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		r.writeJSON(res)
	case !r.Quiet:
		p := newPage(r.terminal, r.out)
		p.para("", words.Text("freeze.done", words.Count(len(res.Frozen), "station"), words.Count(res.Signals, "signal"), res.File))
		if len(res.Added) > 0 {
			p.para("", words.Text("freeze.added", strings.Join(res.Added, ", ")))
		}
		if res.IDs {
			p.para("", words.Text("freeze.ids"))
		}
		if len(res.Released) > 0 {
			p.para("", words.Text("freeze.released", strings.Join(res.Released, ", ")))
		}
		p.para("", words.Text("freeze.next", c.Folder, c.Folder))
		p.flush()
	}
	return nil
}
