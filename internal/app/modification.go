package app

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"strings"

	"railwright/internal/design"
	"railwright/internal/document"
	"railwright/internal/modification"
	"railwright/internal/paper"
	"railwright/internal/project"
	"railwright/internal/scene/pdf"
	"railwright/internal/tabular"
	"railwright/internal/words"
)

// ModificationRequest asks for the work between two designs. Each is a project folder or a design.json. Of
// the old folder what is installed counts (built.json), then its accepted design; of the new one its
// accepted design if it is of now, else a new plan.
type ModificationRequest struct {
	Old, New  string
	Out       string // folder for the sheets; "" = none
	Overwrite bool
	Progress  func(Progress)
}

// ModificationResult is the work and what was written.
type ModificationResult struct {
	*modification.Modification
	Written []string
}

// Modification compares two designs.
func Modification(ctx context.Context, r ModificationRequest) (*ModificationResult, error) {
	if r.Old == "" || r.New == "" {
		return nil, usage(words.Text("app.modification_two"))
	}
	old, oldProject, _, err := oneDesign(ctx, r.Old, true, r.Progress)
	if err != nil {
		return nil, err
	}
	now, newProject, of, err := oneDesign(ctx, r.New, false, r.Progress)
	if err != nil {
		return nil, err
	}
	m := modification.Between(modification.Input{Old: old, New: now, OldProject: oldProject, NewProject: newProject})
	res := &ModificationResult{Modification: m}
	if r.Out == "" {
		return res, nil
	}
	files, err := modificationFiles(m, now, newProject, of)
	if err != nil {
		return nil, broken("make the modification sheets", err)
	}
	if err := writeSet(r.Out, files, r.Overwrite); err != nil {
		return nil, err
	}
	res.Written = append(res.Written, words.Text("app.wrote_modification", r.Out))
	return res, nil
}

// oneDesign reads a design.json, or the design of a folder; the third value says what it is: "accepted", "plan", or
// "" where a file does not tell.
func oneDesign(ctx context.Context, path string, installed bool, step func(Progress)) (*design.Design, *project.Project, string, error) {
	if info, err := os.Stat(path); err == nil && !info.IsDir() {
		data, err := os.ReadFile(path)
		if err != nil {
			return nil, nil, "", broken(words.Text("app.cannot_read", path), err)
		}
		d, err := design.Decode(data)
		if err != nil {
			if _, built, err2 := modification.DecodeBuilt(data); err2 == nil {
				return built, nil, "", nil
			}
			return nil, nil, "", &Fault{Kind: NoDesign, What: words.Text("app.not_design", path), Err: err, Hints: []string{words.Text("app.not_design_hint")}}
		}
		return d, nil, "", nil
	}
	src, err := open(path, false)
	if err != nil {
		return nil, nil, "", err
	}
	if installed {
		if src.built != nil {
			return src.built, src.project, "accepted", nil
		}
		if d, _, err := src.accepted(); err != nil || d != nil {
			return d, src.project, "accepted", err
		}
	}
	d, of, err := src.current(ctx, step)
	if err != nil && !installed {
		if fresh, err2 := src.plan(ctx, step); err2 == nil {
			return fresh, src.project, "plan", nil // the accepted design is of an older folder
		}
	}
	return d, src.project, of, err
}

// modificationFiles are the sheets: everything as JSON, the tables as XLSX and CSV.
func modificationFiles(m *modification.Modification, now *design.Design, p *project.Project, of string) ([]File, error) {
	data, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		return nil, err
	}
	files := []File{{Name: "modification.json", Data: append(data, '\n')}}
	tables := []tabular.Table{stepsTable(m), outagesTable(m), changesTable(m), partsTable(m)}
	for _, t := range tables {
		var b bytes.Buffer
		if err := tabular.WriteCSV(&b, t, tabular.CSVOptions{}); err != nil {
			return nil, err
		}
		files = append(files, File{Name: "csv/" + strings.ReplaceAll(strings.ToLower(t.Name), " ", "-") + ".csv", Data: b.Bytes()})
	}
	var x bytes.Buffer
	if err := tabular.WriteXLSX(&x, tables); err != nil {
		return nil, err
	}
	set := paper.Setting{Project: now.Project.Name, Controller: now.Project.Controller, Revision: now.Project.Revision, Draft: true}
	if p != nil {
		set.Draft = len(notForConstruction(now, p, of)) > 0
	}
	order, err := pdf.Bytes(document.WorkOrder(m, set), pdf.Info{Title: set.Project})
	if err != nil {
		return nil, err
	}
	return append(files, File{Name: "modification.xlsx", Data: x.Bytes()}, File{Name: "work-order.pdf", Data: order}), nil
}

func stepsTable(m *modification.Modification) tabular.Table {
	t := tabular.Table{Name: words.Text("modification.sheet_steps"), Cols: tabular.Heads("step", "outage", "kind", "station", "text", "cautions", "way_back", "done", "by", "at")}
	for _, s := range m.Steps {
		outage := tabular.Value{}
		if s.Outage > 0 {
			outage = tabular.I(int64(s.Outage))
		}
		t.Rows = append(t.Rows, []tabular.Value{
			tabular.I(int64(s.Number)), outage, tabular.T(string(s.Kind)), tabular.T(s.Station), tabular.T(s.Text), tabular.T(strings.Join(s.Cautions, " ")),
			tabular.T(s.Back),
			{},
			{},
			{},
		})
	}
	return t
}

func outagesTable(m *modification.Modification) tabular.Table {
	t := tabular.Table{
		Name: words.Text("modification.sheet_outages"),
		Cols: tabular.Heads("outage", "off", "first_step", "last_step", "signals_out", "signals", "safe_states", "redundant_partners_out", "permission_of"),
	}
	for _, o := range m.Outages {
		t.Rows = append(t.Rows, []tabular.Value{
			tabular.I(int64(o.Number)), tabular.T(o.Unit), tabular.I(int64(o.First)), tabular.I(int64(o.Last)), tabular.I(int64(len(o.Signals))),
			tabular.T(strings.Join(o.Signals, ", ")), tabular.T(strings.Join(o.Trips, "; ")), tabular.T(strings.Join(o.Partners, "; ")), tabular.T(strings.Join(o.Permissions, "; ")),
		})
	}
	return t
}

func changesTable(m *modification.Modification) tabular.Table {
	t := tabular.Table{Name: words.Text("modification.sheet_signals"), Cols: tabular.Heads("signal", "tag", "change", "new_loop_sheet")}
	for _, c := range m.Signals {
		t.Rows = append(t.Rows, []tabular.Value{tabular.T(c.Signal), tabular.T(c.Tag), tabular.T(strings.Join(c.What, ", ")), tabular.B(c.Sheet)})
	}
	return t
}

func partsTable(m *modification.Modification) tabular.Table {
	t := tabular.Table{Name: words.Text("modification.sheet_parts"), Cols: tabular.Heads("what", "code", "title", "count", "unit")}
	add := func(what string, all []modification.PartCount) {
		for _, p := range all {
			t.Rows = append(t.Rows, []tabular.Value{tabular.T(what), tabular.T(p.Code), tabular.T(p.Title), tabular.N(p.Count), tabular.T(p.Unit)})
		}
	}
	add(words.Text("modification.buy"), m.Buy)
	add(words.Text("modification.comes_out"), m.Free)
	return t
}
