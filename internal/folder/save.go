package folder

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tabular"
)

// SaveAccepted writes the accepted design.
func SaveAccepted(dir string, design []byte) error { return writeWhole(dir, AcceptedFile, design) }

// SaveBuilt writes the built design.
func SaveBuilt(dir string, design []byte) error { return writeWhole(dir, BuiltFile, design) }

// SaveChoices writes the hand choices made in the tool to choices.toml: those of origin hand that
// were not read from project.toml, which stays the user's.
func SaveChoices(dir string, all []project.Decision) error {
	return writeStream(dir, ChoicesFile, func(w io.Writer) error { return writeChoices(w, all) })
}

// EncodeChoices returns the content of choices.toml, in the order of SortDecisions.
func EncodeChoices(all []project.Decision) []byte {
	var b bytes.Buffer
	_ = writeChoices(&b, all) // a buffer takes everything
	return b.Bytes()
}

func writeChoices(w io.Writer, all []project.Decision) error {
	own := make([]project.Decision, 0, len(all))
	for _, d := range all {
		if d.Origin == project.FromHand && d.File != ProjectFile {
			own = append(own, d)
		}
	}
	project.SortDecisions(own)
	b := bufio.NewWriterSize(w, 64<<10)
	fmt.Fprintf(b, "# Choices made in the tool; it writes this file anew. Your own go into %s.\nformat = %d\n", ProjectFile, project.Format)
	def := defaultChoice()
	for i := range own {
		b.WriteString("\n[[choice]]\n")
		for _, k := range choiceKeys {
			f := k.at(&own[i])
			if s := f.show(); k.need || s != k.at(&def).show() {
				if _, isText := f.(textField); isText {
					s = quoteTOML(s)
				}
				b.WriteString(k.name)
				b.WriteString(" = ")
				b.WriteString(s)
				b.WriteByte('\n')
			}
		}
	}
	return b.Flush()
}

