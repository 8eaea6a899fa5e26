package app

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/folder"
	"railwright/internal/intake"
	"railwright/internal/intake/fromtable"
	"railwright/internal/project"
	"railwright/internal/tabular"
	"railwright/internal/words"
)

// ImportRequest asks for a list to be brought into a project folder.
type ImportRequest struct {
	File   string   // path of the list; its base name where Data is given
	Data   []byte   // the list's bytes, for faces that do not read files; nil reads File
	Into   string   // project folder; a new one is begun where there is none
	Place  string   // place of signals whose row names none
	Sheets []string // sheets to read; nil reads all that hold a table
	Source string   // name under which what the list says is kept; "" takes it from the file's name
	Base   string   // path of the list as it was given out, where the folder does not know; "" = none
}

// Import is a list as understood, beside the project that it would change. Nothing is written until
// Write.
type Import struct {
	Into, File string
	Source     string           // name under which what the list says is kept
	New        bool             // the folder is begun by this import
	Before     bool             // the source was imported before: the comparison is three-way
	Result     *intake.Result   // how the list was understood
	Preview    *intake.Preview  // what would change; questions are its changes that Ask names
	Findings   finding.List     // of reading and of comparing
	NewPlaces  []string         // places of the list that the project does not have
	NoPlace    []project.Signal // signals without a place, which no project can hold
	Signals    int              // signals of the list that can be used
	Stay       int              // signals of the project that a source imported for the first time does not hold
	Mended     int              // faulty rows of the project that the list replaces
	Positions  int              // positions of the list that become preferred choices
	Written    []string         // files written, relative to Into

	book       *tabular.Book
	folder     *folder.Folder // nil for a new one
	cells      *packedRows    // of the list of the folder
	columns    map[string]string
	base       *folder.Base
	known      bool              // something is kept of the source
	guessed    bool              // the source was found by the file's name
	faulty     map[string]bool   // ids of the project's faulty rows that take part
	positionAt []int32           // beside Result.Signals: where their positions begin in Result.Decisions
	print      [sha256.Size]byte // of the folder's files
}

// PrepareImport reads a list and compares it with the project in the folder. It returns a Usage
// fault where the list cannot be read or holds no signal table.
func PrepareImport(r ImportRequest) (*Import, error) {
	m := &Import{Into: r.Into, File: filepath.Base(r.File), Source: r.Source}
	if r.Into == "" {
		return nil, usage(words.Text("import.no_folder"), words.Text("import.no_folder_hint", r.File))
	}
	if err := m.open(); err != nil {
		return nil, err
	}
	if err := m.source(); err != nil {
		return nil, err
	}
	opt := intake.Options{Place: r.Place, Sheets: r.Sheets, Columns: maps.Clone(m.columns)}
	if m.folder != nil {
		opt.Places = m.folder.Project.Places
		if err := m.knownPlace(r.Place); err != nil {
			return nil, err
		}
		if opt.Columns == nil {
			opt.Columns = map[string]string{}
		}
		maps.Copy(opt.Columns, m.folder.Columns)
	}
	if err := m.read(r, opt); err != nil {
		return nil, err
	}
	if err := m.past(); err != nil {
		return nil, err
	}
	if err := m.compare(r.Base); err != nil {
		return nil, err
	}
	return m, nil
}

// open reads the project folder; one that does not exist yet, or is empty, is begun.
func (m *Import) open() error {
	entries, err := os.ReadDir(m.Into)
	switch {
	case errors.Is(err, fs.ErrNotExist) || err == nil && len(entries) == 0:
		m.New = true
		return nil
	case err != nil:
		return outFault(m.Into, err)
	}
	if m.print, err = fingerprint(m.Into); err != nil {
		return broken(words.Text("app.cannot_read", m.Into), err)
	}
	f, err := folder.Read(m.Into)
	if errors.Is(err, folder.ErrMissing) {
		return usage(words.Text("app.not_project", m.Into), words.Text("import.new_hint"), words.Text("app.folder_hint"))
	}
	if err != nil {
		return broken(words.Text("app.cannot_read", m.Into), err)
	}
	if f.ListFile != "" && len(f.Cells) == 0 && listUnreadable(f.Findings) {
		return &Fault{Kind: Usage, What: words.Text("import.list_unreadable", filepath.Join(m.Into, f.ListFile)), Findings: onlyErrors(f.Findings), Hints: []string{words.Text("import.list_unreadable_hint")}}
	}
	m.folder, m.cells = f, pack(f.Cells)
	f.Cells, f.Findings = nil, nil // packed: they are needed only if the list is written
	return nil
}

