package app

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"railwright/internal/exchange/caex"
	"railwright/internal/exchange/iec/strict"
	"railwright/internal/exchange/plcopen"
	"railwright/internal/exchange/regmap"
	"railwright/internal/exchange/tables"
)

var samples = flag.Bool("samples", false, "write docs/samples/exchange anew")

const samplesDir = "../../docs/samples/exchange"

// sampleFiles are the exports that stand in the documentation: one station of the built-in example each.
var sampleFiles = map[string]ExportRequest{
	"station.st":  {As: "iec"},
	"station.xml": {As: "plcopen"},
	"tags.csv":    {As: "csv", Template: samplesDir + "/columns.toml"},
	"modbus.csv":  {As: "modbus-csv"},
	"modbus.json": {As: "modbus-json"},
	"modbus.md":   {As: "modbus-md"},
	"station.aml": {As: "caex"},
}

// TestSamples: each sample of the documentation is what its reader takes, and small enough to be looked at. Run with
// -samples to write them anew from the example as it is planned now.
func TestSamples(t *testing.T) {
	if *samples {
		writeSamples(t)
	}
	judges := map[string]func([]byte) error{
		".st": func(b []byte) error {
			f, err := strict.Parse(b)
			if err != nil {
				return err
			}
			return f.Check(strict.Options{})
		},
		".xml":  func(b []byte) error { _, err := plcopen.Read(b); return err },
		".aml":  func(b []byte) error { _, err := caex.Read(b); return err },
		".json": func(b []byte) error { _, err := regmap.Read(b); return err },
	}
	readme, err := os.ReadFile(filepath.Join(samplesDir, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	for name := range sampleFiles {
		data, err := os.ReadFile(filepath.Join(samplesDir, name))
		if err != nil || len(data) == 0 || len(data) > 80_000 {
			t.Errorf("%s: %d bytes, %v", name, len(data), err)
			continue
		}
		if judge := judges[filepath.Ext(name)]; judge != nil {
			if err := judge(data); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
		if !strings.Contains(string(readme), "`"+name+"`") {
			t.Errorf("README.md has no line on %s", name)
		}
	}
}

func writeSamples(t *testing.T) {
	whole, err := Export(context.Background(), ExportRequest{Example: true, As: "modbus-json"})
	if err != nil {
		t.Fatal(err)
	}
	station := smallest(t, whole.Data)
	for name, r := range sampleFiles {
		r.Example, r.Station, r.Name = true, station, name
		res, err := Export(context.Background(), r)
		if err != nil {
			t.Fatal(err)
		}
		put(t, filepath.Join(samplesDir, name), string(res.Data))
	}
	src, err := open("", true)
	if err != nil {
		t.Fatal(err)
	}
	d, err := src.plan(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString("# Tables of `railwright export --as sqlite`\n\nWritten by a test; the file's table `about` says the same.\n")
	for _, x := range tables.All(d, nil, nil) {
		parent := ""
		if x.Parent != "" {
			parent = ", rows of `" + x.Parent + "`"
		}
		fmt.Fprintf(&b, "\n## %s\n\n%s%s\n\n| column | type | key | |\n|---|---|---|---|\n", x.Name, x.Note, parent)
		for _, c := range x.Columns {
			key := ""
			if c.Key {
				key = "key"
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", c.Name, c.Type, key, strings.ReplaceAll(c.Note, "|", "\\|"))
		}
	}
	put(t, filepath.Join(samplesDir, "tables.md"), b.String())
}

// smallest is the station with the fewest registers.
func smallest(t *testing.T, modbus []byte) string {
	var m regmap.Map
	if err := json.Unmarshal(modbus, &m); err != nil {
		t.Fatal(err)
	}
	best := m.Stations[0]
	for _, s := range m.Stations {
		if len(s.Registers) < len(best.Registers) {
			best = s
		}
	}
	return best.Station
}
