package app

import (
	"os"
	"path/filepath"

	"railwright/internal/design"
	"railwright/internal/exchange/caex"
	"railwright/internal/exchange/iec"
	"railwright/internal/exchange/iec/strict"
	"railwright/internal/exchange/plcopen"
	"railwright/internal/exchange/regmap"
	"railwright/internal/exchange/sqlitefile"
	"railwright/internal/exchange/tables"
	"railwright/internal/exchange/tagcsv"
	"railwright/internal/words"
)

// iec prints the source and has the strict reader read it before it leaves the tool.
func (e *exporter) iec() ([]byte, error) {
	text := iec.Text(e.unit)
	f, err := strict.Parse(text)
	if err == nil {
		err = f.Check(strict.Options{Words: e.design.Project.Convention == "word"})
	}
	if err != nil {
		return nil, broken(words.Text("export.own_reader"), err)
	}
	return text, nil
}

func (e *exporter) plcopen() ([]byte, error) {
	if _, err := e.iec(); err != nil { // the same unit
		return nil, err
	}
	return plcopen.Write(e.unit, e.req.Created), nil
}

func (e *exporter) names() []string {
	out := make([]string, len(e.unit.Located))
	for i, v := range e.unit.Located {
		out[i] = v.Name
	}
	return out
}

func (e *exporter) csv() ([]byte, error) {
	t := tagcsv.Default()
	t.Spares = e.req.Spares
	if e.req.Template != "" {
		src, err := os.ReadFile(e.req.Template)
		if err != nil {
			return nil, usage(words.Text("export.no_template", e.req.Template))
		}
		read, found := tagcsv.ParseTemplate(filepath.Base(e.req.Template), src)
		if found.HasErrors() {
			return nil, &Fault{Kind: Usage, What: words.Text("export.bad_template", e.req.Template), Findings: found}
		}
		t = read
		t.Spares = t.Spares || e.req.Spares
	}
	data, found := tagcsv.Write(t, e.points, e.names())
	e.found = append(e.found, found...)
	return data, nil
}

func (e *exporter) registers() *regmap.Map {
	m, found := regmap.Build(e.points, e.design.Project.Name, e.design.Project.Revision, e.project.Basis.Address.ModbusBase, e.req.LowFirst)
	e.found = append(e.found, found...)
	return m
}

func (e *exporter) modbusCSV() ([]byte, error)      { return e.registers().CSV(), nil }
func (e *exporter) modbusJSON() ([]byte, error)     { return e.registers().JSON() }
func (e *exporter) modbusMarkdown() ([]byte, error) { return e.registers().Markdown(), nil }

func (e *exporter) caex() ([]byte, error) {
	name := e.req.Name
	if name == "" {
		name = "design.aml"
	}
	d := e.design
	if e.req.Station != "" {
		only := *d
		only.Stations = nil
		for _, s := range d.Stations {
			if s.ID == e.req.Station {
				only.Stations = append(only.Stations, s)
			}
		}
		d = &only
	}
	data := caex.Write(caex.Build(d, e.points), filepath.Base(name), e.req.Created)
	if _, err := caex.Read(data); err != nil {
		return nil, broken(words.Text("export.own_reader"), err)
	}
	return data, nil
}

func (e *exporter) json() ([]byte, error) { return design.Encode(e.design) }

func (e *exporter) sqlite() ([]byte, error) {
	return sqlitefile.Bytes(tables.All(e.design, e.points, e.names()))
}
