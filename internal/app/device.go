package app

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"railwright/internal/exchange/device"
	"railwright/internal/exchange/eds"
	"railwright/internal/exchange/gsdml"
	"railwright/internal/finding"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/words"
)

// DeviceRequest asks to bring a device description, or a draft made of one, into a project's hardware list.
type DeviceRequest struct {
	File    string   // GSDML, EDS, or a filled draft (TOML)
	Into    string   // project folder
	Figures []string // [SCOPE.]KEY=VALUE, for entries that lack the key
	Look    bool     // write nothing: the caller will ask for what is missing
}

// DeviceResult says what was read and what came of it.
type DeviceResult struct {
	Kind     string   // "GSDML", "EDS", "hardware list"
	Codes    []string // of the entries read
	Findings finding.List
	Added    string       // hardware.toml, if the entries were added to it
	Draft    string       // file with gaps to be filled in, if needed figures are missing
	Asks     []device.Ask // the needed figures that are missing
}

// maxDevice bounds the file before anything is read of it.
const maxDevice = 64 << 20

// draftEnding is what a draft's name under imports/ ends in.
const draftEnding = ".hardware.toml"

// ReadDevice reads the file. Where nothing needed is missing and the whole list holds together, the entries are added to the end
// of the folder's hardware.toml, whose lines stay as they are; an entry whose code stands there already is an error.
// Where figures are missing a draft is written under imports/, to be filled in and read in its turn.
func ReadDevice(r DeviceRequest) (*DeviceResult, error) {
	if err := projectFolder(r.Into); err != nil {
		return nil, err
	}
	data, err := deviceFile(r.File)
	if err != nil {
		return nil, err
	}
	name := filepath.Base(r.File)
	var figures []device.Figure
	for _, s := range r.Figures {
		f, err := device.ParseFigure(s)
		if err != nil {
			return nil, usage(err.Error())
		}
		figures = append(figures, f)
	}
	if strings.EqualFold(filepath.Ext(name), ".toml") {
		if len(figures) > 0 {
			return nil, usage(words.Text("device.figures_draft"))
		}
		return addEntries(r.Into, name, data, &DeviceResult{Kind: words.Text("device.list")})
	}
	res := &DeviceResult{Kind: "EDS"}
	read := eds.Read
	if bytes.HasPrefix(bytes.TrimLeft(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), " \t\r\n"), []byte("<")) {
		res.Kind, read = "GSDML", gsdml.Read
	}
	d, err := read(name, data)
	if err != nil {
		return nil, usage(words.Text("device.unread", r.File)+": "+err.Error(), words.Text("device.kinds"))
	}
	d.Fill(figures)
	res.Findings = d.Findings()
	for _, e := range d.Entries {
		res.Codes = append(res.Codes, e.Code)
	}
	for _, a := range d.Missing() {
		if a.Key.Need {
			res.Asks = append(res.Asks, a)
		}
	}
	if r.Look {
		return res, nil
	}
	if len(res.Asks) == 0 {
		if res, err = addEntries(r.Into, name, d.TOML(), res); err != nil || res.Added != "" {
			return res, err
		}
		if _, err := os.Stat(draftPath(r.Into, name)); err == nil {
			return res, nil
		} // faulty figures: what was stated goes into a draft
	}
	return res, writeDraft(r.Into, name, d, res)
}

// writeDraft writes the entries with their gaps under imports/, never over somebody's work.
func writeDraft(dir, name string, d *device.Draft, res *DeviceResult) error {
	res.Draft = draftPath(dir, name)
	if old, err := os.ReadFile(res.Draft); err == nil && !bytes.Equal(old, d.TOML()) {
		return &Fault{Kind: Usage, What: words.Text("export.exists", res.Draft), Hints: []string{words.Text("device.old_draft")}}
	}
	if err := folder.SaveImport(dir, deviceName(name), map[string][]byte{draftEnding: d.TOML()}); err != nil {
		return outFault(dir, err)
	}
	return nil
}

func deviceName(file string) string { return strings.TrimSuffix(file, filepath.Ext(file)) }

func draftPath(dir, file string) string {
	return filepath.Join(dir, folder.ImportsDir, deviceName(file)+draftEnding)
}

func projectFolder(dir string) error {
	if _, err := os.Stat(filepath.Join(dir, folder.ProjectFile)); err != nil {
		return folderFault(dir)
	}
	return nil
}

func deviceFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, usage(words.Text("device.missing", path))
	case err != nil:
		return nil, broken(words.Text("app.cannot_read", path), err)
	case !info.Mode().IsRegular():
		return nil, usage(words.Text("device.no_file", path))
	case info.Size() > maxDevice:
		return nil, usage(words.Text("device.huge", path))
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, broken(words.Text("app.cannot_read", path), err)
	}
	return data, nil
}

// addEntries checks the entries together with the list that the folder has and adds them to its end.
func addEntries(dir, name string, entries []byte, res *DeviceResult) (*DeviceResult, error) {
	path := filepath.Join(dir, folder.HardwareFile)
	now, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, broken(words.Text("app.cannot_read", path), err)
	}
	over, found := hardware.Parse(name, entries)
	if res.Codes == nil {
		res.Codes = over.Codes()
	}
	found = append(found, twice(now, res.Codes)...)
	_, before := hardware.Load(hardware.Builtin(), folder.HardwareFile, now)
	next := append(bytes.Clone(now), body(entries, name, len(now) == 0)...)
	if !found.HasErrors() {
		_, after := hardware.Load(hardware.Builtin(), folder.HardwareFile, next)
		found = append(found, newOnes(before, after)...)
	}
	res.Findings = append(res.Findings, found...)
	res.Findings.Sort()
	if found.HasErrors() {
		return res, nil
	}
	if err := WriteExport(path, next, true); err != nil {
		return nil, err
	}
	res.Added = path
	return res, nil
}

// twice reports codes that stand in hardware.toml already.
func twice(now []byte, codes []string) finding.List {
	if len(now) == 0 {
		return nil
	}
	old, _ := hardware.Parse(folder.HardwareFile, now)
	var found finding.List
	for _, c := range codes {
		if where := old.Where(c); where != nil {
			found = append(found, finding.Finding{
				Rule: "DEV-011", Severity: finding.Error, Subject: "part:" + c, Where: where, Message: "code " + c + " stands in hardware.toml already",
				Remedy: finding.Remedy{Text: "Take the old entry out, or change the code in the draft."},
			})
		}
	}
	return found
}

// body is what goes to the end of hardware.toml: the entries without the head of their own file, each with
// its source.
func body(entries []byte, name string, first bool) []byte {
	list, _ := hardware.Parse(name, entries)
	text := strings.TrimPrefix(string(hardware.Encode(list)), "format = 1\n")
	head := "\n# read from " + strings.Map(func(r rune) rune {
		if r < 0x20 || r == 0x7f {
			return '?'
		}
		return r
	}, name) + "\n"
	if first {
		head = "format = 1\n" + head
	}
	return []byte(head + text)
}

// newOnes are the findings of after that before does not have, lines aside.
func newOnes(before, after finding.List) finding.List {
	known := map[string]int{}
	for _, f := range before {
		known[f.Rule+f.Subject+f.Message]++
	}
	var out finding.List
	for _, f := range after {
		if k := f.Rule + f.Subject + f.Message; known[k] > 0 {
			known[k]--
			continue
		}
		out = append(out, f)
	}
	return out
}
