package app

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"railwright/internal/design"
	"railwright/internal/exchange"
	"railwright/internal/exchange/iec"
	"railwright/internal/finding"
	"railwright/internal/hardware"
	"railwright/internal/project"
	"railwright/internal/words"
)

// ExportRequest asks for a design in an open format.
type ExportRequest struct {
	Folder   string
	Example  bool   // the built-in example instead of a folder
	As       string // a name of ExportFormats
	Station  string // only this station's points; "" = all. Formats of whole designs do not take it
	Template string // csv: file with the column template; "" = the built-in one
	Spares   bool   // spare channels too
	LowFirst bool   // Modbus: values of two registers have the low word first
	Created  string // date and time for formats that want one, as 2026-01-31T12:00:00Z; "" = 1970-01-01T00:00:00Z
	Name     string // file name to be written into formats that want one; "" = NAME and the format's ending
	Progress func(Progress)
}

// ExportResult is the file and what was found in making it.
type ExportResult struct {
	Format   ExportFormat
	Data     []byte // nil if Findings has errors
	Points   int    // located variables
	From     string // "accepted" or "plan"
	Findings finding.List
}

// ExportFormat is one open format.
type ExportFormat struct {
	Name, Ending string
	Note         string // who uses it, in a few words
	Binary       bool   // no text for a terminal
	Whole        bool   // of the whole design: takes no Station
	make         func(*exporter) ([]byte, error)
}

var exportFormats = []ExportFormat{
	{Name: "iec", Ending: ".st", Note: words.Text("export.iec"), make: (*exporter).iec},
	{Name: "plcopen", Ending: ".xml", Note: words.Text("export.plcopen"), make: (*exporter).plcopen},
	{Name: "csv", Ending: ".csv", Note: words.Text("export.csv"), make: (*exporter).csv},
	{Name: "modbus-csv", Ending: ".csv", Note: words.Text("export.modbus_csv"), make: (*exporter).modbusCSV},
	{Name: "modbus-json", Ending: ".json", Note: words.Text("export.modbus_json"), make: (*exporter).modbusJSON},
	{Name: "modbus-md", Ending: ".md", Note: words.Text("export.modbus_md"), make: (*exporter).modbusMarkdown},
	{Name: "caex", Ending: ".aml", Note: words.Text("export.caex"), make: (*exporter).caex},
	{Name: "json", Ending: ".json", Note: words.Text("export.json"), Whole: true, make: (*exporter).json},
	{Name: "sqlite", Ending: ".sqlite", Note: words.Text("export.sqlite"), Binary: true, Whole: true, make: (*exporter).sqlite},
}

// ExportFormats are the formats in the order of the job.
func ExportFormats() []ExportFormat { return append([]ExportFormat(nil), exportFormats...) }

func formatNames() []string {
	var out []string
	for _, f := range exportFormats {
		out = append(out, f.Name)
	}
	return out
}

// exporter has everything that a format may want.
type exporter struct {
	req      ExportRequest
	design   *design.Design
	project  *project.Project
	hardware *hardware.List
	points   []exchange.Point // with spares where wanted
	unit     *iec.Unit        // of points
	found    finding.List
}

// Export makes the file of the folder's accepted design or, where none is accepted, of a plan made for the
// purpose. Nothing is written. Addresses are proved first: where one is faulty the result has no data.
func Export(ctx context.Context, r ExportRequest) (*ExportResult, error) {
	if err := (PlanRequest{Folder: r.Folder, Example: r.Example}).valid(); err != nil {
		return nil, err
	}
	format, err := r.format()
	if err != nil {
		return nil, err
	}
	src, err := open(r.Folder, r.Example)
	if err != nil {
		return nil, err
	}
	d, from, err := src.current(ctx, r.Progress)
	if err != nil {
		return nil, err
	}
	e := &exporter{req: r, design: d, project: src.project, hardware: src.hardware}
	if d.Hardware != "" { // the accepted design keeps the hardware it was made with
		e.hardware, _ = hardware.Parse(words.Text("export.accepted_hardware"), []byte(d.Hardware))
	}
	if err := e.survey(format); err != nil {
		return nil, err
	}
	res := &ExportResult{Format: format, Points: len(e.points), From: from}
	if !e.found.HasErrors() {
		if res.Data, err = format.make(e); err != nil {
			return nil, err
		}
	}
	if res.Findings = e.found; res.Findings.HasErrors() {
		res.Data = nil
	}
	res.Findings.Sort()
	return res, nil
}

var xmlDate = regexp.MustCompile(`^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)$`)

func (r *ExportRequest) format() (ExportFormat, error) {
	if r.Created == "" {
		r.Created = "1970-01-01T00:00:00Z"
	}
	if !xmlDate.MatchString(r.Created) {
		return ExportFormat{}, usage(words.Text("export.bad_date", r.Created))
	}
	for _, f := range exportFormats {
		if f.Name != r.As {
			continue
		}
		switch {
		case r.Template != "" && f.Name != "csv":
			return f, usage(words.Text("export.template_only"))
		case r.Station != "" && f.Whole:
			return f, usage(words.Text("export.whole", f.Name))
		}
		return f, nil
	}
	what := words.Text("export.no_format", r.As, strings.Join(formatNames(), ", "))
	if near, ok := finding.Nearest(r.As, formatNames()); ok {
		what = words.Text("export.near_format", r.As, near)
	}
	return ExportFormat{}, usage(what)
}

// survey lists the points, proves their addresses and says what is left out.
func (e *exporter) survey(format ExportFormat) error {
	convention := e.design.Project.Convention
	all := exchange.Points(e.design, e.project, e.hardware, true)
	e.found = append(exchange.Check(all, convention), exchange.Left(all, e.design)...)
	spares := e.req.Spares || format.Name == "sqlite" || format.Name == "csv"
	known := e.req.Station == ""
	kept := make([]bool, len(all))
	for i, p := range all {
		known = known || p.Station == e.req.Station
		if kept[i] = (spares || !p.Spare) && (e.req.Station == "" || p.Station == e.req.Station); kept[i] {
			e.points = append(e.points, p)
		}
	}
	if !known {
		return usage(words.Text("export.no_station", e.req.Station))
	}
	whole, found := iec.Build(all, iec.Head{
		Project: e.design.Project.Name, Controller: e.design.Project.Controller, Revision: e.design.Project.Revision, Convention: convention,
		Input: e.design.Input.SHA256, Tool: e.design.Input.Tool, IntervalMS: int64(math.Round(float64(e.project.Network.Scan) * 1000)),
	})
	e.unit = whole.Only(func(i int) bool { return kept[i] }) // a name is the same in every export
	if format.Name != "json" && format.Name != "caex" && !strings.HasPrefix(format.Name, "modbus") {
		e.found = append(e.found, found...)
	}
	return nil
}

// WriteExport puts an export in place whole: beside the old file first, then renamed. A file that stands
// there already is replaced only with overwrite.
func WriteExport(path string, data []byte, overwrite bool) error {
	if _, err := os.Stat(path); err == nil && !overwrite {
		return usage(words.Text("export.exists", path), words.Text("app.overwrite"))
	}
	dir := filepath.Dir(path)
	temp, err := os.MkdirTemp(dir, ".writing-")
	if err != nil {
		return outFault(dir, err)
	}
	defer os.RemoveAll(temp)
	at := filepath.Join(temp, "one")
	if err := writeSynced(at, data); err != nil {
		return outFault(dir, err)
	}
	if err := os.Rename(at, path); err != nil {
		return outFault(dir, err)
	}
	return nil
}
