package app

import (
	"context"
	"errors"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"railwright/internal/folder"
	"railwright/internal/store"
	"railwright/internal/store/merge"
	"railwright/internal/words"
)

// SaveRequest asks for a project folder to be saved as a revision.
type SaveRequest struct {
	Folder  string
	Store   string // file, or URL of a database; a file that is not there is begun
	Project string // id in the store; "" = where the folder comes from, or made of the project's name
	Author  string
	Note    string
	Time    time.Time
	// Take decides conflicts: "mine", "theirs", or the ids (or files) for which mine is right.
	Take []string
}

// SaveResult says what became of a save.
type SaveResult struct {
	store.Saved
	Project string
	New     bool     // the project is begun by this save
	Nothing bool     // the folder holds nothing that its revision does not
	Behind  int64    // with Nothing: so many revisions were saved since
	Merged  bool     // others had saved meanwhile, and their edits are in the folder now
	IDs     bool     // the column id was written into the list
	Written []string // files of the folder that the merge changed
}

// Save keeps a project folder as a revision on top of what it was made from. What others saved
// meanwhile is joined with it and comes into the folder. Conflicts that r.Take does not decide leave the
// folder and the head as they are; the folder's own version is kept aside in the store then.
func Save(ctx context.Context, r SaveRequest) (*SaveResult, error) {
	if r.Author == "" {
		return nil, usage(words.Text("store.no_author"), words.Text("store.no_author_hint"))
	}
	if err := folderFault(r.Folder); err != nil {
		return nil, err
	}
	r.Time = now(r.Time)
	res := &SaveResult{}
	parts, err := readParts(r.Folder)
	if err != nil {
		return nil, err
	}
	if res.IDs, err = withIDs(r.Folder, parts); err != nil {
		return nil, err
	}
	if res.IDs {
		if parts, err = readParts(r.Folder); err != nil {
			return nil, err
		}
	}
	s, err := OpenStore(ctx, r.Store, true)
	if err != nil {
		return nil, err
	}
	defer s.Close()
	sv := &saving{ctx: ctx, s: s, r: r, parts: parts, res: res, used: map[string]bool{}}
	if err := sv.save(); err != nil {
		return nil, StoreFault(r.Store, err)
	}
	return res, nil
}

// saving is one save with the store open.
type saving struct {
	ctx   context.Context
	s     store.Store
	r     SaveRequest
	parts store.Parts
	res   *SaveResult
	used  map[string]bool // of r.Take
}

func (sv *saving) save() error {
	base, err := sv.base()
	if err != nil {
		return err
	}
	d := store.Draft{Project: sv.res.Project, Head: store.Main, Parts: sv.parts, Author: sv.r.Author, Time: sv.r.Time, Note: sv.r.Note}
	if base != nil {
		d.Parent = base.ID
		heads, err := sv.s.Heads(sv.ctx, base.Project)
		if err != nil {
			return err
		}
		if base.Parts.Equal(sv.parts) && sv.onHead(base.ID, heads) {
			sv.res.Nothing = true
			return sv.behind(base, heads)
		}
	}
	saved, err := store.SaveMerged(sv.ctx, sv.s, d, sv.join)
	if err != nil {
		return err
	}
	sv.res.Saved = saved
	if saved.Open > 0 {
		return nil
	}
	return sv.update()
}

// onHead reports whether a revision is the head or was it: one that was kept aside is not, and is worth
// another try.
func (sv *saving) onHead(id store.ID, heads map[string]store.ID) bool {
	at := heads[store.Main]
	for at != "" && at != id {
		r, err := sv.s.Revision(sv.ctx, at)
		if err != nil {
			return false
		}
		at = r.Parent
	}
	return at == id
}

// behind counts what was saved since the folder's revision.
func (sv *saving) behind(base *store.Revision, heads map[string]store.ID) error {
	head, err := sv.s.Revision(sv.ctx, heads[store.Main])
	if err != nil {
		return err
	}
	sv.res.Revision, sv.res.Behind = *base, head.Number-base.Number
	return nil
}

