package app

import (
	"bytes"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/project"
	"railwright/internal/schedule"
	"railwright/internal/tabular"
)

// tables makes the schedules of a design of the source, held against the accepted design. The list is the hardware that the design was made with; wire is schedule.MM2 or
// schedule.AWG.
func (s *source) tables(d *design.Design, list *hardware.List, wire string) []schedule.Table {
	in := schedule.Input{Design: d, Project: s.project, Hardware: list, Wire: wire}
	if before, _, err := s.accepted(); err == nil {
		in.Previous = before
	}
	return schedule.Make(in)
}

// keep is the hardware that goes with a design by value: what it uses, and the glands, from which its
// schedules choose.
func (s *source) keep(d *design.Design) *hardware.List {
	all := codes(d)
	for _, p := range s.hardware.Parts {
		if p.Use == "gland" {
			all = append(all, p.Code)
		}
	}
	return s.hardware.Only(all)
}

// outFiles returns everything that plan --out writes of a design without a source.
func outFiles(d *design.Design, p *project.Project) ([]File, error) {
	return outTables(d, schedule.All(d, p))
}

// outTables returns everything that plan --out writes: one CSV a schedule, one workbook, the design.
func outTables(d *design.Design, tables []schedule.Table) ([]File, error) {
	data, err := design.Encode(d)
	if err != nil {
		return nil, err
	}
	files, err := tableFiles(tables)
	if err != nil {
		return nil, err
	}
	return append(files, File{Name: "design.json", Data: data}), nil
}

// tableFiles returns one CSV a schedule and one workbook of all.
func tableFiles(tables []schedule.Table) ([]File, error) {
	book := make([]tabular.Table, len(tables))
	var files []File
	for i, t := range tables {
		book[i] = toTabular(t, t.Title)
		var b bytes.Buffer
		if err := tabular.WriteCSV(&b, book[i], tabular.CSVOptions{}); err != nil {
			return nil, err
		}
		files = append(files, File{Name: "csv/" + t.Key + ".csv", Data: b.Bytes()})
	}
	var x bytes.Buffer
	if err := tabular.WriteXLSX(&x, book); err != nil {
		return nil, err
	}
	return append(files, File{Name: "schedules.xlsx", Data: x.Bytes()}), nil
}

func toTabular(t schedule.Table, name string) tabular.Table {
	out := tabular.Table{Name: name, Cols: tabular.Heads(t.Heads...), Rows: make([][]tabular.Value, len(t.Rows))}
	for i, row := range t.Rows {
		cells := make([]tabular.Value, len(row))
		for j, c := range row {
			switch c.Kind {
			case schedule.Text:
				cells[j] = tabular.T(c.Text)
			case schedule.Number:
				cells[j] = tabular.N(c.Number)
			case schedule.YesNo:
				cells[j] = tabular.B(c.Number == 1)
			}
		}
		out.Rows[i] = cells
	}
	return out
}
