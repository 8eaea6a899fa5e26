package app

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
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

// Write makes the changes that are to be taken, and keeps what the list said for the next time. The
// list comes first and what it said comes last, so that a run which is cut off can be repeated.
func (m *Import) Write() error {
	if err := m.PlaceFault(); err != nil {
		return err
	}
	if err := m.unchanged(); err != nil {
		return err
	}
	steps := []func() error{m.writeProject, m.writeList, m.writeChoices, m.writeKept}
	for _, step := range steps {
		if err := step(); err != nil {
			return outFault(m.Into, err)
		}
	}
	return nil
}

// unchanged makes sure that the folder is still the one that was compared with.
func (m *Import) unchanged() error {
	if m.folder == nil {
		if entries, err := os.ReadDir(m.Into); err == nil && len(entries) > 0 {
			return usage(words.Text("import.changed_since", m.Into), words.Text("import.again"))
		}
		return nil
	}
	now, err := fingerprint(m.Into)
	if err != nil {
		return broken(words.Text("app.cannot_read", m.Into), err)
	}
	if now != m.print {
		return usage(words.Text("import.changed_since", m.Into), words.Text("import.again"))
	}
	return nil
}

// fingerprint is a hash of the files of a project folder as they lie there.
func fingerprint(dir string) ([sha256.Size]byte, error) {
	h := sha256.New()
	names := append([]string{folder.ProjectFile, folder.ChoicesFile, folder.HardwareFile, folder.BuiltFile}, folder.ListFiles...)
	for _, name := range names {
		f, err := os.Open(filepath.Join(dir, name))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return [sha256.Size]byte{}, err
		}
		fmt.Fprintf(h, "%s\n", name)
		n, err := io.Copy(h, f)
		f.Close()
		if err != nil {
			return [sha256.Size]byte{}, err
		}
		fmt.Fprintf(h, "\n%d\n", n)
	}
	return [sha256.Size]byte(h.Sum(nil)), nil
}

func (m *Import) writeProject() error {
	if !m.New {
		return nil
	}
	name := filepath.Base(filepath.Clean(m.Into))
	if abs, err := filepath.Abs(m.Into); err == nil {
		name = filepath.Base(abs)
	}
	if err := folder.SaveNewProject(m.Into, folder.Skeleton(name, m.File, slices.Sorted(slices.Values(m.NewPlaces)))); err != nil {
		return err
	}
	m.Written = append(m.Written, folder.ProjectFile)
	return nil
}

func (m *Import) writeList() error {
	if m.folder != nil && m.folder.ListFile != "" && !m.listChanges() {
		return nil
	}
	if err := folder.SaveRows(m.Into, func(yield func([]string)) { m.Preview.EachRow(m.cells.all, m.Result.Stated, yield) }); err != nil {
		return err
	}
	m.Written = append(m.Written, folder.ListFile)
	return nil
}

// listChanges reports whether the signal list itself changes.
func (m *Import) listChanges() bool {
	for _, c := range m.Preview.Changes {
		if c.Take && (c.Kind != intake.Changed || slices.ContainsFunc(c.Cells, func(x intake.CellChange) bool { return x.Take })) {
			return true
		}
	}
	return false
}

// by is who decided a choice that came from this source.
func (m *Import) by() string { return "import " + m.Source }

// newChoices are the positions of the list as preferred choices, for the signals that are in the
// project afterwards. What a hand has decided stays; what the source said before and a person has
// taken out since stays out.
func (m *Import) newChoices() []project.Decision {
	type key struct{ subject, property string }
	have := map[key]project.Decision{}
	if m.folder != nil {
		for _, d := range m.folder.Project.Choices {
			have[key{d.Subject, d.Property}] = d
		}
	}
	out := make([]project.Decision, 0, len(m.Result.Decisions))
	ids := m.Preview.FinalIDs()
	by, reason := m.by(), words.Text("import.position_reason", m.File)
	for i := range m.Result.Signals {
		id := ids[i]
		if id == "" {
			continue
		}
		own := m.positionsOf(i)
		for n := range own {
			d := own[n]
			if d.Subject != "signal:"+id {
				d.Subject = "signal:" + id
			}
			d.Origin, d.By, d.File, d.Line, d.Reason = project.FromHand, by, "", 0, reason
			old, is := have[key{d.Subject, d.Property}]
			if is && (old.By != d.By || old.Value == d.Value) || !is && m.saidBefore(m.Result.Signals[i].ID, id, d) {
				continue
			}
			out = append(out, d)
		}
	}
	return out
}

// positionsOf are the positions that the list gives its signal i. They stand in the signals' order.
func (m *Import) positionsOf(i int) []project.Decision {
	if m.positionAt == nil {
		all := m.Result.Decisions
		m.positionAt = make([]int32, len(m.Result.Signals)+1)
		n := 0
		for j := range m.Result.Signals {
			m.positionAt[j] = int32(n)
			for n < len(all) && strings.TrimPrefix(all[n].Subject, "signal:") == m.Result.Signals[j].ID {
				n++
			}
		}
		m.positionAt[len(m.Result.Signals)] = int32(n)
	}
	return m.Result.Decisions[m.positionAt[i]:m.positionAt[i+1]]
}

