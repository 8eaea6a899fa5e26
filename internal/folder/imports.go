package folder

import (
	"bytes"
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
	"railwright/internal/intake"
	"railwright/internal/project"
	"railwright/internal/tabular"
	"railwright/internal/tomltree"
)

// ImportsDir is the folder, inside a project folder, that holds what is kept of each source of lists:
//
//	SOURCE.csv           what the source said last, for a three-way comparison with what it says next
//	SOURCE.columns.toml  how its columns are read; may be edited
//	SOURCE.rejected.csv  rows of the last import that gave no signal, with the reasons
//	SOURCE.marked.xlsx   a copy of the last list with its faults marked in their cells
const ImportsDir = "imports"

// The endings of the files of a source.
const (
	BaseEnding     = ".csv"
	ColumnsEnding  = ".columns.toml"
	RejectedEnding = ".rejected.csv"
	MarkedEnding   = ".marked.xlsx"
)

// PositionsColumn is the column of a base, beside the canonical ones, that holds the positions which
// the source gave a signal: "channel=R1/3/5; address=%IX4.0".
const PositionsColumn = "positions"

// Base is what a source said about its signals when it was imported last.
type Base struct {
	Past *intake.Past

	positions func(i int) string // of row i, as written
}

// Positions are those that the source gave the signal with that id.
func (b *Base) Positions(id string) []project.Decision {
	if i := b.Past.Find(id); i >= 0 && b.positions != nil {
		return parsePositions(id, b.positions(i))
	}
	return nil
}

// Sources returns the names of the sources that were imported into the folder, in order.
func Sources(dir string) ([]string, error) {
	entries, err := os.ReadDir(filepath.Join(dir, ImportsDir))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("list imports: %w", err)
	}
	var out []string
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), BaseEnding); ok && name != "" && !strings.Contains(name, ".") {
			out = append(out, name)
		}
	}
	return out, nil
}

