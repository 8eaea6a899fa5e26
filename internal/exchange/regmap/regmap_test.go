package regmap

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"railwright/internal/design"
	"railwright/internal/exchange"
	"railwright/internal/exchange/extest"
)

func example(t *testing.T) *Map {
	w := extest.Example()
	m, found := Build(exchange.Points(w.Design, w.Project, w.Hardware, false), w.Design.Project.Name, "A", 0, false)
	if len(found) > 0 {
		t.Fatal(found)
	}
	return m
}

// The JSON schema validator is a library not written here; the round trip gives the map back.
func TestJSON(t *testing.T) {
	m := example(t)
	data, err := m.JSON()
	if err != nil {
		t.Fatal(err)
	}
	back, err := Read(data)
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
	var v any
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(v); err != nil {
		t.Fatal(err)
	}
	v.(map[string]any)["base"] = 2.0
	if s.Validate(v) == nil {
		t.Error("the schema takes base 2")
	}
}

func TestCSVAndMarkdownHoldEverySignal(t *testing.T) {
	m := example(t)
	rows, err := csv.NewReader(strings.NewReader(string(m.CSV()))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, s := range m.Stations {
		n += len(s.Registers)
	}
	if len(rows) != n+1 || n < 200 {
		t.Errorf("%d rows, %d signals", len(rows), n)
	}
	if got := strings.Count(string(m.Markdown()), "\n| "); got != n+len(m.Stations) {
		t.Errorf("%d lines of tables, %d signals in %d stations", got, n, len(m.Stations))
	}
}

func TestFaults(t *testing.T) {
	at := func(id, table string, number, words int) exchange.Point {
		return exchange.Point{ID: id, Tag: id, Station: "S1", Register: &design.Register{Table: table, Number: number, Words: words}}
	}
	_, found := Build([]exchange.Point{at("a", "input register", 0, 2), at("b", "input register", 1, 1), at("c", "coil", 1, 0), at("d", "holding register", 65535, 2), at("e", "table", 0, 1)}, "", "", 0, false)
	if len(found) != 3 {
		t.Fatal(found)
	}
	for i, id := range []string{"e", "b", "d"} {
		if found[i].Subject != "signal:"+id || found[i].Rule != "EXC-008" {
			t.Errorf("%v", found[i])
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"format":"railwright-modbus-map/1","stations":[{"registers":[{"table":"coil"}]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		if m, err := Read(data); err == nil {
			m.CSV()
			m.Markdown()
		}
	})
}
