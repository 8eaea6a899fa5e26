package tables

import (
	"cmp"
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/exchange"
)

// All lays out a design and its points (names are their legal identifiers, one a point).
func All(d *design.Design, points []exchange.Point, names []string) []Table {
	f := flattener{at: map[string]int{}, notes: schemaNotes()}
	root := f.table("design", "What the file was made from.", "", nil)
	v := reflect.ValueOf(*d)
	var row []any
	t := v.Type()
	for i := range t.NumField() {
		name := jsonName(t.Field(i))
		switch field := v.Field(i); field.Kind() {
		case reflect.String:
			f.column(root, name, Text, f.notes["Design."+name])
			row = append(row, field.String())
		case reflect.Struct:
			f.single(name, f.notes["Design."+name], field)
		default:
			f.list(name, f.notes["Design."+name], "", nil, nil, field)
		}
	}
	f.tables[root].Rows = [][]any{row}
	f.points(points, names)
	for i := range f.tables {
		for r := range f.tables[i].Rows {
			for len(f.tables[i].Rows[r]) < len(f.tables[i].Columns) {
				f.tables[i].Rows[r] = append(f.tables[i].Rows[r], nil)
			}
		}
	}
	return f.tables
}

type flattener struct {
	tables []Table
	at     map[string]int
	notes  map[string]string // "Station.id" -> note of the published schema
}

// schemaNotes reads the descriptions out of the schema of design.json.
func schemaNotes() map[string]string {
	type object struct {
		Properties map[string]struct {
			Description string `json:"description"`
		} `json:"properties"`
	}
	var s struct {
		object
		Defs map[string]object `json:"$defs"`
	}
	if err := json.Unmarshal(design.Schema(false), &s); err != nil {
		panic(err) // our own schema
	}
	out := map[string]string{}
	for name, p := range s.Properties {
		out["Design."+name] = p.Description
	}
	for def, o := range s.Defs {
		for name, p := range o.Properties {
			out[def+"."+name] = p.Description
		}
	}
	return out
}

// table returns the table of the name, made where it is missing, with its parent's keys as first columns.
func (f *flattener) table(name, note, parent string, keys []Column) int {
	if i, ok := f.at[name]; ok {
		return i
	}
	f.at[name] = len(f.tables)
	f.tables = append(f.tables, Table{Name: name, Note: note, Parent: parent, ParentKeys: len(keys), Columns: slices.Clone(keys)})
	return len(f.tables) - 1
}

// column returns the column of the name, made where it is missing.
func (f *flattener) column(table int, name string, kind Type, note string) int {
	t := &f.tables[table]
	for i, c := range t.Columns {
		if c.Name == name {
			return i
		}
	}
	t.Columns = append(t.Columns, Column{Name: name, Type: kind, Note: note})
	return len(t.Columns) - 1
}

// single is an object that the design has once: one row; its lists become tables without parent.
func (f *flattener) single(name, note string, v reflect.Value) {
	i := f.table(name, note, "", nil)
	f.tables[i].Rows = append(f.tables[i].Rows, f.row(i, "", name, nil, nil, v, nil))
}