// listUnreadable reports whether the folder's own list could not be read at all: writing would lose it.
func listUnreadable(all finding.List) bool {
	for _, f := range all {
		if f.Rule == "PRJ-052" || f.Rule == "LST-050" {
			return true
		}
	}
	return false
}

func (m *Import) knownPlace(id string) error {
	if id == "" {
		return nil
	}
	var ids []string
	for _, p := range m.folder.Project.Places {
		if p.ID == id {
			return nil
		}
		ids = append(ids, p.ID)
	}
	return usage(words.Text("import.no_such_place", id), words.Text("import.places", strings.Join(ids, ", ")))
}

// read reads the list.
func (m *Import) read(r ImportRequest, opt intake.Options) error {
	data := r.Data
	if data == nil {
		var err error
		if data, err = readList(r.File); err != nil {
			return err
		}
	}
	book, res, err := fromtable.Import(m.File, data, opt)
	var bad *tabular.Error
	switch {
	case errors.As(err, &bad):
		f := usage(bad.Error())
		if bad.Remedy != "" {
			f.What = strings.TrimSuffix(strings.TrimSuffix(f.What, bad.Remedy), " ")
			f.Hints = []string{words.Sentence(bad.Remedy)}
		}
		return f
	case err != nil:
		return broken(words.Text("app.cannot_read", m.File), err)
	}
	for _, s := range r.Sheets {
		if !slices.ContainsFunc(book.Sheets, func(b *tabular.Sheet) bool { return b.Name == s }) {
			var names []string
			for _, b := range book.Sheets {
				names = append(names, b.Name)
			}
			return usage(words.Text("import.no_sheet", m.File, s), words.Text("import.sheets", strings.Join(names, ", ")))
		}
	}
	m.book, m.Result, m.Signals = book, res, len(res.Signals)
	m.Findings = append(m.Findings, res.Findings...)
	m.laterIssue()
	if len(res.Signals) == 0 {
		return &Fault{Kind: Usage, What: words.Text("import.no_signals", m.File), Findings: withoutInfos(m.Findings)}
	}
	return nil
}

// readList reads a file up to the limit of the table reader.
func readList(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, usage(words.Text("import.no_file", path))
	case err == nil && info.IsDir():
		return nil, usage(words.Text("import.is_folder", path))
	case err == nil && info.Size() > tabular.MaxFileBytes:
		return nil, usage(words.Text("import.too_large", path, tabular.MaxFileBytes>>20))
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, &Fault{Kind: Usage, What: words.Text("app.cannot_read", path), Err: err}
	}
	return data, nil
}

func withoutInfos(all finding.List) finding.List {
	return slices.DeleteFunc(slices.Clone(all), func(f finding.Finding) bool { return f.Severity == finding.Info })
}

// compare compares the list with the project, and says which places are new.
func (m *Import) compare(basePath string) error {
	var mine []project.Signal
	known := map[string]bool{}
	if m.folder != nil {
		mine = m.projectSignals()
		for _, p := range m.folder.Project.Places {
			known[p.ID] = true
		}
	}
	var base *intake.Past
	switch {
	case basePath != "":
		data, err := readList(basePath)
		if err != nil {
			return err
		}
		_, res, err := fromtable.Import(filepath.Base(basePath), data, intake.Options{})
		if err != nil {
			return usage(err.Error())
		}
		base, m.Before = intake.PastOf(res.Signals), true
	case m.Result.Ours:
		// It was given out by the project, so what it said when it last came back is no base for it.
	case m.base != nil:
		base, m.Before = m.base.Past, true
	}
	m.Preview = intake.CompareWith(base, mine, m.Result.Signals)
	if !m.Before && !m.Result.Ours {
		m.firstTime(len(mine))
	}
	m.Findings = append(m.Findings, m.Preview.Findings...)
	m.Findings.Sort()
	m.Positions = len(m.newChoices())
	m.faultyRows()
	m.places(known)
	return nil
}