// quoteTOML writes a basic string.
func quoteTOML(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "\uFFFD") {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 127:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// CellsOf returns a signal as canonical cells, one text for each of project.Columns.
func CellsOf(s *project.Signal) []string {
	cells := make([]string, len(project.Columns()))
	for i, c := range project.Columns() {
		cells[i] = c.Format(s)
	}
	return cells
}

// SaveList writes the signal list as signals.csv from rows of canonical cells (CellsOf makes them
// from signals; Folder.Cells holds them as read, faulty ones too). A list in another form that it
// takes the place of is kept under its name with .old behind it.
func SaveList(dir string, rows [][]string) error { return SaveRows(dir, eachOf(rows)) }

// SaveRows is SaveList for rows that are made one after the other: each is called twice, and gives
// the same rows both times. A row is used only until the next one comes.
func SaveRows(dir string, each func(yield func(row []string))) error {
	if err := keepForeign(dir); err != nil {
		return err
	}
	if err := writeStream(dir, ListFile, func(w io.Writer) error { return writeList(w, each) }); err != nil {
		return err
	}
	for _, name := range ListFiles[1:] { // only now: until here the old list is the one in force
		if err := setAside(dir, name, os.Rename); err != nil {
			return err
		}
	}
	return nil
}

func eachOf(rows [][]string) func(func([]string)) {
	return func(yield func([]string)) {
		for _, r := range rows {
			yield(r)
		}
	}
}

var alwaysWritten = []string{"id", "tag", "description", "kind", "form", "place"}

// EncodeList returns the content of signals.csv. Columns that are empty in all rows are left out,
// but for the first ones of every list.
func EncodeList(rows [][]string) ([]byte, error) {
	var b bytes.Buffer
	if err := writeList(&b, eachOf(rows)); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func writeList(w io.Writer, each func(yield func(row []string))) error {
	columns := project.Columns()
	filled := make([]bool, len(columns))
	for i, c := range columns {
		filled[i] = slices.Contains(alwaysWritten, c.Name)
	}
	each(func(row []string) {
		for i := range min(len(row), len(filled)) {
			filled[i] = filled[i] || row[i] != ""
		}
	})
	var use []int
	var heads []string
	for i, c := range columns {
		if filled[i] {
			use, heads = append(use, i), append(heads, c.Name)
		}
	}
	out := tabular.NewCSVWriter(w, heads, tabular.CSVOptions{})
	line := make([]string, len(use))
	each(func(row []string) {
		for n, i := range use {
			if line[n] = ""; i < len(row) {
				line[n] = row[i]
			}
		}
		out.Row(line)
	})
	if err := out.Flush(); err != nil {
		return fmt.Errorf("write signal list: %w", err)
	}
	return nil
}

// keepForeign copies a signals.csv that holds more than canonical columns aside, so that saving
// loses nothing.
func keepForeign(dir string) error {
	data, err := os.ReadFile(filepath.Join(dir, ListFile))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("save signal list: %w", err)
	}
	book, err := tabular.Read(ListFile, firstLines(data), tabular.Options{})
	if err == nil && len(book.Sheets) == 1 && book.Sheets[0].Rows() > 0 {
		s, canonical := book.Sheets[0], true
		for c := range s.Cols() {
			canonical = canonical && project.ColumnNamed(s.Text(0, c)) != nil
		}
		if canonical {
			return nil
		}
	}
	return setAside(dir, ListFile, func(from, to string) error {
		return writeWhole(filepath.Dir(to), filepath.Base(to), data)
	})
}

// firstLines is the beginning of a list, enough for its heading.
func firstLines(data []byte) []byte {
	const enough = 64 << 10
	if len(data) <= enough {
		return data
	}
	if end := bytes.LastIndexByte(data[:enough], '\n'); end > 0 {
		return data[:end+1]
	}
	return data
}

// setAside moves (or copies) a file to the first free name of NAME.old, NAME.old2, ...
func setAside(dir, name string, move func(from, to string) error) error {
	from := filepath.Join(dir, name)
	if _, err := os.Lstat(from); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	for n := 1; ; n++ {
		to := from + ".old"
		if n > 1 {
			to += strconv.Itoa(n)
		}
		if _, err := os.Lstat(to); errors.Is(err, fs.ErrNotExist) {
			if err := move(from, to); err != nil {
				return fmt.Errorf("keep %s: %w", name, err)
			}
			return nil
		}
	}
}

// writeWhole writes a file beside the old one and renames it into its place, so that a reader sees
// the old file or the new one and nothing between.
func writeWhole(dir, name string, data []byte) error {
	return writeStream(dir, name, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// writeStream is writeWhole for content that is made while it is written.
func writeStream(dir, name string, write func(w io.Writer) error) (err error) {
	defer func() {
		if err != nil {
			err = fmt.Errorf("write %s: %w", name, err)
		}
	}()
	tmp, err := os.CreateTemp(dir, "."+name+".*.tmp")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name()) // no effect once it is renamed
	mode := fs.FileMode(0o644)
	if info, err := os.Stat(filepath.Join(dir, name)); err == nil {
		mode = info.Mode().Perm()
	}
	err = errors.Join(write(tmp), tmp.Chmod(mode), tmp.Sync(), tmp.Close())
	if err != nil {
		return err
	}
	if err := os.Rename(tmp.Name(), filepath.Join(dir, name)); err != nil {
		return err
	}
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync() // not every file system can; the rename itself has been done
		d.Close()
	}
	return nil
}

// EncodeProject returns a project.toml that states the project: keys that differ from their
// defaults, places, routes, and the choices that came from project.toml. It is for new folders (an
// example, an export); an existing project.toml is never written over.
func EncodeProject(p *project.Project) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "format = %d\n", project.Format)
	d := project.DefaultBasis()
	writeSection(&b, "[project]", headKeys, p, &project.Project{})
	writeSection(&b, "[basis]", basisKeys, &p.Basis, &d)
	writeMaps(&b, &p.Basis, &d)
	writeSection(&b, "[basis.cable]", cableKeys, &p.Basis.Cable, &d.Cable)
	writeSection(&b, "[basis.group]", groupKeys, &p.Basis.Group, &d.Group)
	writeSection(&b, "[basis.supply]", supplyKeys, &p.Basis.Supply, &d.Supply)
	writeSection(&b, "[basis.feeder]", feederKeys, &p.Basis.Feeder, &d.Feeder)
	writeSection(&b, "[basis.climate]", climateKeys, &p.Basis.Climate, &d.Climate)
	writeSection(&b, "[basis.circuit]", circuitKeys, &p.Basis.Circuit, &d.Circuit)
	writeSection(&b, "[basis.prices]", priceKeys, &p.Basis.Prices, &d.Prices)
	writeSection(&b, "[basis.address]", addressKeys, &p.Basis.Address, &d.Address)
	n, pw := defaultNetwork(), defaultPower()
	writeSection(&b, "[network]", networkKeys, &p.Network, &n)
	writeSection(&b, "[power]", powerKeys, &p.Power, &pw)
	pl, r, c := defaultPlace(&p.Basis), defaultRoute(), defaultChoice()
	for i := range p.Places {
		writeSection(&b, "[[place]]", placeKeys, &p.Places[i], &pl)
	}
	for i := range p.Routes {
		writeSection(&b, "[[route]]", routeKeys, &p.Routes[i], &r)
	}
	for i := range p.Choices {
		if p.Choices[i].File != ChoicesFile {
			writeSection(&b, "[[choice]]", choiceKeys, &p.Choices[i], &c)
		}
	}
	return b.Bytes()
}

