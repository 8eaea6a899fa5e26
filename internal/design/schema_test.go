package design_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"railwright/internal/design"
	"railwright/internal/design/designtest"
)

var update = flag.Bool("update", false, "write the published schema anew")

// TestPublishedSchema: docs/design.schema.json is what the types say.
func TestPublishedSchema(t *testing.T) {
	path := filepath.Join("..", "..", "docs", "design.schema.json")
	want := design.Schema(false)
	if *update {
		if err := os.WriteFile(path, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("docs/design.schema.json is out of date: go test ./internal/design -run PublishedSchema -update, and read the diff")
	}
}

func compile(t *testing.T, schema []byte) *jsonschema.Schema {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("design.schema.json", v); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("design.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func validate(t *testing.T, s *jsonschema.Schema, data []byte) error {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(v)
}

// TestSchemaAccepts: a design is valid by a general library, in the strict form too; so is an empty one.
func TestSchemaAccepts(t *testing.T) {
	strict := compile(t, design.Schema(true))
	for name, d := range map[string]*design.Design{"sample": designtest.Sample(), "empty": {Format: design.Format, Project: design.Stated{Convention: "byte"}}} {
		if err := validate(t, strict, encode(t, d)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestSchemaRefuses: each fault alone makes a valid design invalid.
func TestSchemaRefuses(t *testing.T) {
	s := compile(t, design.Schema(false))
	for name, spoil := range map[string]func(d map[string]any){
		"other format":    func(d map[string]any) { d["format"] = "railwright-design/2" },
		"no stations":     func(d map[string]any) { delete(d, "stations") },
		"null list":       func(d map[string]any) { d["cables"] = nil },
		"text for number": func(d map[string]any) { d["cost"].(map[string]any)["total"] = "12" },
		"unknown use":     func(d map[string]any) { d["cables"].([]any)[0].(map[string]any)["use"] = "pipe" },
		"slot 0": func(d map[string]any) {
			d["stations"].([]any)[0].(map[string]any)["slots"].([]any)[0].(map[string]any)["slot"] = 0
		},
		"infeed nowhere": func(d map[string]any) {
			d["stations"].([]any)[0].(map[string]any)["supply_groups"].([]any)[0].(map[string]any)["infeed_at"] = "roof"
		},
		"half a byte":    func(d map[string]any) { d["stations"].([]any)[0].(map[string]any)["input_bytes"] = 0.5 },
		"bad severity":   func(d map[string]any) { d["findings"].([]any)[0].(map[string]any)["severity"] = "fatal" },
		"negative price": func(d map[string]any) { d["parts"].([]any)[0].(map[string]any)["price"] = -1 },
	} {
		var v map[string]any
		if err := json.Unmarshal(encode(t, designtest.Sample()), &v); err != nil {
			t.Fatal(err)
		}
		spoil(v)
		data, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if validate(t, s, data) == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}
