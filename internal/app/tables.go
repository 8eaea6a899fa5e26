package app

import (
	"bytes"

	"railwright/internal/design"
	"railwright/internal/project"
	"railwright/internal/schedule"
	"railwright/internal/tabular"
)

// outFiles returns everything that plan --out writes: the design, one workbook, one CSV a schedule.
func outFiles(d *design.Design, p *project.Project) ([]File, error) {
	data, err := design.Encode(d)
	if err != nil {
		return nil, err
	}
	tables := schedule.All(d, p)
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
	return append(files, File{Name: "schedules.xlsx", Data: x.Bytes()}, File{Name: "design.json", Data: data}), nil
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
