package design

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"

	"railwright/internal/formula"
)

// note describes one key of design.json for the published schema.
type note struct {
	text string
	enum []string // the only values
	min  *float64 // least value of a number
}

// Schema returns the JSON Schema (draft 2020-12) of design.json, as published in
// docs/design.schema.json. It is built from the types of this package and the notes of
// schema_text.go. Keys beyond those listed are allowed to a reader, because a later version of the
// same format may add some; a strict schema forbids them and serves tests.
func Schema(strict bool) []byte {
	s := schema{strict: strict, defs: map[string]any{}}
	root := s.object(reflect.TypeFor[Design]())
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["title"] = "railwright design"
	root["description"] = "A complete design of remote I/O stations: what design.json holds. " +
		"Lists are sorted by id or by position; a unit stands in the key's name; money is in the basis's currency, exact to 0.01."
	root["$defs"] = s.defs
	b := &bytes.Buffer{}
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(root); err != nil {
		panic(err) // only strings, numbers, maps and lists went in
	}
	return b.Bytes()
}

type schema struct {
	strict bool
	defs   map[string]any
}

func (s *schema) object(t reflect.Type) map[string]any {
	props, required := map[string]any{}, []string{}
	byIndex := map[string]reflect.StructField{}
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		byIndex[name] = t.Field(i)
	}
	for _, f := range fieldsOf(t) {
		key := typeName(t) + "." + f.name
		n, ok := notes[key]
		if !ok {
			panic("design.Schema: no note for " + key)
		}
		p := s.kind(byIndex[f.name].Type, n)
		p["description"] = n.text
		props[f.name] = p
		if !f.omitEmpty {
			required = append(required, f.name)
		}
	}
	o := map[string]any{"type": "object", "properties": props, "required": required}
	if s.strict {
		o["additionalProperties"] = false
	}
	return o
}

// kind returns the schema of a type; enum and least value go to the innermost text or number.
func (s *schema) kind(t reflect.Type, n note) map[string]any {
	switch t.Kind() {
	case reflect.String:
		p := map[string]any{"type": "string"}
		if n.enum != nil {
			p["enum"] = n.enum
		}
		return p
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int, reflect.Int64:
		return withMin(map[string]any{"type": "integer"}, n)
	case reflect.Float64:
		return withMin(map[string]any{"type": "number"}, n)
	case reflect.Slice:
		return map[string]any{"type": "array", "items": s.kind(t.Elem(), n)}
	case reflect.Map:
		return map[string]any{"type": "object", "additionalProperties": s.kind(t.Elem(), n)}
	case reflect.Pointer:
		if t.Elem().Kind() == reflect.String {
			return map[string]any{"type": []string{"string", "null"}}
		}
		return s.kind(t.Elem(), n)
	case reflect.Interface: // infeed_at
		return map[string]any{"oneOf": []any{
			map[string]any{"const": "coupler"}, map[string]any{"type": "integer", "minimum": 1},
		}}
	case reflect.Struct:
		name := typeName(t)
		if _, done := s.defs[name]; !done {
			s.defs[name] = nil // holds the place while its fields are walked
			s.defs[name] = s.object(t)
		}
		return map[string]any{"$ref": "#/$defs/" + name}
	default:
		panic(fmt.Sprintf("design.Schema: no form for %s", t))
	}
}

// typeName is the name of a type in the schema; formula.Input and this package's Input must differ.
func typeName(t reflect.Type) string {
	if t == reflect.TypeFor[formula.Input]() {
		return "FormulaInput"
	}
	return t.Name()
}

func withMin(p map[string]any, n note) map[string]any {
	if n.min != nil {
		p["minimum"] = *n.min
	}
	return p
}
