package exampletest

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"railwright/internal/demo"
	"railwright/internal/design"
	"railwright/internal/exchange"
	"railwright/internal/exchange/caex"
	"railwright/internal/exchange/iec"
	"railwright/internal/exchange/iec/strict"
	"railwright/internal/exchange/plcopen"
	"railwright/internal/exchange/regmap"
	"railwright/internal/exchange/sqlitefile"
	"railwright/internal/exchange/tables"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/peer"
	"railwright/internal/plan"
)

const epoch = "1970-01-01T00:00:00Z"

// example is the built-in example with its points, spare ones included, and the unit made of them.
type example struct {
	design *design.Design
	points []exchange.Point
	unit   *iec.Unit
	names  []string
}

var planned = sync.OnceValue(func() *example {
	files := folder.Files{}
	for _, f := range demo.Files() {
		files[f.Name] = f.Data
	}
	f := folder.Parse(files)
	list := hardware.Builtin()
	d, err := plan.Run(f.Project, list, plan.Options{Unplaced: f.LeftOut})
	if err != nil {
		panic(err)
	}
	e := &example{design: d, points: exchange.Points(d, f.Project, list, true)}
	e.unit, _ = iec.Build(e.points, iec.Head{Project: "P & Q", Controller: "K1", Revision: "A", Convention: d.Project.Convention, Tool: d.Input.Tool, IntervalMS: 20})
	for _, v := range e.unit.Located {
		e.names = append(e.names, v.Name)
	}
	return e
})

// signals counts the points that bear a signal, each once.
func (e *example) signals() int {
	n := 0
	for _, p := range e.points {
		if !p.Spare && !p.Back {
			n++
		}
	}
	return n
}

func (e *example) channels() int {
	n := 0
	for _, s := range e.design.Stations {
		for _, sl := range s.Slots {
			n += len(sl.Channels)
		}
	}
	return n
}

// TestPoints: every channel of the design is a point at the design's own address, every signal once, and the
// addresses are proved.
func TestPoints(t *testing.T) {
	e := planned()
	back := 0
	for _, p := range e.points {
		if p.Back {
			back++
		}
	}
	if len(e.points)-back != e.channels() || e.signals() < 300 {
		t.Errorf("%d points, %d channels, %d signals", len(e.points)-back, e.channels(), e.signals())
	}
	if found := exchange.Check(e.points, e.design.Project.Convention); len(found) > 0 {
		t.Error(found)
	}
}

// TestSource: the strict reader takes the source and finds the located variables of the design.
func TestSource(t *testing.T) {
	e := planned()
	f, err := strict.Parse(iec.Text(e.unit))
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Check(strict.Options{}); err != nil {
		t.Fatal(err)
	}
	located := slices.DeleteFunc(f.Globals(), func(g strict.Global) bool { return g.Address == "" })
	if len(located) != len(e.points) {
		t.Fatalf("%d located variables, %d points", len(located), len(e.points))
	}
	for i, p := range e.points {
		if g := located[i]; g.Address != p.Address || g.Type != p.Type || !p.Spare && iec.TagOf(g.Comment) != p.Tag {
			t.Fatalf("%+v is %+v", p, g)
		}
	}
}

