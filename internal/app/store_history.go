package app

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/folder"
	"railwright/internal/store"
	"railwright/internal/store/merge"
	"railwright/internal/words"
)

// HistoryRequest asks for what a store holds.
type HistoryRequest struct {
	Store   string
	Project string // "" = the only one; where there are several, they are listed
	Before  int64  // revisions below that number, 0 = all
	Most    int    // so many revisions at most
}

// HistoryResult holds the revisions of a project, the newest first, or the projects.
type HistoryResult struct {
	Projects  []ProjectEntry
	Project   string // "" = the projects are listed
	Revisions []HistoryEntry
	More      bool // there are older ones
}

// ProjectEntry is one project of a store.
type ProjectEntry struct {
	store.Project
	Newest *store.Revision // nil = nothing was saved yet
}

// HistoryEntry is one revision of a project.
type HistoryEntry struct {
	store.Revision
	Parent  int64    // number of the parent, 0 = none
	Merged  int64    // number of the other side of a merge, 0 = none
	Heads   []string // heads that stand on it
	Aside   bool     // no head stems from it
	Changed []string // parts that differ from the parent's
}

// History lists the revisions of a project, or the projects of a store that holds several.
func History(ctx context.Context, r HistoryRequest) (*HistoryResult, error) {
	s, err := OpenStore(ctx, r.Store, false)
	if err != nil {
		return nil, err
	}
	defer s.Close()
	res := &HistoryResult{}
	err = s.Snapshot(ctx, func(read store.Reader) error {
		all, err := read.Projects(ctx)
		if err != nil {
			return err
		}
		for _, p := range all {
			e := ProjectEntry{Project: p}
			newest, err := read.Latest(ctx, p.ID, 0, 1)
			if err != nil {
				return err
			}
			if len(newest) > 0 {
				e.Newest = &newest[0]
			}
			res.Projects = append(res.Projects, e)
		}
		if res.Project, err = pickProject(all, r.Project); err != nil || res.Project == "" {
			return err
		}
		h := history{ctx: ctx, r: read, byID: map[store.ID]store.Revision{}}
		res.Revisions, res.More, err = h.list(res.Project, r.Before, r.Most)
		return err
	})
	if err != nil {
		return nil, StoreFault(r.Store, err)
	}
	return res, nil
}

// pickProject returns the project that was asked for, the only one, or "".
func pickProject(all []store.Project, asked string) (string, error) {
	if asked == "" {
		if len(all) == 1 {
			return all[0].ID, nil
		}
		return "", nil
	}
	var ids []string
	for _, p := range all {
		if p.ID == asked {
			return asked, nil
		}
		ids = append(ids, p.ID)
	}
	return "", usage(words.Text("store.no_project", asked), words.Text("store.projects", strings.Join(ids, ", ")))
}

// history reads revisions, each once.
type history struct {
	ctx  context.Context
	r    store.Reader
	byID map[store.ID]store.Revision
}

func (h *history) revision(id store.ID) (store.Revision, error) {
	if r, ok := h.byID[id]; ok || id == "" {
		return r, nil
	}
	r, err := h.r.Revision(h.ctx, id)
	h.byID[id] = r
	return r, err
}

func (h *history) list(project string, before int64, most int) ([]HistoryEntry, bool, error) {
	if most <= 0 {
		most = 1 << 30
	}
	revisions, err := h.r.Latest(h.ctx, project, before, most+1)
	if err != nil {
		return nil, false, err
	}
	heads, err := h.r.Heads(h.ctx, project)
	if err != nil {
		return nil, false, err
	}
	for _, r := range revisions {
		h.byID[r.ID] = r
	}
	more := len(revisions) > most
	revisions = revisions[:min(len(revisions), most)]
	least := int64(1)
	if len(revisions) > 0 {
		least = revisions[len(revisions)-1].Number
	}
	onHead, err := h.stems(heads, least)
	if err != nil {
		return nil, false, err
	}
	var out []HistoryEntry
	for _, r := range revisions {
		e := HistoryEntry{Revision: r, Aside: !onHead[r.ID]}
		parent, err := h.revision(r.Parent)
		if err != nil {
			return nil, false, err
		}
		merged, err := h.revision(r.Merged)
		if err != nil {
			return nil, false, err
		}
		e.Parent, e.Merged, e.Changed = parent.Number, merged.Number, changedParts(parent.Parts, r.Parts)
		for name, id := range heads {
			if id == r.ID {
				e.Heads = append(e.Heads, name)
			}
		}
		slices.Sort(e.Heads)
		out = append(out, e)
	}
	return out, more, nil
}