// projectSignals are the project's signals in the list's order, those of faulty rows as far as their
// cells can be read: a list may mend them.
func (m *Import) projectSignals() []project.Signal {
	if len(m.folder.Project.Signals) == m.cells.len() {
		return m.folder.Project.Signals // all are sound, and in the list's order
	}
	sound := map[string]int{}
	for i, s := range m.folder.Project.Signals {
		sound[s.ID] = i
	}
	count := map[string]int{}
	rows := intake.Signals(project.ColumnNames(), m.cells.rows())
	for _, s := range rows {
		count["i"+s.ID]++
		count["t"+s.Tag]++
	}
	m.faulty = map[string]bool{}
	var out []project.Signal
	for _, s := range rows {
		if i, ok := sound[s.ID]; ok {
			out = append(out, m.folder.Project.Signals[i])
		} else if s.ID != "" && s.Tag != "" && count["i"+s.ID] == 1 && count["t"+s.Tag] == 1 {
			m.faulty[s.ID] = true
			out = append(out, s)
		}
	}
	return out
}

// firstTime settles what the first list of a source leaves open: signals of the project that it does
// not hold stay, for it may be one department's part; and likeness says little where hardly a tag is
// common to both.
func (m *Import) firstTime(mine int) {
	p := m.Preview
	gone := p.Count(intake.Removed)
	alike := (mine-gone)*3 >= len(m.Result.Signals)
	p.Changes = slices.DeleteFunc(p.Changes, func(c intake.Change) bool {
		return c.Kind == intake.Renamed && !alike
	})
	if !alike {
		p.Findings = slices.DeleteFunc(p.Findings, func(f finding.Finding) bool { return f.Rule == "IMP-080" })
	}
	asked := map[string]bool{}
	for _, c := range p.Changes {
		if c.Kind == intake.Renamed {
			asked[c.ID] = true
		}
	}
	p.Changes = slices.DeleteFunc(p.Changes, func(c intake.Change) bool {
		stays := c.Kind == intake.Removed && !asked[c.ID]
		if stays {
			m.Stay++
		}
		return stays
	})
}

// places finds signals without a place and places that the project does not have, among those that
// are added or get another place.
func (m *Import) places(known map[string]bool) {
	seen, lost := map[string]bool{}, map[string]bool{}
	for _, c := range m.Preview.Changes {
		j := c.Incoming()
		if j < 0 {
			continue
		}
		s := m.Result.Signals[j]
		touched := c.Kind == intake.Added || slices.ContainsFunc(c.Cells, func(x intake.CellChange) bool { return x.Column == "place" && x.New != "" })
		switch {
		case !touched:
		case s.Place == "":
			m.NoPlace = append(m.NoPlace, s)
			lost[c.ID] = true
		case !known[s.Place] && !seen[s.Place]:
			seen[s.Place] = true
			m.NewPlaces = append(m.NewPlaces, s.Place)
		}
	}
	if len(m.NoPlace)*2 < len(m.Result.Signals) {
		m.rejectPlaceless(lost)
	}
}