// ReadBase reads what a source said last; nil where it was never imported.
func ReadBase(dir, source string) (*Base, error) {
	name := source + BaseEnding
	data, err := readFile(filepath.Join(dir, ImportsDir, name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read %s/%s: %w", ImportsDir, name, err)
	}
	book, err := tabular.Read(name, data, tabular.Options{Delimiter: ','})
	if err != nil {
		return nil, fmt.Errorf("read %s/%s: %w", ImportsDir, name, err)
	}
	if len(book.Sheets) == 0 || book.Sheets[0].Rows() == 0 {
		return &Base{Past: intake.PastOf(nil)}, nil
	}
	s := book.Sheets[0]
	heads := make([]string, s.Width(0))
	for c := range heads {
		heads[c] = s.Text(0, c)
	}
	b := &Base{Past: intake.PastRows(heads, s.Rows()-1, func(i, c int) string { return s.Text(i+1, c) })}
	if at := slices.Index(heads, PositionsColumn); at >= 0 {
		b.positions = func(i int) string { return s.Text(i+1, at) }
	}
	return b, nil
}

func parsePositions(id, text string) []project.Decision {
	var out []project.Decision
	for _, p := range strings.Split(text, "; ") {
		if property, value, ok := strings.Cut(p, "="); ok {
			out = append(out, project.Decision{Subject: "signal:" + id, Property: property, Value: value, Strength: project.Preferred})
		}
	}
	return out
}

// SaveBase writes what a source says now, signal by signal, with the positions that it gives them.
func SaveBase(dir, source string, each func(yield func(s *project.Signal, positions []project.Decision))) error {
	at := filepath.Join(dir, ImportsDir)
	if err := os.MkdirAll(at, 0o755); err != nil {
		return fmt.Errorf("save import: %w", err)
	}
	return writeStream(at, source+BaseEnding, func(w io.Writer) error {
		var use []*project.Column // those with a filled cell, and the id
		var heads []string
		filled := map[string]bool{"id": true, "tag": true}
		columns := project.Columns()
		each(func(s *project.Signal, _ []project.Decision) {
			for i := range columns {
				if !filled[columns[i].Name] && columns[i].Format(s) != "" {
					filled[columns[i].Name] = true
				}
			}
		})
		for i := range columns {
			if filled[columns[i].Name] {
				use, heads = append(use, columns[i]), append(heads, columns[i].Name)
			}
		}
		out := tabular.NewCSVWriter(w, append(heads, PositionsColumn), tabular.CSVOptions{})
		row := make([]string, len(use)+1)
		each(func(s *project.Signal, positions []project.Decision) {
			for i, c := range use {
				row[i] = c.Format(s)
			}
			row[len(use)] = positionText(positions)
			out.Row(row)
		})
		return out.Flush()
	})
}

func positionText(positions []project.Decision) string {
	switch len(positions) {
	case 0:
		return ""
	case 1:
		return positions[0].Property + "=" + positions[0].Value
	}
	p := make([]string, len(positions))
	for i, d := range positions {
		p[i] = d.Property + "=" + d.Value
	}
	return strings.Join(p, "; ")
}

// SaveImportPart writes one file of a source, by its ending, while it is made.
func SaveImportPart(dir, source, ending string, write func(w io.Writer) error) error {
	at := filepath.Join(dir, ImportsDir)
	if err := os.MkdirAll(at, 0o755); err != nil {
		return fmt.Errorf("save import: %w", err)
	}
	return writeStream(at, source+ending, write)
}

// ReadColumnMap reads the column map kept of a source; nil where there is none. Faults of the file
// are findings.
func ReadColumnMap(dir, source string) (map[string]string, finding.List, error) {
	name := source + ColumnsEnding
	data, err := readFile(filepath.Join(dir, ImportsDir, name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, nil
	}
	if err != nil {
		return nil, nil, fmt.Errorf("read %s/%s: %w", ImportsDir, name, err)
	}
	doc := tomltree.Parse(ImportsDir+"/"+name, data, "PRJ")
	root := doc.Root()
	root.Int("format", project.Format, project.Format, project.Format)
	root.String("list", "")
	t := root.Table("columns")
	out := map[string]string{}
	for _, heading := range t.Keys() {
		if v := t.OneOf(heading, "", columnWords()...); v != "" {
			out[heading] = v
		}
	}
	return out, doc.Findings(), nil
}

// columnWords are what a column map may name.
func columnWords() []string { return append(project.ColumnNames(), intake.Roles()...) }

// EncodeColumnMap returns the content of a source's column map.
func EncodeColumnMap(list string, columns map[string]string) []byte {
	var b bytes.Buffer
	b.WriteString("# How the columns of this list are read: heading = canonical column, role, or \"ignore\"\n# (docs/import.md names them). `railwright import` wrote it, and uses it for the next issue of the\n# list. Mend it where the tool guessed wrong, and import again.\n")
	fmt.Fprintf(&b, "format = %d\nlist = %s\n\n[columns]\n", project.Format, quoteTOML(list))
	for _, h := range slices.Sorted(maps.Keys(columns)) {
		fmt.Fprintf(&b, "%s = %s\n", quoteTOML(h), quoteTOML(columns[h]))
	}
	return b.Bytes()
}

// SaveImport writes files of a source, by ending; content nil takes the file away.
func SaveImport(dir, source string, files map[string][]byte) error {
	at := filepath.Join(dir, ImportsDir)
	if err := os.MkdirAll(at, 0o755); err != nil {
		return fmt.Errorf("save import: %w", err)
	}
	for _, ending := range slices.Sorted(maps.Keys(files)) {
		if files[ending] == nil {
			if err := os.Remove(filepath.Join(at, source+ending)); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return fmt.Errorf("save import: %w", err)
			}
			continue
		}
		if err := writeWhole(at, source+ending, files[ending]); err != nil {
			return err
		}
	}
	return nil
}

// SaveNewProject writes project.toml into a folder that has none yet; it never takes the place of one.
func SaveNewProject(dir string, data []byte) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("make project folder: %w", err)
	}
	if _, err := os.Lstat(filepath.Join(dir, ProjectFile)); err == nil {
		return fmt.Errorf("write %s: it is there already", ProjectFile)
	}
	return writeWhole(dir, ProjectFile, data)
}

// Skeleton returns a project.toml for a new folder into which a list is imported: it says what is to
// be filled in, and names the places of the list. What no list can tell (where stations may stand,
// how long the ways are) is left to the engineer, so the project cannot be planned until it is done.
func Skeleton(name, list string, places []string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, `# Begun by railwright import from %s. Lines with "fill in" are yours;
# docs/project-folder.md explains every key.

format = 1

[project]
name = %s   # fill in: printed on every document
controller = ""    # fill in: name of the controller that owns the signals

[network]
profile = "ethernet-fibre"   # or ethernet-copper; see docs/hardware.md

# --- places ---------------------------------------------------------------------------------------
# The place of the controller and of the mains board. If it is one of the places below, give that one
# controller = true and power_source = true, and delete this one.

[[place]]
id = %s
controller = true
power_source = true

# Places of the list. Fill in: candidate = true where a station may stand.
`, oneLine(list), quoteTOML(name), quoteTOML(controlPlace(places)))
	for _, p := range places {
		fmt.Fprintf(&b, "\n[[place]]\nid = %s\ncandidate = false\n", quoteTOML(p))
	}
	b.WriteString("\n# --- cable ways -----------------------------------------------------------------------------------\n# Fill in: how the places are joined, and how long each way is; then take the # away.\n")
	for _, p := range places {
		fmt.Fprintf(&b, "\n# [[route]]\n# from = %s\n# to = %s\n# length_m =\n", quoteTOML(controlPlace(places)), quoteTOML(p))
	}
	return b.Bytes()
}

// controlPlace is a name for the controller's place that the list does not use.
func controlPlace(places []string) string {
	id := "CONTROL"
	for slices.Contains(places, id) {
		id += "-ROOM"
	}
	return id
}

func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 127 {
			return ' '
		}
		return r
	}, s)
}
