package main

import (
	"slices"
	"strings"
	"time"

	"railwright/internal/app"
	"railwright/internal/store"
	"railwright/internal/words"
)

func init() {
	register(91, "history", words.Text("cmd.history"), func() any { return &historyCommand{} })
}

type historyCommand struct {
	Store   string `name:"store" env:"RAILWRIGHT_STORE" placeholder:"FILE|URL" help:"The store."`
	Project string `name:"project" placeholder:"ID" help:"One project, where the store holds several."`
	Before  int64  `name:"before" placeholder:"N" help:"Revisions below that number only."`
	Most    int    `name:"most" placeholder:"N" default:"30" help:"So many at most; 0 shows all."`
}

// Help is the text below the usage line.
func (*historyCommand) Help() string { return words.Text("help.history") }

// revisionJSON is a revision as --json prints it.
type revisionJSON struct {
	ID     store.ID              `json:"id"`
	Number int64                 `json:"number"`
	Parent store.ID              `json:"parent"`
	Merged store.ID              `json:"merged"`
	Author string                `json:"author"`
	Time   string                `json:"time"`
	Note   string                `json:"note"`
	Parts  map[string]store.Hash `json:"parts"`
}

// historyResult is what --json prints.
type historyResult struct {
	Format    string        `json:"format"`
	Projects  []projectJSON `json:"projects"`
	Project   string        `json:"project"`
	Revisions []entryJSON   `json:"revisions"`
	More      bool          `json:"more"`
}

type projectJSON struct {
	ID      string        `json:"id"`
	Name    string        `json:"name"`
	Created string        `json:"created"`
	Newest  *revisionJSON `json:"newest"`
}

type entryJSON struct {
	Revision revisionJSON `json:"revision"`
	Heads    []string     `json:"heads"`
	Aside    bool         `json:"kept_aside"`
	Changed  []string     `json:"changed"`
}

func revisionOf(r store.Revision) revisionJSON {
	out := revisionJSON{r.ID, r.Number, r.Parent, r.Merged, r.Author, r.Time.Format(time.RFC3339Nano), r.Note, map[string]store.Hash{}}
	for name, p := range r.Parts {
		out.Parts[name] = p.Hash
	}
	return out
}

func entryOf(e app.HistoryEntry) entryJSON {
	return entryJSON{revisionOf(e.Revision), append([]string{}, e.Heads...), e.Aside, append([]string{}, e.Changed...)}
}

// Run lists.
func (c *historyCommand) Run(r *request) error {
	res, err := app.History(r.ctx, app.HistoryRequest{Store: c.Store, Project: c.Project, Before: c.Before, Most: c.Most})
	if err != nil {
		return err
	}
	if r.JSON {
		out := historyResult{Format: "railwright-history/1", Projects: []projectJSON{}, Project: res.Project, Revisions: []entryJSON{}, More: res.More}
		for _, p := range res.Projects {
			x := projectJSON{ID: p.ID, Name: p.Name, Created: p.Created.Format(time.RFC3339Nano)}
			if p.Newest != nil {
				n := revisionOf(*p.Newest)
				x.Newest = &n
			}
			out.Projects = append(out.Projects, x)
		}
		for _, e := range res.Revisions {
			out.Revisions = append(out.Revisions, entryOf(e))
		}
		r.writeJSON(out)
		return nil
	}
	if r.Quiet {
		return nil
	}
	p := newPage(r.terminal, r.out)
	if res.Project == "" {
		p.projects(res.Projects)
	} else {
		p.history(res)
	}
	p.flush()
	return nil
}

func stamp(t time.Time) string { return t.UTC().Format("2006-01-02 15:04") }

// list joins names with commas.
func list(names []string) string { return strings.Join(names, ", ") }

func firstLine(s string) string {
	line, _, _ := strings.Cut(s, "\n")
	return line
}

func (p *page) projects(all []app.ProjectEntry) {
	if len(all) == 0 {
		p.para("", words.Text("store.no_projects"))
		return
	}
	var rows [][]string
	for _, e := range all {
		row := []string{e.ID, e.Name, "0", "", ""}
		if e.Newest != nil {
			row = []string{e.ID, e.Name, words.Thousands(e.Newest.Number), stamp(e.Newest.Time), e.Newest.Author}
		}
		rows = append(rows, row)
	}
	p.table("", []column{{head: words.Text("store.project")}, {head: words.Text("store.name")}, {head: words.Text("store.revisions"), right: true}, {head: words.Text("store.saved_at")}, {head: words.Text("store.author")}}, rows)
}

func (p *page) history(res *app.HistoryResult) {
	var rows [][]string
	for _, e := range res.Revisions {
		rows = append(rows, []string{words.Thousands(e.Number), stamp(e.Time), e.Author, remark(e), shortChanged(e)})
	}
	p.table("", []column{{head: words.Text("store.revision"), right: true}, {head: words.Text("store.saved_at")}, {head: words.Text("store.author")}, {head: words.Text("store.note")}, {head: words.Text("store.changed")}}, rows)
	if res.More {
		p.para("", words.Text("store.older", res.Revisions[len(res.Revisions)-1].Number))
	}
}

// remark is a revision's note with what it is in the line of revisions.
func remark(e app.HistoryEntry) string {
	var parts []string
	if e.Merged > 0 {
		parts = append(parts, words.Text("store.joins", e.Parent, e.Merged))
	}
	if e.Aside {
		parts = append(parts, words.Text("store.aside"))
	}
	parts = append(parts, e.Heads...)
	note := firstLine(e.Note)
	if len(parts) == 0 {
		return note
	}
	return strings.TrimSpace("(" + list(parts) + ") " + note)
}

func shortChanged(e app.HistoryEntry) string {
	if e.Parent == 0 {
		return words.Text("store.first")
	}
	var names []string
	for _, c := range e.Changed {
		if strings.HasPrefix(c, "imports/") {
			c = "imports"
		}
		if !slices.Contains(names, c) {
			names = append(names, c)
		}
	}
	return list(names)
}