// writeSection writes a table's keys that differ from the defaults; nothing where none does.
func writeSection[T any](b *bytes.Buffer, header string, keys []key[T], v, def *T) {
	headed := false
	for _, k := range keys {
		f := k.at(v)
		s := f.show()
		if !k.need && s == k.at(def).show() {
			continue
		}
		if !headed {
			headed = true
			fmt.Fprintf(b, "\n%s\n", header)
		}
		switch f := f.(type) {
		case textField:
			s = quoteTOML(s)
		case kindsField:
			s = f.inline()
		}
		fmt.Fprintf(b, "%s = %s\n", k.name, s)
	}
}

func (f kindsField) inline() string {
	p := make([]string, len(project.Kinds))
	for i, k := range project.Kinds {
		p[i] = fmt.Sprintf("%s = %s", k, q.Short(f.get(k)))
	}
	return "{ " + strings.Join(p, ", ") + " }"
}

// writeMaps writes the tables of the basis whose keys are names.
func writeMaps(b *bytes.Buffer, v, def *project.Basis) {
	table := func(header string, lines []string) {
		if len(lines) > 0 {
			slices.Sort(lines)
			fmt.Fprintf(b, "\n%s\n%s", header, strings.Join(lines, ""))
		}
	}
	var seg, cur, res []string
	for class, level := range v.Segregation {
		seg = append(seg, fmt.Sprintf("%s = %s\n", quoteTOML(class), quoteTOML(string(level))))
	}
	for name, i := range v.DefaultCurrent {
		if i != def.DefaultCurrent[name] {
			cur = append(cur, fmt.Sprintf("%s = %s\n", quoteTOML(name), q.ShortScaled(float64(i), 1000)))
		}
	}
	for name, n := range v.Reserve {
		if n != def.Reserve[name] {
			res = append(res, fmt.Sprintf("%s = %s\n", name, q.Short(float64(n)/10)))
		}
	}
	table("[basis.segregation]", seg)
	table("[basis.current_ma]", cur)
	table("[basis.reserve_percent]", res)
}