// rejectPlaceless turns the few signals without a place into rejected rows, where the list names
// places otherwise: a row without one is faulty in every list.
func (m *Import) rejectPlaceless(lost map[string]bool) {
	m.Preview.Changes = slices.DeleteFunc(m.Preview.Changes, func(c intake.Change) bool { return c.Kind == intake.Added && lost[c.ID] })
	m.Signals -= len(m.NoPlace)
	for _, s := range m.NoPlace {
		msg := words.Text("import.row_without_place", s.Tag)
		f := finding.Finding{Rule: "LST-001", Severity: finding.Error, Subject: "signal:" + s.ID, Where: s.At.Where("tag"), Message: msg, Remedy: finding.Remedy{Text: words.Text("import.row_without_place_hint")}}
		m.Result.Findings = append(m.Result.Findings, f)
		m.Findings = append(m.Findings, f)
		rj := intake.Rejected{Sheet: s.At.Sheet, Row: s.At.Row, Why: []string{msg}}
		for _, b := range m.book.Sheets {
			if b.Name == s.At.Sheet {
				for c := range min(b.Width(s.At.Row-1), 400) {
					rj.Cells = append(rj.Cells, b.Text(s.At.Row-1, c))
				}
			}
		}
		m.Result.Rejected = append(m.Result.Rejected, rj)
	}
	m.NoPlace = nil
	m.Result.Findings.Sort()
	m.Findings.Sort()
}

// faultyRows counts the project's faulty rows that the list replaces.
func (m *Import) faultyRows() {
	if m.folder == nil {
		return
	}
	left := map[string]bool{}
	for _, u := range m.folder.LeftOut {
		left[u.Signal], left[u.Tag] = true, true
	}
	delete(left, "")
	for _, c := range m.Preview.Changes {
		if c.Kind == intake.Added && (left[c.ID] || left[c.Tag]) || c.Kind == intake.Changed && m.faulty[c.ID] {
			m.Mended++
		}
	}
}

// Questions are the changes that a person has to decide: renames, cells that both sides changed,
// and signals that are gone from a list which may never have held them.
func (m *Import) Questions() []int {
	var out []int
	for i := range m.Preview.Changes {
		if m.Asks(i) {
			out = append(out, i)
		}
	}
	return out
}

// Asks reports whether change i has a question in it.
func (m *Import) Asks(i int) bool {
	c := &m.Preview.Changes[i]
	switch c.Kind {
	case intake.Renamed:
		return true
	case intake.Removed:
		return !c.Take && !slices.ContainsFunc(m.Preview.Changes, func(o intake.Change) bool { return o.Kind == intake.Renamed && o.ID == c.ID })
	}
	return slices.ContainsFunc(c.Cells, func(x intake.CellChange) bool { return x.Conflict })
}

// Answer decides all questions at once: the list is right, or the project stays as it is. A rename
// that is not taken leaves the old signal and adds the new one.
func (m *Import) Answer(list bool) {
	for i := range m.Preview.Changes {
		m.AnswerOne(i, list)
	}
}

// AnswerOne decides the question in change i; a change without one stays as it is.
func (m *Import) AnswerOne(i int, list bool) {
	c := &m.Preview.Changes[i]
	switch {
	case !m.Asks(i):
	case c.Kind == intake.Renamed:
		m.Preview.Settle(i, list)
	case c.Kind == intake.Removed:
		c.Take = list
	default:
		for n := range c.Cells {
			if c.Cells[n].Conflict {
				c.Cells[n].Take = list
			}
		}
	}
}

// Changes reports whether Write would change the project.
func (m *Import) Changes() bool {
	if m.New || len(m.newChoices()) > 0 {
		return true
	}
	for _, c := range m.Preview.Changes {
		if c.Take && (c.Kind != intake.Changed || slices.ContainsFunc(c.Cells, func(x intake.CellChange) bool { return x.Take })) {
			return true
		}
	}
	return false
}

// PlaceFault says that signals have no place; nil where all have one.
func (m *Import) PlaceFault() error {
	if len(m.NoPlace) == 0 {
		return nil
	}
	var tags []string
	for _, s := range m.NoPlace {
		tags = append(tags, s.Tag)
	}
	hints := []string{words.Text("import.place_hint")}
	if m.folder != nil {
		var ids []string
		for _, p := range m.folder.Project.Places {
			ids = append(ids, p.ID)
		}
		hints = append(hints, words.Text("import.places", strings.Join(ids, ", ")))
	}
	return usage(fmt.Sprintf("%s: %s", words.Text("import.no_place", words.Count(len(tags), "signal")), strings.Join(firstOf(tags, 5), ", ")), hints...)
}
