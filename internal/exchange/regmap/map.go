package regmap

import (
	"cmp"
	"fmt"
	"slices"

	"railwright/internal/exchange"
	"railwright/internal/finding"
)

// Format names the form of the JSON map.
const Format = "railwright-modbus-map/1"

// Map is the register map of all stations, in order of station.
type Map struct {
	Format    string    `json:"format"`
	Project   string    `json:"project"`
	Revision  string    `json:"revision"`
	Base      int       `json:"base"`       // number of the first bit and register: 0 or 1
	WordOrder string    `json:"word_order"` // of values that take two registers: "high first" or "low first"
	Stations  []Station `json:"stations"`
}

// Station is one server with its registers by table and number.
type Station struct {
	Station   string     `json:"station"`
	Name      string     `json:"name"`
	Address   string     `json:"address"`
	Node      int        `json:"node"`
	Registers []Register `json:"registers"`
}

// Register is one signal's place. Scaling fields are 0 where Scaled is false.
type Register struct {
	Table       string  `json:"table"`
	Number      int     `json:"number"`
	Words       int     `json:"words"` // registers taken; 1 for bits
	Read        int     `json:"read_function"`
	Write       int     `json:"write_function"` // 0: cannot be written
	Type        string  `json:"type"`
	Tag         string  `json:"tag"`
	ID          string  `json:"id"`
	Description string  `json:"description"`
	Unit        string  `json:"unit"`
	Scaled      bool    `json:"scaled"`
	RawLow      int64   `json:"raw_low"`
	RawHigh     int64   `json:"raw_high"`
	ValueLow    float64 `json:"value_low"`
	ValueHigh   float64 `json:"value_high"`
}

// functions are the function codes of each table: read, and write of a single bit or of registers.
var functions = map[string][2]int{"discrete input": {2, 0}, "coil": {1, 5}, "input register": {4, 0}, "holding register": {3, 16}}

var tables = []string{"coil", "discrete input", "input register", "holding register"}

// Build makes the map. Faults are EXC-008 errors: two signals on one place, a table that Modbus does not have, a
// number out of range.
func Build(points []exchange.Point, project, revision string, base int, lowFirst bool) (*Map, finding.List) {
	m := &Map{Format: Format, Project: project, Revision: revision, Base: base, WordOrder: "high first", Stations: []Station{}}
	if lowFirst {
		m.WordOrder = "low first"
	}
	var found finding.List
	at := map[string]int{}
	for _, p := range points {
		if p.Register == nil {
			continue
		}
		i, ok := at[p.Station]
		if !ok {
			i = len(m.Stations)
			at[p.Station] = i
			m.Stations = append(m.Stations, Station{Station: p.Station, Name: p.Node.Name, Address: p.Node.Address, Node: p.Node.Node})
		}
		m.Stations[i].Registers = append(m.Stations[i].Registers, register(p))
	}
	for i := range m.Stations {
		found = append(found, m.prove(&m.Stations[i])...)
	}
	return m, found
}

func register(p exchange.Point) Register {
	r := Register{
		Table: p.Register.Table, Number: p.Register.Number, Words: max(p.Register.Words, 1), Type: p.Type, Tag: p.Tag, ID: p.ID, Description: p.Description, Unit: p.Unit,
		Scaled: p.Scale.Known,
	}
	f := functions[r.Table]
	r.Read, r.Write = f[0], f[1]
	if r.Write == 16 && r.Words == 1 {
		r.Write = 6
	}
	if r.Scaled {
		r.RawLow, r.RawHigh, r.ValueLow, r.ValueHigh = p.Scale.RawLow, p.Scale.RawHigh, p.Scale.Low, p.Scale.High
	}
	return r
}

func (m *Map) prove(s *Station) finding.List {
	var found finding.List
	add := func(r Register, format string, args ...any) {
		found = append(found, finding.Finding{
			Rule: "EXC-008", Severity: finding.Error, Subject: "signal:" + r.ID, Message: fmt.Sprintf(format, args...),
			Remedy: finding.Remedy{Text: "Plan again; where it stays, the registers of the accepted design do not fit its hardware."},
			Source: "MODBUS Application Protocol Specification V1.1b3, 4.3 and 4.4",
		})
	}
	slices.SortFunc(s.Registers, func(a, b Register) int {
		return cmp.Or(cmp.Compare(slices.Index(tables, a.Table), slices.Index(tables, b.Table)), cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
	})
	for i, r := range s.Registers {
		if _, ok := functions[r.Table]; !ok {
			add(r, "table %q of %s is none of coil, discrete input, input register, holding register", r.Table, r.Tag)
			continue
		}
		if r.Number < m.Base || r.Number-m.Base+r.Words-1 > 65535 {
			add(r, "%s %d of %s is outside %d to %d", r.Table, r.Number, r.Tag, m.Base, m.Base+65535)
		}
		if i == 0 {
			continue
		}
		if b := s.Registers[i-1]; b.Table == r.Table && r.Number < b.Number+b.Words {
			add(r, "%s %d of %s overlaps %d to %d of %s on %s", r.Table, r.Number, r.Tag, b.Number, b.Number+b.Words-1, b.Tag, s.Station)
		}
	}
	return found
}
