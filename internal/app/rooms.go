package app

import (
	"bytes"
	"context"
	"errors"
	"path/filepath"
	"slices"

	"railwright/internal/demo"
	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/modification"
	"railwright/internal/plan"
	"railwright/internal/project"
	"railwright/internal/words"
)

// source is a project as read, with its hardware list and what reading found.
type source struct {
	dir      string
	folder   *folder.Folder
	project  *project.Project
	hardware *hardware.List
	findings finding.List
	built    *design.Design // what is installed; nil = nothing
	frozen   []string       // ids of the stations that stay as they are installed
}

// open reads a project folder, or the built-in example.
func open(dir string, example bool) (*source, error) {
	if example {
		files := folder.Files{}
		for _, f := range exampleFiles() {
			files[f.Name] = f.Data
		}
		return newSource("", folder.Parse(files)), nil
	}
	f, err := folder.Read(dir)
	switch {
	case errors.Is(err, folder.ErrMissing):
		return nil, folderFault(dir)
	case err != nil:
		return nil, broken(words.Text("app.cannot_read", dir), err)
	}
	s := newSource(dir, f)
	return s, s.takeBuilt()
}

func newSource(dir string, f *folder.Folder) *source {
	list, found := hardware.Load(hardware.Builtin(), folder.HardwareFile, f.Hardware)
	s := &source{dir: dir, folder: f, project: f.Project, hardware: list}
	s.findings = append(slices.Clone(f.Findings), found...)
	s.findings.Sort()
	return s
}

// takeBuilt takes in what built.json says: decisions that keep what is installed, and the hardware as it
// was then, over which only the folder's own hardware.toml goes.
func (s *source) takeBuilt() error {
	if s.folder.Built == nil {
		return nil
	}
	b, d, err := modification.DecodeBuilt(s.folder.Built)
	if err != nil {
		return &Fault{
			Kind: NoDesign, What: words.Text("app.bad_built", filepath.Join(s.dir, folder.BuiltFile)), Err: err, Hints: []string{words.Text("app.bad_built_hint")},
		}
	}
	then, found := hardware.Load(hardware.Builtin(), folder.BuiltFile, []byte(d.Hardware))
	list, more := hardware.Load(then, folder.HardwareFile, s.folder.Hardware)
	s.hardware = list
	s.findings = append(append(slices.Clone(s.folder.Findings), found...), more...)
	s.findings.Sort()
	s.built, s.frozen = d, b.Stations
	listed := map[string]bool{}
	for _, sig := range s.project.Signals {
		listed[sig.ID] = true
	}
	s.project.Choices = append(slices.Clone(s.project.Choices), modification.Frozen(d, b.Stations, func(id string) bool { return listed[id] })...)
	return nil
}

func (s *source) name() string {
	if s.dir == "" {
		return words.Text("app.the_example")
	}
	return s.dir
}

// plan makes the design of the source. The design accepted before, if there is one, is what it
// keeps to.
func (s *source) plan(ctx context.Context, step func(Progress)) (*design.Design, error) {
	previous, previousSum, err := s.accepted()
	if err != nil {
		return nil, err
	}
	if previous == nil {
		previous = s.built
	}
	opt := plan.Options{
		Previous: previous, Findings: s.findings, Unplaced: s.folder.LeftOut,
		Input: design.Input{
			SHA256: s.folder.SHA256, PreviousSHA256: previousSum, HardwareSHA256: hardware.SHA256(s.hardware), Tool: "railwright " + Version(),
		},
		Cancelled: func() bool { return ctx.Err() != nil },
	}
	if step != nil {
		opt.Progress = func(p plan.Progress) {
			step(Progress{Stage: words.Text("phase." + p.Phase), Done: p.Done, Total: p.Total})
		}
	}
	d, err := plan.Run(s.project, s.hardware, opt)
	var impossible *plan.Impossible
	switch {
	case errors.As(err, &impossible):
		return nil, &Fault{Kind: NoDesign, What: words.Text("app.no_design", s.name()) + ": " + impossible.Why, Hints: []string{impossible.Mend}, Findings: onlyErrors(s.findings)}
	case err != nil:
		return nil, broken(words.Text("app.no_design", s.name()), err)
	}
	return d, nil
}

// accepted returns the design accepted before and the hash of its file; nil where there is none.
func (s *source) accepted() (*design.Design, string, error) {
	if s.folder.Accepted == nil {
		return nil, "", nil
	}
	d, err := design.Decode(s.folder.Accepted)
	if err != nil {
		return nil, "", &Fault{
			Kind: NoDesign, What: words.Text("app.bad_accepted", filepath.Join(s.dir, folder.AcceptedFile)), Err: err,
			Hints: []string{words.Text("app.bad_accepted_hint")},
		}
	}
	return d, sumOf(s.folder.Accepted), nil
}

// current is the accepted design if it was made from the folder as it is now, or a new plan where
// none is accepted. The second value says which: "accepted" or "plan".
func (s *source) current(ctx context.Context, step func(Progress)) (*design.Design, string, error) {
	d, _, err := s.accepted()
	if err != nil {
		return nil, "", err
	}
	if d == nil {
		d, err = s.plan(ctx, step)
		return d, "plan", err
	}
	if d.Input.SHA256 != s.folder.SHA256 {
		return nil, "", &Fault{
			Kind: NoDesign, What: words.Text("app.stale", s.name()), Findings: s.findings,
			Hints: []string{words.Text("app.stale_hint", s.dir)},
		}
	}
	return d, "accepted", nil
}

// accept writes the design as accepted.json, with the hardware entries that it uses by value, so
// that a later version of the built-in list changes nothing in it. Where the accepted design is the
// same but for its history (the one before it, the steps of the search), the file stays as it is. It returns the file's path.
func (s *source) accept(d *design.Design) (string, error) {
	path := filepath.Join(s.dir, folder.AcceptedFile)
	kept := *d
	kept.Hardware = string(hardware.Encode(s.keep(d)))
	if old, _, err := s.accepted(); err == nil && old != nil {
		same := kept
		same.Input.PreviousSHA256, same.Input.Steps = old.Input.PreviousSHA256, old.Input.Steps
		if data, err := design.Encode(&same); err == nil && bytes.Equal(data, s.folder.Accepted) {
			return path, nil
		}
	}
	data, err := design.Encode(&kept)
	if err != nil {
		return "", broken("encode the design", err)
	}
	if err := folder.SaveAccepted(s.dir, data); err != nil {
		return "", outFault(s.dir, err)
	}
	return path, nil
}

// codes returns the codes of the hardware that a design uses.
func codes(d *design.Design) []string {
	var all []string
	for _, s := range d.Stations {
		all = append(all, s.Construction, s.Coupler, s.EndPiece, s.Enclosure)
		for _, sl := range s.Slots {
			all = append(all, sl.Module, sl.Base)
		}
	}
	for _, p := range d.Parts {
		all = append(all, p.Code)
	}
	for _, c := range d.Cables {
		all = append(all, c.Type)
	}
	all = append(all, d.Network.Profile)
	slices.Sort(all)
	return slices.Compact(all)
}

// exampleFiles are the files of the built-in example.
func exampleFiles() []File {
	var files []File
	for _, f := range demo.Files() {
		files = append(files, File{Name: f.Name, Data: f.Data})
	}
	return files
}
