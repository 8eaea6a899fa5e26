package folder

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/project"
	"railwright/internal/tabular"
	"railwright/internal/tomltree"
)

// The files of a project folder.
const (
	ProjectFile  = "project.toml"
	HardwareFile = "hardware.toml"
	ChoicesFile  = "choices.toml"
	AcceptedFile = "accepted.json"
	BuiltFile    = "built.json"
	ListFile     = "signals.csv" // the one that is written
)

// ListFiles are the names a signal list may have; the first one that is there is read.
var ListFiles = []string{ListFile, "signals.xlsx", "signals.ods"}

// ErrMissing says that there is no project folder to read.
var ErrMissing = errors.New("no project folder")

// Folder is a project folder as read.
type Folder struct {
	Dir      string
	ListFile string           // the signal list that was read, "" = none
	Project  *project.Project // what is sound; Choices holds hand choices only
	Hardware []byte           // hardware.toml, nil = none; for hardware.Parse
	Accepted []byte           // accepted.json, nil = none; for design.Decode
	Built    []byte           // built.json, nil = none
	LeftOut  []design.Unplaced
	Findings finding.List      // of all files, sorted
	Columns  map[string]string // [columns] of project.toml: heading to canonical column or role of the importer
	Cells    [][]string        // the list's rows as they stand, one text for each of project.Columns
	SHA256   string            // of what a plan depends on: project, list, choices, hardware.toml, built.json
}

// Files are a project folder's files by name, for projects that do not live on a disk.
type Files map[string][]byte

// Read reads the project folder at dir. It returns an error, wrapping ErrMissing where that is so,
// only if there is no folder or no project.toml, or the disk fails; faults of the content are
// findings.
func Read(dir string) (*Folder, error) {
	files, err := ReadFiles(dir)
	if err != nil {
		return nil, err
	}
	f := Parse(files)
	f.Dir = dir
	return f, nil
}

// ReadFiles reads the files of the project folder at dir that Parse knows, with Read's errors.
func ReadFiles(dir string) (Files, error) {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%w: %s does not exist; `railwright demo %s` writes an example project there", ErrMissing, dir, dir)
	case err != nil:
		return nil, fmt.Errorf("read project: %w", err)
	case !info.IsDir():
		return nil, fmt.Errorf("%w: %s is a file; give the folder that holds %s", ErrMissing, dir, ProjectFile)
	}
	files := Files{}
	for _, name := range append([]string{ProjectFile, HardwareFile, ChoicesFile, AcceptedFile, BuiltFile}, ListFiles...) {
		data, err := readFile(filepath.Join(dir, name))
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return nil, fmt.Errorf("read project: %w", err)
		default:
			files[name] = data
		}
	}
	if files[ProjectFile] == nil {
		return nil, fmt.Errorf("%w: %s holds no %s; `railwright demo DIR` writes an example to start from", ErrMissing, dir, ProjectFile)
	}
	return files, nil
}

// readFile reads a file up to the limit of the table reader; what is longer is refused there.
func readFile(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, tabular.MaxFileBytes+1))
	if data == nil {
		data = []byte{}
	}
	return data, err
}

// Parse reads a project folder from its files' bytes. Files it does not know are ignored.
func Parse(files Files) *Folder {
	s := parseProject(files[ProjectFile])
	f := &Folder{Project: &s.project, Columns: s.mapped, Hardware: files[HardwareFile], Accepted: files[AcceptedFile], Built: files[BuiltFile]}
	s.project.Choices = s.choices
	var found finding.List
	if data, ok := files[ChoicesFile]; ok {
		doc := tomltree.Parse(ChoicesFile, data, "PRJ")
		if root := doc.Root(); root.NeedInt("format", 0, 1_000_000) != project.Format && root.Int("format", project.Format, 0, 1_000_000) != project.Format {
			root.Report("PRJ-011", finding.Error, "format", fmt.Sprintf("the file's format is not %d", project.Format), "Use the version of the tool that wrote it.")
		}
		s.project.Choices = append(s.project.Choices, readChoices(doc.Root().Tables("choice"), ChoicesFile)...)
		found = append(found, doc.Findings()...)
	}
	found = append(found, s.doc.Findings()...)
	l := f.readList(files, s)
	found = append(found, l.found...)
	left, more := s.project.Settle(l.rows, append(builtStations(f.Built), stationIDs(f.Accepted)...))
	found = append(found, more...)
	found = append(found, settleChoices(&s.project, left)...)
	found.Sort()
	f.Findings, f.Cells = found, l.cells
	for _, o := range left {
		f.LeftOut = append(f.LeftOut, design.Unplaced{Signal: o.ID, Tag: o.Tag, Where: o.Where.String(), Why: o.Why, Proof: "row"})
	}
	f.SHA256 = inputHash(f)
	return f
}

// readList picks the signal list among the files and reads it.
func (f *Folder) readList(files Files, s *stated) list {
	var names []string
	for _, n := range ListFiles {
		if _, ok := files[n]; ok {
			names = append(names, n)
		}
	}
	if len(names) == 0 {
		l := list{}
		l.add("PRJ-050", finding.Error, &finding.Where{File: ListFile}, "the folder has no signal list",
			"Put signals.csv, signals.xlsx or signals.ods there, with a heading row ("+exampleHeading+") and one signal a row; `railwright import FILE --into FOLDER` brings a foreign list in.")
		return l
	}
	f.ListFile = names[0]
	l := readList(names[0], files[names[0]], s)
	if len(names) > 1 {
		l.add("PRJ-051", finding.Warning, &finding.Where{File: names[0]}, fmt.Sprintf("the folder holds %s; %s is read", joinAnd(names), names[0]), "Move the others away.")
	}
	return l
}

// builtStations reads the ids of the stations of the design in built.json.
func builtStations(data []byte) []string {
	var b struct {
		Design json.RawMessage `json:"design"`
	}
	if data == nil || json.Unmarshal(data, &b) != nil {
		return nil
	}
	return stationIDs(b.Design)
}

// stationIDs reads the ids of a design's stations; what is no design has none.
func stationIDs(data []byte) []string {
	var d struct {
		Stations []struct {
			ID string `json:"id"`
		} `json:"stations"`
	}
	if data == nil || json.Unmarshal(data, &d) != nil {
		return nil
	}
	ids := make([]string, 0, len(d.Stations))
	for _, s := range d.Stations {
		ids = append(ids, s.ID)
	}
	return ids
}