// list turns a slice or a map into a table, whose rows lead with the parent's key values.
func (f *flattener) list(name, note, parent string, keys []Column, values []any, v reflect.Value) {
	i := f.table(name, note, parent, keys)
	add := func(key Column, keyValue any, item reflect.Value) {
		c := f.column(i, key.Name, key.Type, key.Note)
		f.tables[i].Columns[c].Key = true
		row := append(slices.Clone(values), keyValue)
		if item.Kind() != reflect.Struct {
			f.column(i, "value", typeOf(item.Type()), "")
			f.tables[i].Rows = append(f.tables[i].Rows, append(row, scalar(item)))
			return
		}
		own := append(slices.Clone(keys), Column{Name: last(name) + "_" + key.Name, Type: key.Type, Note: "row of " + name, Key: true})
		n := len(f.tables[i].Rows)
		f.tables[i].Rows = append(f.tables[i].Rows, nil) // children come after their parent
		full := f.row(i, "", name, own, row, item, row)
		f.tables[i].Rows[n] = full
	}
	if v.Kind() == reflect.Map {
		f.head(i, Column{Name: "name", Type: Text, Note: "key of " + last(name)}, elemOf(v.Type()))
		for _, k := range slices.Sorted(maps.Keys(keysOf(v))) {
			add(Column{Name: "name", Type: Text}, k, reflect.Indirect(v.MapIndex(reflect.ValueOf(k))))
		}
		return
	}
	elem := elemOf(v.Type())
	key, byID := Column{Name: "n", Type: Integer, Note: "place in " + last(name) + ", from 1"}, false
	if elem.Kind() == reflect.Struct {
		if _, ok := elem.FieldByName("ID"); ok {
			key, byID = Column{Name: "id", Type: Text, Note: f.notes[elem.Name()+".id"]}, true
		}
	}
	f.head(i, key, elem)
	for n := range v.Len() {
		item := v.Index(n)
		if byID {
			add(key, item.FieldByName("ID").String(), item)
			continue
		}
		add(key, int64(n+1), item)
	}
}

// head gives a table its key and, for plain values, its value column even where it has no row.
func (f *flattener) head(table int, key Column, elem reflect.Type) {
	c := f.column(table, key.Name, key.Type, key.Note)
	f.tables[table].Columns[c].Key = true
	if elem.Kind() != reflect.Struct {
		f.column(table, "value", typeOf(elem), "")
		return
	}
	f.shape(table, "", f.tables[table].Name, append(slices.Clone(f.tables[table].Columns[:f.tables[table].ParentKeys]), Column{Name: last(f.tables[table].Name) + "_" + key.Name, Type: key.Type, Key: true}), elem)
}

func elemOf(t reflect.Type) reflect.Type {
	if t = t.Elem(); t.Kind() == reflect.Pointer {
		return t.Elem()
	}
	return t
}

func last(name string) string { return name[strings.LastIndexByte(name, '_')+1:] }

// shape makes the columns and the child tables of a type, so that every design has the same ones.
func (f *flattener) shape(table int, prefix, path string, own []Column, t reflect.Type) {
	for i := range t.NumField() {
		field := t.Field(i)
		name := jsonName(field)
		if name == "-" || name == "" {
			continue
		}
		note := f.notes[typeName(t)+"."+name]
		kind := field.Type
		if kind.Kind() == reflect.Pointer {
			kind = kind.Elem()
		}
		switch {
		case kind.Kind() == reflect.Struct:
			f.shape(table, prefix+name+"_", path, own, kind)
		case kind.Kind() == reflect.Slice || kind.Kind() == reflect.Map:
			f.list(path+"_"+prefix+name, note, f.tables[table].Name, own, nil, reflect.Zero(kind))
		default:
			f.column(table, prefix+name, typeOf(kind), note)
		}
	}
}

// row fills a row; row has the key cells so far. Lists inside go to tables of their own.
func (f *flattener) row(table int, prefix, path string, own []Column, ownValues []any, v reflect.Value, row []any) []any {
	t := v.Type()
	for i := range t.NumField() {
		name := jsonName(t.Field(i))
		if name == "-" || name == "" {
			continue
		}
		field := v.Field(i)
		note := f.notes[typeName(t)+"."+name]
		isStruct := field.Kind() == reflect.Pointer && field.Type().Elem().Kind() == reflect.Struct
		if isStruct && field.IsNil() {
			field = reflect.Zero(field.Type().Elem())
		} else if isStruct {
			field = field.Elem()
		}
		switch {
		case field.Kind() == reflect.Struct:
			row = f.row(table, prefix+name+"_", path, own, ownValues, field, row)
		case field.Kind() == reflect.Slice || field.Kind() == reflect.Map:
			parent := ""
			if own != nil {
				parent = f.tables[table].Name
			}
			f.list(path+"_"+prefix+name, note, parent, own, ownValues, field)
		default:
			c := f.column(table, prefix+name, typeOf(field.Type()), note)
			for len(row) <= c {
				row = append(row, nil)
			}
			row[c] = scalar(field)
		}
	}
	return row
}

