package app

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/folder"
	"railwright/internal/project"
	"railwright/internal/store"
	"railwright/internal/tabular"
	"railwright/internal/tomltree"
	"railwright/internal/words"
)

// stateFile is the file of a project folder that says which revision it was saved as or written from.
const stateFile = "revision.toml"

// partNames are the files of a folder that a revision holds, beside those under imports/.
func partNames() []string {
	return slices.Concat([]string{folder.ProjectFile, folder.HardwareFile, folder.ChoicesFile, folder.AcceptedFile, folder.BuiltFile}, folder.ListFiles)
}

// readParts reads what a revision holds of a folder.
func readParts(dir string) (store.Parts, error) {
	parts := store.Parts{}
	names := partNames()
	entries, err := os.ReadDir(filepath.Join(dir, folder.ImportsDir))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, broken(words.Text("app.cannot_read", dir), err)
	}
	for _, e := range entries {
		if e.Type().IsRegular() && !strings.HasPrefix(e.Name(), ".") {
			names = append(names, folder.ImportsDir+"/"+e.Name())
		}
	}
	for _, name := range names {
		data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return nil, broken(words.Text("app.cannot_read", dir), err)
		case len(data) > store.MaxPart:
			return nil, usage(words.Text("store.too_large", filepath.Join(dir, name), store.MaxPart>>20))
		default:
			parts[name] = store.Content(data)
		}
	}
	return parts, nil
}

// filesOf are parts with their contents as a folder's files.
func filesOf(parts store.Parts, load func(store.Part) ([]byte, error)) (folder.Files, error) {
	files := folder.Files{}
	for name, p := range parts {
		data, err := load(p)
		if err != nil {
			return nil, err
		}
		files[name] = data
	}
	return files, nil
}

// listName is the name of the signal list among parts, "" where there is none.
func listName(parts store.Parts) string {
	for _, name := range folder.ListFiles {
		if _, ok := parts[name]; ok {
			return name
		}
	}
	return ""
}

// withIDs writes the column id into a folder's signal list where signals have none yet: from the first
// save on a signal is followed by it, whatever it is called later. It reports whether it wrote.
func withIDs(dir string, parts store.Parts) (bool, error) {
	if listName(parts) == folder.ListFile {
		if r, ok := rawList(parts[folder.ListFile].Data); ok { // the columns that the tool does not know stay
			if !r.lacksIDs() {
				return false, nil
			}
			data, err := r.withIDs()
			if err != nil {
				return false, err
			}
			return true, WriteFile(filepath.Join(dir, folder.ListFile), data)
		}
	}
	files, err := filesOf(parts, func(p store.Part) ([]byte, error) { return p.Data, nil })
	if err != nil {
		return false, err
	}
	f := folder.Parse(files)
	names := project.ColumnNames()
	id, tag := slices.Index(names, "id"), slices.Index(names, "tag")
	missing := false
	rows := make([][]string, len(f.Cells))
	for i, r := range f.Cells {
		rows[i] = r
		if r[id] == "" && r[tag] != "" {
			rows[i] = slices.Clone(r)
			rows[i][id] = r[tag]
			missing = true
		}
	}
	if !missing {
		return false, nil
	}
	if err := folder.SaveList(dir, rows); err != nil {
		return false, outFault(dir, err)
	}
	return true, nil
}

// state says where a folder comes from.
type state struct {
	Project  string
	Number   int64
	Revision store.ID
}

// readState reads revision.toml; nil where there is none.
func readState(dir string) (*state, error) {
	data, err := os.ReadFile(filepath.Join(dir, stateFile))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, broken(words.Text("app.cannot_read", dir), err)
	}
	doc := tomltree.Parse(stateFile, data, "PRJ")
	root := doc.Root()
	root.Int("format", 1, 1, 1)
	s := &state{Project: root.String("project", ""), Number: root.Int("number", 0, 0, 1<<53), Revision: store.ID(root.String("revision", ""))}
	if found := doc.Findings(); len(found) > 0 || s.Project == "" || s.Revision == "" {
		return nil, &Fault{Kind: Usage, What: words.Text("store.bad_state", filepath.Join(dir, stateFile)), Findings: found, Hints: []string{words.Text("store.bad_state_hint")}}
	}
	return s, nil
}

func writeState(dir string, r store.Revision) error {
	text := fmt.Sprintf("# Written by the tool: the revision that this folder was last saved as, or was written from.\nformat = 1\nproject = %s\nnumber = %d\nrevision = %q\n", strconv.Quote(r.Project), r.Number, r.ID)
	return WriteFile(filepath.Join(dir, stateFile), []byte(text))
}

