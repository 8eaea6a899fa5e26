package app

import (
	"context"
	"errors"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"railwright/internal/design"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/modification"
	"railwright/internal/project"
	"railwright/internal/words"
)

// FreezeRequest asks that stations of the accepted design be marked as installed.
type FreezeRequest struct {
	Folder   string
	Stations []string // ids; none = all of the design
	Release  []string // ids of stations that are frozen and shall not be any more
	By       string   // who says so
	Progress func(Progress)
}

// FreezeResult is what is frozen afterwards.
type FreezeResult struct {
	Format   string   `json:"format"`
	Frozen   []string `json:"frozen"`   // ids of all frozen stations
	Added    []string `json:"added"`    // by this request
	Released []string `json:"released"` // by this request
	Signals  int      `json:"signals"`  // on frozen stations
	File     string   `json:"file"`
	IDs      bool     `json:"ids"` // the list got its column of ids written
}

// Freeze writes built.json: the accepted design with the stations that are installed as they are in it. The
// folder is planned again with that, in memory; only if nothing in the design changes are built.json and the
// accepted design (which now rests on built.json too) written.
func Freeze(ctx context.Context, r FreezeRequest) (*FreezeResult, error) {
	if r.Folder == "" {
		return nil, usage(words.Text("app.no_folder"), words.Text("app.folder_hint"))
	}
	src, err := open(r.Folder, false)
	if err != nil {
		return nil, err
	}
	d, of, err := src.current(ctx, r.Progress)
	if err != nil {
		return nil, err
	}
	if of != "accepted" {
		return nil, usage(words.Text("app.freeze_accept"), words.Text("app.freeze_accept_hint", r.Folder))
	}
	res, err := r.choose(src, d)
	if err != nil {
		return nil, err
	}
	if len(res.Frozen) == 0 {
		return nil, usage(words.Text("app.freeze_nothing"), words.Text("app.freeze_nothing_hint", filepath.Join(r.Folder, folder.BuiltFile)))
	}
	data, err := r.built(src, d, res.Frozen)
	if err != nil {
		return nil, err
	}
	return res, r.keep(ctx, src, d, data, res)
}

// choose settles which stations are frozen.
func (r FreezeRequest) choose(src *source, d *design.Design) (*FreezeResult, error) {
	known := map[string]int{}
	for _, st := range d.Stations {
		known[st.ID] = len(signalIDs(st))
	}
	want := r.Stations
	if len(want) == 0 && len(r.Release) == 0 {
		want = slices.Sorted(maps.Keys(known))
	}
	for _, id := range slices.Concat(want, r.Release) {
		if _, ok := known[id]; !ok {
			return nil, usage(words.Text("app.freeze_unknown", id, strings.Join(slices.Sorted(maps.Keys(known)), ", ")))
		}
	}
	res := &FreezeResult{Format: "railwright-freeze/1", Frozen: []string{}, Added: []string{}, Released: []string{}, File: filepath.Join(r.Folder, folder.BuiltFile)}
	for _, id := range slices.Sorted(maps.Keys(known)) {
		was, now := slices.Contains(src.frozen, id), slices.Contains(src.frozen, id) || slices.Contains(want, id)
		if slices.Contains(r.Release, id) {
			now = false
		}
		switch {
		case now && !was:
			res.Added = append(res.Added, id)
		case was && !now:
			res.Released = append(res.Released, id)
		}
		if now {
			res.Frozen = append(res.Frozen, id)
			res.Signals += known[id]
		}
	}
	return res, nil
}

func signalIDs(st design.Station) []string {
	var out []string
	for _, sl := range st.Slots {
		for _, c := range sl.Channels {
			if c.SignalID != "" {
				out = append(out, c.SignalID)
			}
		}
	}
	return out
}

func (r FreezeRequest) built(src *source, d *design.Design, stations []string) ([]byte, error) {
	kept := *d
	kept.Hardware = string(hardware.Encode(src.keep(d)))
	text, err := design.Encode(&kept)
	if err != nil {
		return nil, broken("encode the design", err)
	}
	data, err := modification.EncodeBuilt(modification.Built{Stations: stations, By: r.By, On: time.Now().Format(time.DateOnly), Design: text})
	if err != nil {
		return nil, broken("encode what is installed", err)
	}
	return data, nil
}

// keep plans the folder as it would be with built.json, and writes both files if the design stays.
func (r FreezeRequest) keep(ctx context.Context, src *source, d *design.Design, data []byte, res *FreezeResult) error {
	files, err := folder.ReadFiles(r.Folder)
	if err != nil {
		return broken(words.Text("app.cannot_read", r.Folder), err)
	}
	files[folder.BuiltFile] = data
	rows, filled := idsFilled(src.folder.Cells)
	if filled {
		for _, name := range folder.ListFiles {
			delete(files, name)
		}
		if files[folder.ListFile], err = folder.EncodeList(rows); err != nil {
			return broken("encode the signal list", err)
		}
	}
	f := folder.Parse(files)
	f.Dir = r.Folder
	next := newSource(r.Folder, f)
	if err := next.takeBuilt(); err != nil {
		return err
	}
	again, err := next.plan(ctx, r.Progress)
	if err != nil {
		return err
	}
	old, now := modification.StateOf(d), modification.StateOf(again)
	if differ := old.Differences(now); len(differ) > 0 {
		return &Fault{
			Kind: NoDesign, What: words.Text("app.freeze_moves", len(differ), strings.Join(differ[:min(5, len(differ))], ", ")),
			Err: errors.New(differ[0] + ": " + old[differ[0]] + " -> " + now[differ[0]]), Hints: []string{words.Text("app.freeze_moves_hint", r.Folder)},
			Findings: onlyErrors(again.Findings),
		}
	}
	if filled {
		if err := folder.SaveList(r.Folder, rows); err != nil {
			return outFault(r.Folder, err)
		}
		res.IDs = true
	}
	if err := folder.SaveBuilt(r.Folder, data); err != nil {
		return outFault(r.Folder, err)
	}
	_, err = next.accept(again)
	return err
}

// idsFilled writes each row's tag as its id where it has none yet: from now on the signal keeps its place
// through renames. It reports whether anything was written.
func idsFilled(cells [][]string) ([][]string, bool) {
	id, tag := -1, -1
	for i, c := range project.Columns() {
		switch c.Name {
		case "id":
			id = i
		case "tag":
			tag = i
		}
	}
	filled := false
	rows := make([][]string, len(cells))
	for n, row := range cells {
		rows[n] = row
		if len(row) > max(id, tag) && row[id] == "" && row[tag] != "" {
			rows[n] = slices.Clone(row)
			rows[n][id] = row[tag]
			filled = true
		}
	}
	return rows, filled
}