func keysOf(v reflect.Value) map[string]bool {
	out := map[string]bool{}
	for _, k := range v.MapKeys() {
		out[k.String()] = true
	}
	return out
}

func jsonName(f reflect.StructField) string {
	name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	return name
}

// typeName is the name of a type in the published schema.
func typeName(t reflect.Type) string {
	if t.Name() == "Input" && t.NumField() < 5 { // of a formula
		return "FormulaInput"
	}
	return t.Name()
}

func typeOf(t reflect.Type) Type {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch t.Kind() {
	case reflect.String:
		return Text
	case reflect.Bool, reflect.Int, reflect.Int64:
		return Integer
	case reflect.Float64:
		return Real
	}
	return Any
}

func scalar(v reflect.Value) any {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			return nil
		}
		return scalar(v.Elem())
	case reflect.String:
		return v.String()
	case reflect.Bool:
		if v.Bool() {
			return int64(1)
		}
		return int64(0)
	case reflect.Int, reflect.Int64:
		return v.Int()
	case reflect.Float64:
		return v.Float()
	}
	panic("tables: no cell for " + v.Type().String())
}

// points is what the controller sees.
func (f *flattener) points(points []exchange.Point, names []string) {
	t := Table{Name: "points", Note: "Every channel as the controller sees it, spare ones without a tag.", Columns: []Column{
		{"n", Integer, "place in the list, from 1", true},
		{"tag", Text, "of the signal; null for a spare channel", false},
		{"signal_id", Text, "id of the signal; null for a spare channel", false},
		{"name", Text, "legal IEC 61131-3 identifier, as the exported source has it", false},
		{"description", Text, "", false},
		{"kind", Text, "DI, DO, AI, AO, RTD, TC, CNT or SER", false},
		{"station", Text, "id", false},
		{"slot", Integer, "from 1", false},
		{"module", Text, "code", false},
		{"channel", Integer, "as printed", false},
		{"address", Text, "located address", false},
		{"area", Text, "I or Q", false},
		{"byte", Integer, "in the process image", false},
		{"bit", Integer, "of that byte", false},
		{"bits", Integer, "", false},
		{"type", Text, "IEC 61131-3 type", false},
		{"unit", Text, "", false},
		{"raw_low", Integer, "null: no scaling", false},
		{"raw_high", Integer, "", false},
		{"value_low", Real, "what raw_low stands for, in unit", false},
		{"value_high", Real, "", false},
	}}
	text := func(s string) any {
		if s == "" {
			return nil
		}
		return s
	}
	for i, p := range points {
		row := []any{
			int64(i + 1), text(p.Tag), text(p.ID), names[i], p.Description, string(p.Kind), p.Station, int64(p.Slot), p.Module, int64(p.Channel),
			p.Address, string(p.Area), int64(p.Span.Byte()), int64(p.Span.Bit()), int64(p.Span.Bits), p.Type, p.Unit, nil, nil, nil, nil,
		}
		if p.Scale.Known {
			row[17], row[18], row[19], row[20] = p.Scale.RawLow, p.Scale.RawHigh, p.Scale.Low, p.Scale.High
		}
		t.Rows = append(t.Rows, row)
	}
	f.tables = append(f.tables, t)
}

// About lists every table and column with its note, in order: what the table about holds.
func About(all []Table) Table {
	t := Table{Name: "about", Note: "What every table and column holds.", Columns: []Column{
		{"table_name", Text, "", true}, {"column_name", Text, "empty: the table itself", true}, {"note", Text, "", false},
	}}
	for _, x := range all {
		t.Rows = append(t.Rows, []any{x.Name, "", x.Note})
		for _, c := range x.Columns {
			t.Rows = append(t.Rows, []any{x.Name, c.Name, c.Note})
		}
	}
	slices.SortStableFunc(t.Rows, func(a, b []any) int { return cmp.Compare(a[0].(string), b[0].(string)) })
	return t
}