// stems returns the revisions that heads stand on or stem from, down to a number. A version that was
// joined into a merge is one of them.
func (h *history) stems(heads map[string]store.ID, least int64) (map[store.ID]bool, error) {
	seen := map[store.ID]bool{}
	var open []store.ID
	for _, id := range heads {
		open = append(open, id)
	}
	for len(open) > 0 {
		id := open[len(open)-1]
		open = open[:len(open)-1]
		if id == "" || seen[id] {
			continue
		}
		r, err := h.revision(id)
		if err != nil {
			return nil, err
		}
		if r.Number < least {
			continue
		}
		seen[id] = true
		open = append(open, r.Parent, r.Merged)
	}
	return seen, nil
}

func changedParts(from, to store.Parts) []string {
	var out []string
	for name := range to {
		if from[name].Hash != to[name].Hash {
			out = append(out, name)
		}
	}
	for name := range from {
		if _, ok := to[name]; !ok {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// RevisionRequest names a revision.
type RevisionRequest struct {
	Store    string
	Project  string // "" = the only one
	Revision string // number, or name of a head
	Since    string // what it is compared with; "" = its parent
}

// RevisionResult is a revision and what changed in it.
type RevisionResult struct {
	HistoryEntry
	Since    int64              // number of the revision that it is compared with, 0 = nothing
	List     []merge.Difference // rows of the signal list that differ
	Choices  []merge.Difference
	Others   []string // other parts that differ
	NotTable bool     // the list differs, but not in a form that is compared row by row
}

// ShowRevision compares a revision with its parent or another one.
func ShowRevision(ctx context.Context, r RevisionRequest) (*RevisionResult, error) {
	s, err := OpenStore(ctx, r.Store, false)
	if err != nil {
		return nil, err
	}
	defer s.Close()
	res := &RevisionResult{}
	err = s.Snapshot(ctx, func(read store.Reader) error {
		rev, err := findRevision(ctx, read, r.Project, r.Revision)
		if err != nil {
			return err
		}
		h := history{ctx: ctx, r: read, byID: map[store.ID]store.Revision{}}
		entries, _, err := h.list(rev.Project, rev.Number+1, 1)
		if err != nil {
			return err
		}
		res.HistoryEntry = entries[0]
		since := store.Revision{}
		if r.Since != "" {
			since, err = findRevision(ctx, read, rev.Project, r.Since)
		} else {
			since, err = h.revision(rev.Parent)
		}
		if err != nil {
			return err
		}
		res.Since = since.Number
		return res.compare(since.Parts, rev.Parts, func(p store.Part) ([]byte, error) { return read.Part(ctx, p.Hash) })
	})
	if err != nil {
		return nil, StoreFault(r.Store, err)
	}
	return res, nil
}

func (res *RevisionResult) compare(from, to store.Parts, load func(store.Part) ([]byte, error)) error {
	for _, name := range changedParts(from, to) {
		switch {
		case slices.Contains(folder.ListFiles, name):
		case name == folder.ChoicesFile:
			var b [2]blocks
			ok := true
			for i, set := range []store.Parts{from, to} {
				if p, there := set[name]; there {
					data, err := load(p)
					if err != nil {
						return err
					}
					var plain bool
					b[i], plain = readBlocks(data)
					ok = ok && plain
				}
			}
			if ok {
				res.Choices = merge.Diff(b[0].table, b[1].table)
				continue
			}
			res.Others = append(res.Others, name)
		default:
			res.Others = append(res.Others, name)
		}
	}
	if from[listName(from)].Hash == to[listName(to)].Hash {
		return nil
	}
	var tables [2]merge.Table
	for i, set := range []store.Parts{from, to} {
		files, err := filesOf(set, load)
		if err != nil {
			return err
		}
		f := folder.Parse(files)
		if listName(set) != "" && listUnreadable(f.Findings) {
			res.NotTable = true
			return nil
		}
		tables[i] = cellTable(f.Cells)
	}
	res.List = merge.Diff(tables[0], tables[1])
	return nil
}

// findRevision finds a revision by its number or by the head that stands on it.
func findRevision(ctx context.Context, read store.Reader, project, name string) (store.Revision, error) {
	all, err := read.Projects(ctx)
	if err != nil {
		return store.Revision{}, err
	}
	if project, err = pickProject(all, project); err != nil {
		return store.Revision{}, err
	}
	if project == "" {
		var ids []string
		for _, p := range all {
			ids = append(ids, p.ID)
		}
		return store.Revision{}, usage(words.Text("store.which_project"), words.Text("store.projects", strings.Join(ids, ", ")))
	}
	if n, err := strconv.ParseInt(name, 10, 64); err == nil {
		r, err := read.Numbered(ctx, project, n)
		if errors.Is(err, store.ErrNoRevision) {
			return r, usage(words.Text("store.no_revision", project, name))
		}
		return r, err
	}
	heads, err := read.Heads(ctx, project)
	if err != nil {
		return store.Revision{}, err
	}
	id, ok := heads[name]
	if !ok {
		return store.Revision{}, usage(words.Text("store.no_revision", project, name), words.Text("store.revision_hint"))
	}
	return read.Revision(ctx, id)
}