// base finds the revision that the folder was made from, or begins the project.
func (sv *saving) base() (*store.Revision, error) {
	st, err := readState(sv.r.Folder)
	if err != nil {
		return nil, err
	}
	if st == nil {
		return nil, sv.begin()
	}
	if sv.r.Project != "" && sv.r.Project != st.Project {
		return nil, usage(words.Text("store.other_project", sv.r.Folder, st.Project, sv.r.Project), words.Text("store.other_project_hint", filepath.Join(sv.r.Folder, stateFile)))
	}
	sv.res.Project = st.Project
	r, err := sv.s.Revision(sv.ctx, st.Revision)
	if errors.Is(err, store.ErrNoRevision) {
		return nil, usage(words.Text("store.other_store", st.Number, st.Project), words.Text("store.other_store_hint", filepath.Join(sv.r.Folder, stateFile)))
	}
	return &r, err
}

func (sv *saving) begin() error {
	name := ""
	if files, err := filesOf(store.Parts{folder.ProjectFile: sv.parts[folder.ProjectFile]}, func(p store.Part) ([]byte, error) { return p.Data, nil }); err == nil {
		name = folder.Parse(files).Project.Name
	}
	id := sv.r.Project
	if id == "" {
		if id = slug(name); id == "" {
			abs, err := filepath.Abs(sv.r.Folder)
			if err != nil {
				return broken(words.Text("app.cannot_read", sv.r.Folder), err)
			}
			id = slug(filepath.Base(abs))
		}
	}
	if id == "" {
		return usage(words.Text("store.no_project_id"))
	}
	sv.res.Project, sv.res.New = id, true
	err := sv.s.NewProject(sv.ctx, store.Project{ID: id, Name: oneLine(name), Created: store.Clock(sv.r.Time)})
	if errors.Is(err, store.ErrExists) {
		if all, lerr := sv.s.Latest(sv.ctx, id, 0, 1); lerr == nil && len(all) == 0 {
			return nil // begun, but never saved
		}
		return usage(words.Text("store.project_exists", id), words.Text("store.project_exists_hint", id))
	}
	return err
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

var notSlug = regexp.MustCompile(`[^\p{L}\p{N}]+`)

// slug makes an id of a name: small letters and digits with hyphens.
func slug(name string) string {
	s := strings.Trim(notSlug.ReplaceAllString(strings.ToLower(name), "-"), "-")
	for len(s) > 60 {
		s = s[:strings.LastIndexFunc(s[:len(s)-1], func(rune) bool { return true })]
	}
	return strings.Trim(s, "-")
}

// side decides conflicts as asked.
func (sv *saving) side() Side {
	if len(sv.r.Take) == 0 {
		return nil
	}
	return func(c store.Conflict) merge.Side {
		switch {
		case slices.Equal(sv.r.Take, []string{"mine"}):
			return merge.Mine
		case slices.Equal(sv.r.Take, []string{"theirs"}):
			return merge.Theirs
		}
		for _, name := range []string{c.ID, c.Part} {
			if name != "" && slices.Contains(sv.r.Take, name) {
				sv.used[name] = true
				return merge.Mine
			}
		}
		return merge.Theirs
	}
}

// join joins as MergeParts does, and refuses names in r.Take that no conflict has: one of them may be
// misspelled, and the other side's version would be taken for it.
func (sv *saving) join(in store.Three) (store.Parts, []store.Conflict, error) {
	clear(sv.used)
	out, all, err := MergeParts(sv.side())(in)
	for _, name := range sv.r.Take {
		if err == nil && name != "mine" && name != "theirs" && !sv.used[name] {
			return nil, nil, usage(words.Text("store.bad_take", name))
		}
	}
	return out, all, err
}

// update brings the folder to the revision that was saved.
func (sv *saving) update() error {
	r := sv.res.Revision
	sv.res.Merged = sv.res.Kept != nil
	written, err := replaceParts(sv.r.Folder, sv.parts, r.Parts, func(p store.Part) ([]byte, error) { return sv.s.Part(sv.ctx, p.Hash) })
	if err != nil {
		// The store is ahead of the folder: what is kept of it is where the next save starts from.
		if sv.res.Kept != nil {
			err = errors.Join(err, writeState(sv.r.Folder, *sv.res.Kept))
		}
		return err
	}
	sv.res.Written = written
	return writeState(sv.r.Folder, r)
}

// now is the time of a request without one.
func now(t time.Time) time.Time {
	if t.IsZero() {
		return time.Now()
	}
	return t
}