// replaceParts brings a folder from one set of parts to another. A file that is not as in from (somebody
// changed it meanwhile) is not touched, and nothing is written.
func replaceParts(dir string, from, to store.Parts, load func(store.Part) ([]byte, error)) ([]string, error) {
	now, err := readParts(dir)
	if err != nil {
		return nil, err
	}
	var write, remove []string
	for _, name := range to.Names() {
		switch {
		case now[name].Hash == to[name].Hash:
		case now[name].Hash != from[name].Hash:
			return nil, usage(words.Text("import.changed_since", filepath.Join(dir, name)), words.Text("store.save_again"))
		default:
			write = append(write, name)
		}
	}
	for _, name := range from.Names() {
		if _, ok := to[name]; !ok && now[name].Hash != "" {
			if now[name].Hash != from[name].Hash {
				return nil, usage(words.Text("import.changed_since", filepath.Join(dir, name)), words.Text("store.save_again"))
			}
			remove = append(remove, name)
		}
	}
	for _, name := range write {
		data, err := load(to[name])
		if err != nil {
			return nil, err
		}
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return nil, outFault(dir, err)
		}
		if err := WriteFile(path, data); err != nil {
			return nil, err
		}
	}
	for _, name := range remove {
		if err := os.Remove(filepath.Join(dir, filepath.FromSlash(name))); err != nil {
			return nil, outFault(dir, err)
		}
	}
	return append(write, remove...), nil
}

// raw is a signal list in CSV as it stands, its own columns too.
type raw struct {
	heads     []string
	rows      [][]string
	id, tag   int // columns, -1 = none
	delimiter byte
}

// rawList reads a CSV list whose first row is its heading, each heading different and one of them id or
// tag; ok is false for any other.
func rawList(data []byte) (r raw, ok bool) {
	r.id, r.tag = -1, -1
	book, err := tabular.Read(folder.ListFile, data, tabular.Options{})
	if data == nil || err != nil || len(book.Sheets) != 1 || book.Sheets[0].Rows() == 0 {
		return r, false
	}
	s := book.Sheets[0]
	r.delimiter = byte(book.Delimiter)
	seen := map[string]bool{}
	for c := range s.Width(0) {
		h := strings.TrimSpace(s.Text(0, c))
		if h == "" || seen[h] {
			return r, false
		}
		seen[h] = true
		if col := project.ColumnNamed(h); col != nil && col.Name == "id" {
			r.id = c
		} else if col != nil && col.Name == "tag" {
			r.tag = c
		}
		r.heads = append(r.heads, h)
	}
	for i := 1; i < s.Rows(); i++ {
		if s.Width(i) > len(r.heads) {
			return r, false
		}
		row := make([]string, len(r.heads))
		for c := range row {
			row[c] = s.Text(i, c)
		}
		r.rows = append(r.rows, row)
	}
	return r, r.id >= 0 || r.tag >= 0
}

// encode writes the list.
func (r raw) encode() ([]byte, error) {
	t := tabular.Table{Cols: tabular.Heads(r.heads...)}
	for _, row := range r.rows {
		line := make([]tabular.Value, len(row))
		for c, v := range row {
			line[c] = tabular.T(v)
		}
		t.Rows = append(t.Rows, line)
	}
	var b bytes.Buffer
	if err := tabular.WriteCSV(&b, t, tabular.CSVOptions{Delimiter: r.delimiter}); err != nil {
		return nil, broken("write the signal list", err)
	}
	return b.Bytes(), nil
}

// lacksIDs reports whether a row has a tag and no id.
func (r raw) lacksIDs() bool {
	return r.tag >= 0 && slices.ContainsFunc(r.rows, func(row []string) bool {
		return strings.TrimSpace(row[r.tag]) != "" && (r.id < 0 || strings.TrimSpace(row[r.id]) == "")
	})
}

// withIDs writes the list with an id for every row that has a tag.
func (r raw) withIDs() ([]byte, error) {
	if r.id < 0 {
		r.heads = append([]string{"id"}, r.heads...)
		r.id, r.tag = 0, r.tag+1
		for i, row := range r.rows {
			r.rows[i] = append([]string{""}, row...)
		}
	}
	for _, row := range r.rows {
		if row[r.id] == "" && r.tag >= 0 {
			row[r.id] = strings.TrimSpace(row[r.tag])
		}
	}
	return r.encode()
}