// saidBefore reports whether the source gave the same position when it was imported last.
func (m *Import) saidBefore(incoming, id string, d project.Decision) bool {
	if m.base == nil {
		return false
	}
	for _, key := range []string{id, incoming} {
		for _, b := range m.base.Positions(key) {
			if b.Property == d.Property && b.Value == d.Value {
				return true
			}
		}
	}
	return false
}

func (m *Import) writeChoices() error {
	fresh := m.newChoices()
	if len(fresh) == 0 {
		return nil
	}
	replaced := map[string]bool{}
	for _, d := range fresh {
		replaced[d.Subject+"\x00"+d.Property] = true
	}
	var all []project.Decision
	if m.folder != nil {
		for _, d := range m.folder.Project.Choices {
			if d.File == folder.ProjectFile || !replaced[d.Subject+"\x00"+d.Property] {
				all = append(all, d)
			}
		}
	}
	if err := folder.SaveChoices(m.Into, append(all, fresh...)); err != nil {
		return err
	}
	m.Written = append(m.Written, folder.ChoicesFile)
	return nil
}

// writeKept keeps what the list said, how its columns were read, its rejected rows and its marked
// copy.
func (m *Import) writeKept() error {
	files := map[string][]byte{folder.RejectedEnding: nil}
	if !m.Result.Ours {
		if next := m.nextColumns(); !maps.Equal(next, m.columns) {
			files[folder.ColumnsEnding] = folder.EncodeColumnMap(m.File, next)
		}
	}
	if len(m.Result.Rejected) > 0 {
		var err error
		if files[folder.RejectedEnding], err = m.Rejected(); err != nil {
			return err
		}
	}
	faults := m.Result.Findings.Count(finding.Error)+m.Result.Findings.Count(finding.Warning) > 0
	if !faults {
		files[folder.MarkedEnding] = nil
	}
	if err := folder.SaveImport(m.Into, m.Source, files); err != nil {
		return err
	}
	if faults {
		if err := folder.SaveImportPart(m.Into, m.Source, folder.MarkedEnding, func(w io.Writer) error { return fromtable.Marked(w, m.book, m.Result) }); err != nil {
			return err
		}
	}
	if !m.Result.Ours {
		if err := folder.SaveBase(m.Into, m.Source, m.nextBase()); err != nil {
			return err
		}
	}
	for _, ending := range []string{folder.BaseEnding, folder.ColumnsEnding, folder.RejectedEnding, folder.MarkedEnding} {
		written := files[ending] != nil
		switch ending {
		case folder.BaseEnding:
			written = !m.Result.Ours
		case folder.MarkedEnding:
			written = faults
		}
		if written {
			m.Written = append(m.Written, folder.ImportsDir+"/"+m.Source+ending)
		}
	}
	return nil
}

// nextBase is what the list says now, under the ids of the project.
func (m *Import) nextBase() func(yield func(*project.Signal, []project.Decision)) {
	ids := m.Preview.FinalIDs()
	return func(yield func(*project.Signal, []project.Decision)) {
		for i := range m.Result.Signals {
			s := m.Result.Signals[i]
			if ids[i] != "" {
				s.ID = ids[i]
			}
			yield(&s, m.positionsOf(i))
		}
	}
}

// nextColumns is the column map for the next issue of the list: what was used now, and what was known
// of headings that this issue does not have.
func (m *Import) nextColumns() map[string]string {
	out := maps.Clone(m.columns)
	for h, c := range m.Result.ColumnMap() {
		if out == nil {
			out = map[string]string{}
		}
		if m.folder == nil || m.folder.Columns[h] == "" {
			out[h] = c
		}
	}
	return out
}

// Rejected returns the rows that gave no signal, with the reasons, as CSV.
func (m *Import) Rejected() ([]byte, error) {
	var b bytes.Buffer
	err := tabular.WriteCSV(&b, fromtable.RejectedTable(m.Result), tabular.CSVOptions{BOM: true})
	return b.Bytes(), err
}

// Marked returns a copy of the list as a workbook, with the report in front and the faults marked in
// their cells.
func (m *Import) Marked() ([]byte, error) {
	var b bytes.Buffer
	err := fromtable.Marked(&b, m.book, m.Result)
	return b.Bytes(), err
}

// PlaceLines are the lines that add the list's places to a project.toml which is not ours to write.
func (m *Import) PlaceLines() string {
	var b strings.Builder
	for _, p := range m.NewPlaces {
		b.WriteString("[[place]]\nid = \"" + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(p) + "\"\n\n")
	}
	return b.String()
}