// xmllint holds a document against a schema of testdata. Those schemas are our own statement of the parts of the
// published ones that the files use, and stricter (no other elements); the published ones are not in the registries.
func xmllint(t *testing.T, schema string, data []byte) {
	t.Helper()
	program := peer.Need(t, "xmllint")
	file := filepath.Join(t.TempDir(), "example.xml")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(program, "--noout", "--nonet", "--schema", schema, file).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

func TestPLCopenSchema(t *testing.T) {
	xmllint(t, "../plcopen/testdata/plcopen.xsd", plcopen.Write(planned().unit, epoch))
}

func TestCAEXSchema(t *testing.T) {
	e := planned()
	p := caex.Build(e.design, e.points)
	if len(p.Links) != e.signals() || len(p.Signals) != e.signals() {
		t.Errorf("%d links, %d signals of %d", len(p.Links), len(p.Signals), e.signals())
	}
	data := caex.Write(p, "example.aml", epoch)
	xmllint(t, "../caex/testdata/caex.xsd", data)
	back, err := caex.Read(data)
	if err != nil || cmp.Diff(p, back) != "" {
		t.Errorf("%v\n%s", err, cmp.Diff(p, back))
	}
}

func modbus(t *testing.T) *regmap.Map {
	t.Helper()
	e := planned()
	m, found := regmap.Build(e.points, e.design.Project.Name, "A", 0, false)
	if len(found) > 0 {
		t.Fatal(found)
	}
	return m
}

// TestModbusJSON: the validator, a library not written here, holds the map against the published schema; the
// round trip gives the map back.
func TestModbusJSON(t *testing.T) {
	m := modbus(t)
	data, err := m.JSON()
	if err != nil {
		t.Fatal(err)
	}
	back, err := regmap.Read(data)
	if err != nil || cmp.Diff(m, back) != "" {
		t.Fatalf("%v\n%s", err, cmp.Diff(m, back))
	}
	schema, err := os.ReadFile("../../../docs/modbus-map.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(string(schema)))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("map.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("map.json")
	if err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(any(v)); err != nil {
		t.Fatal(err)
	}
	v["base"] = 2.0
	if s.Validate(any(v)) == nil {
		t.Error("the schema takes base 2")
	}
}

func TestModbusCSVAndMarkdownHoldEverySignal(t *testing.T) {
	m := modbus(t)
	rows, err := csv.NewReader(strings.NewReader(string(m.CSV()))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, s := range m.Stations {
		n += len(s.Registers)
	}
	if len(rows) != n+1 || n != planned().signals() {
		t.Errorf("%d rows, %d registers, %d signals", len(rows), n, planned().signals())
	}
	if got := strings.Count(string(m.Markdown()), "\n| "); got != n+len(m.Stations) {
		t.Errorf("%d lines of tables, %d signals in %d stations", got, n, len(m.Stations))
	}
}

// TestSQLite: the sqlite3 program (Debian; another build of the engine that wrote the file) opens it: it is whole, its
// foreign keys hold, and queries that a person would ask give what the design says.
func TestSQLite(t *testing.T) {
	sqlite := peer.Need(t, "sqlite3")
	e := planned()
	data, err := sqlitefile.Bytes(tables.All(e.design, e.points, e.names))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "design.sqlite")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	metres := 0.0
	for _, c := range e.design.Cables {
		metres += c.LengthM
	}
	for query, want := range map[string]string{
		"PRAGMA integrity_check":        "ok",
		"PRAGMA foreign_key_check":      "",
		"SELECT count(*) FROM stations": fmt.Sprint(len(e.design.Stations)),
		"SELECT count(*) FROM stations_slots_channels WHERE signal_id <> ''":                                                                      fmt.Sprint(e.signals()),
		"SELECT count(*) FROM points WHERE tag IS NOT NULL AND area = 'I'":                                                                        fmt.Sprint(e.inputs()),
		"SELECT printf('%.3f', sum(length_m)) FROM cables":                                                                                        fmt.Sprintf("%.3f", metres),
		"SELECT count(*) FROM calculations":                                                                                                       fmt.Sprint(len(e.design.Calculations)),
		"SELECT count(*) FROM about WHERE note = '' AND column_name <> '' AND table_name IN ('stations', 'cables', 'supplies', 'feeders')":        "0",
		"SELECT count(*) FROM points p JOIN stations_slots_channels c ON c.signal_id = p.signal_id WHERE p.area = 'I' AND c.address <> p.address": "0",
	} {
		out, err := exec.Command(sqlite, "-readonly", path, query).CombinedOutput()
		if got := strings.TrimSpace(string(out)); err != nil || got != want {
			t.Errorf("%s: %s, want %s (%v)", query, got, want, err)
		}
	}
}

func (e *example) inputs() int {
	n := 0
	for _, p := range e.points {
		if !p.Spare && p.Area == 'I' {
			n++
		}
	}
	return n
}
