package main

import (
	"time"

	"railwright/internal/app"
	"railwright/internal/store"
	"railwright/internal/store/merge"
	"railwright/internal/words"
)

func init() {
	register(90, "save", words.Text("cmd.save"), func() any { return &saveCommand{} })
}

type saveCommand struct {
	Folder  string   `arg:"" name:"folder" help:"Project folder."`
	Store   string   `name:"store" env:"RAILWRIGHT_STORE" placeholder:"FILE|URL" help:"The store; a file that is not there is begun."`
	Author  string   `name:"author" env:"RAILWRIGHT_AUTHOR" placeholder:"NAME" help:"Who saves."`
	Note    string   `name:"note" placeholder:"TEXT" help:"What was done, and why."`
	Project string   `name:"project" placeholder:"ID" help:"Id of a new project in the store; else made of its name."`
	Take    []string `name:"take" placeholder:"WHAT" help:"Where both sides changed the same: mine, theirs, or the ids for which mine is right."`
}

// Help is the text below the usage line.
func (*saveCommand) Help() string { return words.Text("help.save") }

// conflictJSON is a conflict as --json prints it.
type conflictJSON struct {
	File    string       `json:"file"`
	ID      string       `json:"id"`
	Column  string       `json:"column"`
	Base    string       `json:"base"`
	Mine    string       `json:"mine"`
	Theirs  string       `json:"theirs"`
	Removed string       `json:"removed"` // "mine", "theirs" or ""
	Changes []changeJSON `json:"changes"`
	Taken   string       `json:"taken"` // "mine", "theirs" or "": open
}

type changeJSON struct {
	Column string `json:"column"`
	From   string `json:"from"`
	To     string `json:"to"`
}

// saveResult is what --json prints.
type saveResult struct {
	Format    string         `json:"format"`
	Project   string         `json:"project"`
	Saved     bool           `json:"saved"`
	Nothing   bool           `json:"nothing_to_save"`
	Revision  revisionJSON   `json:"revision"` // the one saved, or the one that stands there
	Own       *revisionJSON  `json:"own"`      // the saver's own version, where others had saved meanwhile
	Conflicts []conflictJSON `json:"conflicts"`
	Written   []string       `json:"written"`
}

var sides = map[merge.Side]string{merge.Mine: "mine", merge.Theirs: "theirs"}

func changesJSON(all []merge.Change) []changeJSON {
	out := []changeJSON{}
	for _, c := range all {
		out = append(out, changeJSON(c))
	}
	return out
}

// Run saves.
func (c *saveCommand) Run(r *request) error {
	res, err := app.Save(r.ctx, app.SaveRequest{Folder: c.Folder, Store: c.Store, Project: c.Project, Author: c.Author, Note: c.Note, Time: time.Now(), Take: c.Take})
	if err != nil {
		return err
	}
	switch {
	case r.JSON:
		r.writeJSON(saveJSON(res))
	case !r.Quiet || res.Open > 0:
		to := r.out
		if r.Quiet {
			to = r.err
		}
		p := newPage(r.terminal, to)
		p.saved(c, res)
		p.flush()
	}
	if res.Open > 0 {
		return errFindings
	}
	return nil
}

func saveJSON(res *app.SaveResult) saveResult {
	out := saveResult{Format: "railwright-save/1", Project: res.Project, Saved: res.Open == 0 && !res.Nothing, Nothing: res.Nothing, Revision: revisionOf(res.Revision), Conflicts: []conflictJSON{}, Written: append([]string{}, res.Written...)}
	if res.Kept != nil {
		own := revisionOf(*res.Kept)
		out.Own = &own
	}
	for _, x := range res.Conflicts {
		out.Conflicts = append(out.Conflicts, conflictJSON{x.Part, x.ID, x.Column, x.Base, x.Mine, x.Theirs, sides[x.Removed], changesJSON(x.Changes), sides[x.Taken]})
	}
	return out
}

// saved says what became of a save.
func (p *page) saved(c *saveCommand, res *app.SaveResult) {
	if res.IDs {
		p.para("", words.Text("store.ids"))
	}
	r := res.Revision
	switch {
	case res.Nothing:
		p.para("", words.Text("store.nothing", c.Folder, r.Number, r.Project))
		if res.Behind > 0 {
			p.para("", words.Text("store.behind", words.Count(int(res.Behind), "revision"), quote(c.Folder)))
		}
		return
	case res.Open > 0:
		p.para("", words.Text("store.conflicts", res.Theirs.Number, res.Theirs.Author, words.Count(len(res.Conflicts), "conflict"), c.Folder, res.Theirs.Number, res.Kept.Number))
		p.conflicts(res.Conflicts)
		p.blank()
		p.para("", words.Text("store.decide"))
		p.table("  ", []column{{}, {}}, [][]string{
			{"--take mine", words.Text("store.decide_mine")}, {"--take theirs", words.Text("store.decide_theirs")}, {"--take ID,ID", words.Text("store.decide_some")},
		})
		return
	case res.Merged:
		p.para("", words.Text("store.saved_merged", res.Theirs.Number, res.Theirs.Author, r.Number, r.Project, res.Kept.Number))
		if len(res.Conflicts) > 0 {
			p.conflicts(res.Conflicts)
			p.blank()
		}
		if len(res.Written) > 0 {
			p.para("", words.Text("store.came_in", c.Folder, list(res.Written)))
		}
		for _, x := range res.Conflicts {
			if x.Part == "accepted.json" && x.Taken == merge.Theirs {
				p.para("", words.Text("store.plan_again", res.Theirs.Number))
			}
		}
		return
	case res.New:
		p.para("", words.Text("store.saved_new", c.Folder, r.Number, r.Project))
	default:
		p.para("", words.Text("store.saved", c.Folder, r.Number, r.Project))
	}
}

// mostConflicts is how many conflicts are shown one by one.
const mostConflicts = 40

// conflicts shows both versions of each conflict.
func (p *page) conflicts(all []store.Conflict) {
	p.blank()
	var rows [][]string
	for i, x := range all {
		if i == mostConflicts {
			break
		}
		if x.Removed == merge.Neither {
			what := x.Column
			subject := x.ID
			if subject == "" {
				subject = x.Part
			}
			if what == "" && x.ID == "" {
				what = words.Text("store.whole")
			} else if what == "" {
				what, subject = x.ID, x.Part
			}
			rows = append(rows, []string{subject, what, shown(x.Base), shown(x.Mine), shown(x.Theirs), taken(x.Taken)})
			continue
		}
		for _, ch := range x.Changes {
			mine, theirs := words.Text("store.removed"), shown(ch.To)
			if x.Removed == merge.Theirs {
				mine, theirs = theirs, mine
			}
			rows = append(rows, []string{x.ID, ch.Column, shown(ch.From), mine, theirs, taken(x.Taken)})
		}
	}
	p.table("  ", []column{{head: words.Text("store.signal")}, {head: words.Text("store.column")}, {head: words.Text("store.was")}, {head: words.Text("store.mine")}, {head: words.Text("store.theirs")}, {}}, rows)
	if len(all) > mostConflicts {
		p.para("  ", words.Text("store.more_rows", words.Thousands(int64(len(all)-mostConflicts))))
	}
}

func taken(s merge.Side) string {
	switch s {
	case merge.Mine:
		return "-> " + words.Text("store.mine")
	case merge.Theirs:
		return "-> " + words.Text("store.theirs")
	}
	return ""
}
