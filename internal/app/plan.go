package app

import (
	"context"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/project"
	"railwright/internal/schedule"
	"railwright/internal/words"
)

// Version names this build: the module's version where it was built from one, else "dev".
func Version() string {
	if info, ok := debug.ReadBuildInfo(); ok && strings.HasPrefix(info.Main.Version, "v") {
		return info.Main.Version
	}
	return "dev"
}

// Progress is a step of work that lasts.
type Progress struct {
	Stage       string // what is being done, in words
	Done, Total int64
}

// PlanRequest asks for a design.
type PlanRequest struct {
	Folder    string         // project folder
	Example   bool           // the built-in example instead of a folder
	Out       string         // folder for design.json and the schedules; "" = none
	Accept    bool           // keep the design as accepted.json; refused if it has error findings
	Overwrite bool           // with Out: replace foreign files too
	Progress  func(Progress) // may be nil; may be called from several goroutines
}

// PlanResult is a design and what was done with it.
type PlanResult struct {
	Design  *design.Design
	Project *project.Project
	JSON    []byte // the design as design.json holds it
	Folder  string
	Example bool

	WroteOut, WroteAccepted bool
	Written                 []string // what was written, in words

	source *source
}

// Plan reads a folder, makes its design and, as asked, writes or accepts it. Nothing is written
// unless the whole design could be made.
func Plan(ctx context.Context, r PlanRequest) (*PlanResult, error) {
	if err := r.valid(); err != nil {
		return nil, err
	}
	src, err := open(r.Folder, r.Example)
	if err != nil {
		return nil, err
	}
	d, err := src.plan(ctx, r.Progress)
	if err != nil {
		return nil, err
	}
	res := &PlanResult{Design: d, Project: src.project, Folder: r.Folder, Example: r.Example, source: src}
	if res.JSON, err = design.Encode(d); err != nil {
		return nil, broken("encode the design", err)
	}
	if r.Out != "" {
		if err := res.write(r.Out, r.Overwrite); err != nil {
			return nil, err
		}
	}
	if r.Accept {
		if d.Findings.HasErrors() {
			return nil, &Fault{Kind: NoDesign, What: words.Text("app.accept_errors"), Hints: []string{words.Text("app.accept_hint", r.Folder)}, Findings: onlyErrors(d.Findings)}
		}
		if !d.Input.Complete {
			return nil, usage(words.Text("app.accept_incomplete"))
		}
		path, err := src.accept(d)
		if err != nil {
			return nil, err
		}
		res.WroteAccepted = true
		res.Written = append(res.Written, words.Text("app.wrote_accepted", path))
	}
	return res, nil
}

func (r PlanRequest) valid() error {
	switch {
	case r.Folder == "" && !r.Example:
		return usage(words.Text("app.no_folder"), words.Text("app.folder_hint"), words.Text("app.example_hint"))
	case r.Folder != "" && r.Example:
		return usage(words.Text("app.both"))
	case r.Accept && r.Example:
		return usage(words.Text("app.accept_example"), words.Text("app.folder_hint"))
	}
	return nil
}

func (res *PlanResult) write(dir string, overwrite bool) error {
	files, err := outTables(res.Design, res.source.tables(res.Design, res.source.hardware, schedule.MM2))
	if err != nil {
		return broken("make the schedules", err)
	}
	if err := writeSet(dir, files, overwrite); err != nil {
		return err
	}
	res.WroteOut = true
	res.Written = append(res.Written, words.Text("app.wrote_out", words.Count(len(files)-2, "CSV file"), dir))
	return nil
}

func onlyErrors(all finding.List) finding.List {
	var out finding.List
	for _, f := range all {
		if f.Severity == finding.Error {
			out = append(out, f)
		}
	}
	return out
}

// folderFault says what is wrong with a folder's name: it is not there, or it is no project.
func folderFault(dir string) error {
	info, err := os.Stat(dir)
	if err != nil || !info.IsDir() {
		return usage(words.Text("app.missing", dir), words.Text("app.folder_hint"), words.Text("app.example_hint"))
	}
	if _, err := os.Stat(filepath.Join(dir, "project.toml")); err != nil {
		return usage(words.Text("app.not_project", dir), words.Text("app.folder_hint"), words.Text("app.example_hint"))
	}
	return nil
}
