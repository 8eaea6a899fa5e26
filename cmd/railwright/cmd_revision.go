package main

import (
	"strings"

	"railwright/internal/app"
	"railwright/internal/store/merge"
	"railwright/internal/words"
)

func init() {
	register(92, "revision", words.Text("cmd.revision"), func() any { return &revisionCommand{} })
}

type revisionCommand struct {
	Revision string `arg:"" name:"revision" help:"Its number, or a head: main is the newest."`
	Store    string `name:"store" env:"RAILWRIGHT_STORE" placeholder:"FILE|URL" help:"The store."`
	Project  string `name:"project" placeholder:"ID" help:"The project, where the store holds several."`
	Since    string `name:"since" placeholder:"REVISION" help:"Compare with that one instead of the parent."`
	Into     string `name:"into" placeholder:"FOLDER" help:"Write the revision there."`
}

// Help is the text below the usage line.
func (*revisionCommand) Help() string { return words.Text("help.revision") }

// revisionResult is what --json prints.
type revisionResult struct {
	Format  string           `json:"format"`
	Entry   entryJSON        `json:"entry"`
	Since   int64            `json:"since"`
	List    []differenceJSON `json:"list"`
	Choices []differenceJSON `json:"choices"`
	Others  []string         `json:"other_files"`
}

type differenceJSON struct {
	ID      string       `json:"id"`
	Added   bool         `json:"added"`
	Removed bool         `json:"removed"`
	Changes []changeJSON `json:"changes"`
}

// wroteResult is what --json prints with --into.
type wroteResult struct {
	Format   string       `json:"format"`
	Revision revisionJSON `json:"revision"`
	Written  []string     `json:"written"`
}

// Run shows or writes.
func (c *revisionCommand) Run(r *request) error {
	of := app.RevisionRequest{Store: c.Store, Project: c.Project, Revision: c.Revision, Since: c.Since}
	if c.Into != "" {
		return c.write(r, of)
	}
	res, err := app.ShowRevision(r.ctx, of)
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		r.writeJSON(revisionResult{"railwright-revision/1", entryOf(res.HistoryEntry), res.Since, differencesJSON(res.List), differencesJSON(res.Choices), append([]string{}, res.Others...)})
	case !r.Quiet:
		p := newPage(r.terminal, r.out)
		p.revision(res)
		p.flush()
	}
	return nil
}

func (c *revisionCommand) write(r *request, of app.RevisionRequest) error {
	res, err := app.WriteRevision(r.ctx, app.WriteRevisionRequest{RevisionRequest: of, Into: c.Into})
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		r.writeJSON(wroteResult{"railwright-wrote/1", revisionOf(res.Revision), append([]string{}, res.Written...)})
	case r.Quiet:
	case len(res.Written) == 0:
		p := newPage(r.terminal, r.out)
		p.para("", words.Text("store.is_there", c.Into, res.Revision.Number, res.Revision.Project))
		p.flush()
	default:
		p := newPage(r.terminal, r.out)
		p.para("", words.Text("store.wrote_revision", res.Revision.Number, res.Revision.Project, c.Into, list(res.Written)))
		p.flush()
	}
	return nil
}

func differencesJSON(all []merge.Difference) []differenceJSON {
	out := []differenceJSON{}
	for _, d := range all {
		out = append(out, differenceJSON{d.ID, d.Added, d.Removed, changesJSON(d.Changes)})
	}
	return out
}

// revision shows a revision and what changed in it.
func (p *page) revision(res *app.RevisionResult) {
	note := ""
	if res.Note != "" {
		note = ": " + strings.Join(strings.Fields(res.Note), " ")
	}
	p.para("", words.Text("store.title", res.Number, res.Project, stamp(res.Time), res.Author, note))
	for _, e := range []string{remark(app.HistoryEntry{Merged: res.Merged, Parent: res.Parent, Aside: res.Aside, Heads: res.Heads})} {
		if e != "" {
			p.para("", e)
		}
	}
	if res.Since == 0 {
		p.para("", words.Text("store.begins"))
		return
	}
	p.para("", words.Text("store.compared", res.Since))
	p.differences(words.Text("store.list"), res.List)
	p.differences(words.Text("store.choices"), res.Choices)
	switch {
	case res.NotTable:
		p.blank()
		p.para("", words.Text("store.not_table"))
	case len(res.List)+len(res.Choices)+len(res.Others) == 0:
		p.para("", words.Text("store.same"))
	}
	if len(res.Others) > 0 {
		p.blank()
		p.para("", words.Text("store.other_files", list(res.Others)))
	}
}

// mostRows is how many cells are shown.
const mostRows = 100

func (p *page) differences(title string, all []merge.Difference) {
	if len(all) == 0 {
		return
	}
	p.heading(title)
	var rows [][]string
	for _, d := range all {
		switch {
		case d.Removed:
			rows = append(rows, []string{d.ID, words.Text("store.taken_out"), "", "", ""})
		case d.Added:
			var cells []string
			for _, c := range d.Changes {
				if c.Column != "id" && c.To != d.ID {
					cells = append(cells, c.To)
				}
			}
			rows = append(rows, []string{d.ID, words.Text("store.added"), list(cells), "", ""})
		default:
			id := d.ID
			for _, c := range d.Changes {
				rows = append(rows, []string{id, c.Column, shown(c.From), "->", shown(c.To)})
				id = ""
			}
		}
	}
	more := len(rows) - mostRows
	p.table("  ", []column{{}, {}, {}, {}, {}}, rows[:min(len(rows), mostRows)])
	if more > 0 {
		p.para("  ", words.Text("store.more_rows", words.Thousands(int64(more))))
	}
}
