package design

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Encode returns the one byte form of a design: JSON in UTF-8, two spaces of indent, the keys of
// every object sorted by their bytes, numbers with the fewest digits that read back to the same
// value, empty lists as [] (never null), no escapes beyond those that JSON asks for, and one line
// end at the end. Equal designs give equal bytes.
//
// It returns an error only for a number that JSON has no form for (NaN, infinity), and names it.
func Encode(d *Design) ([]byte, error) { return encode(reflect.ValueOf(d), "design") }

// Marshal gives other results (findings, lists of files) in the same byte form. It takes structs
// whose exported fields all have JSON names, and what such structs are made of.
func Marshal(v any) ([]byte, error) { return encode(reflect.ValueOf(v), "result") }

func encode(v reflect.Value, path string) ([]byte, error) {
	w := writer{}
	if err := w.value(v, 0, path); err != nil {
		return nil, err
	}
	w.buf.WriteByte('\n')
	return w.buf.Bytes(), nil
}

// writer writes Go values in the one byte form.
type writer struct{ buf bytes.Buffer }

func (w *writer) newline(depth int) {
	w.buf.WriteByte('\n')
	for range depth {
		w.buf.WriteString("  ")
	}
}

func (w *writer) value(v reflect.Value, depth int, path string) error {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			w.buf.WriteString("null")
			return nil
		}
		return w.value(v.Elem(), depth, path)
	case reflect.Bool:
		w.buf.WriteString(strconv.FormatBool(v.Bool()))
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		w.buf.WriteString(strconv.FormatInt(v.Int(), 10))
	case reflect.Float64:
		return w.number(v.Float(), path)
	case reflect.String:
		return w.text(v.String())
	case reflect.Slice:
		return w.list(v, depth, path)
	case reflect.Map:
		return w.mapping(v, depth, path)
	case reflect.Struct:
		return w.object(v, depth, path)
	default:
		panic("design.Encode: no form for " + v.Type().String())
	}
	return nil
}

func (w *writer) number(f float64, path string) error {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return fmt.Errorf("encode design: %s is %v, which is no number", path, f)
	}
	if f == 0 { // also -0
		f = 0
	}
	b, err := json.Marshal(f)
	if err != nil {
		return fmt.Errorf("encode design: %s: %w", path, err)
	}
	w.buf.Write(b)
	return nil
}

func (w *writer) text(s string) error {
	e := json.NewEncoder(&w.buf)
	e.SetEscapeHTML(false)
	if err := e.Encode(strings.ToValidUTF8(s, "\uFFFD")); err != nil {
		return err
	}
	w.buf.Truncate(w.buf.Len() - 1) // the encoder's line end
	return nil
}

func (w *writer) list(v reflect.Value, depth int, path string) error {
	if v.Len() == 0 {
		w.buf.WriteString("[]")
		return nil
	}
	w.buf.WriteByte('[')
	for i := range v.Len() {
		if i > 0 {
			w.buf.WriteByte(',')
		}
		w.newline(depth + 1)
		if err := w.value(v.Index(i), depth+1, path+"["+strconv.Itoa(i)+"]"); err != nil {
			return err
		}
	}
	w.newline(depth)
	w.buf.WriteByte(']')
	return nil
}

func (w *writer) mapping(v reflect.Value, depth int, path string) error {
	keys := v.MapKeys()
	slices.SortFunc(keys, func(a, b reflect.Value) int { return cmp.Compare(a.String(), b.String()) })
	return w.pairs(len(keys), depth, func(i int) (string, reflect.Value) {
		return keys[i].String(), v.MapIndex(keys[i])
	}, path)
}

func (w *writer) object(v reflect.Value, depth int, path string) error {
	all := fieldsOf(v.Type())
	use := make([]field, 0, len(all))
	for _, f := range all {
		if !f.omitEmpty || !v.Field(f.index).IsZero() {
			use = append(use, f)
		}
	}
	return w.pairs(len(use), depth, func(i int) (string, reflect.Value) {
		return use[i].name, v.Field(use[i].index)
	}, path)
}

// pairs writes n keys, already sorted, with their values.
func (w *writer) pairs(n, depth int, at func(i int) (string, reflect.Value), path string) error {
	if n == 0 {
		w.buf.WriteString("{}")
		return nil
	}
	w.buf.WriteByte('{')
	for i := range n {
		if i > 0 {
			w.buf.WriteByte(',')
		}
		w.newline(depth + 1)
		key, value := at(i)
		if err := w.text(key); err != nil {
			return err
		}
		w.buf.WriteString(": ")
		if err := w.value(value, depth+1, path+"."+key); err != nil {
			return err
		}
	}
	w.newline(depth)
	w.buf.WriteByte('}')
	return nil
}

// field is one field of a struct that stands in the file.
type field struct {
	name      string
	index     int
	omitEmpty bool
}

var fieldCache sync.Map // reflect.Type -> []field

// fieldsOf returns the fields with a JSON name, sorted by that name.
func fieldsOf(t reflect.Type) []field {
	if known, ok := fieldCache.Load(t); ok {
		return known.([]field)
	}
	var fields []field
	for i := range t.NumField() {
		name, opts, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		if !t.Field(i).IsExported() || name == "-" {
			continue
		}
		if name == "" {
			panic("design: field " + t.Field(i).Name + " of " + t.String() + " has no JSON name")
		}
		fields = append(fields, field{name: name, index: i, omitEmpty: strings.Contains(opts, "omitempty")})
	}
	slices.SortFunc(fields, func(a, b field) int { return cmp.Compare(a.name, b.name) })
	fieldCache.Store(t, fields)
	return fields
}
