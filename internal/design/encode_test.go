package design_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"railwright/internal/design"
	"railwright/internal/design/designtest"
	"railwright/internal/formula"
)

func encode(t testing.TB, d *design.Design) []byte {
	t.Helper()
	b, err := design.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// ignoreFuncs: a formula that was read has no Go function.
var ignoreFuncs = cmpopts.IgnoreFields(formula.Formula{}, "Eval")

func TestRoundTrip(t *testing.T) {
	d := designtest.Sample()
	b := encode(t, d)
	got, err := design.Decode(b)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(d, got, ignoreFuncs, cmpopts.EquateEmpty()); diff != "" {
		t.Error(diff)
	}
	if again := encode(t, got); !bytes.Equal(b, again) {
		t.Error("a second round gives other bytes")
	}
}

// TestByteForm holds the form against a second way to it: the standard library, which sorts the
// keys of a map and prints numbers with the fewest digits.
func TestByteForm(t *testing.T) {
	b := encode(t, designtest.Sample())
	var v any
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatal(err)
	}
	want := &bytes.Buffer{}
	e := json.NewEncoder(want)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want.String(), string(b)); diff != "" {
		t.Error(diff)
	}
}

// TestRandom: any value comes back as it was, in the same bytes; no list is null.
func TestRandom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &design.Design{}
		fill(t, reflect.ValueOf(d).Elem(), 0)
		d.Format = design.Format
		b, err := design.Encode(d)
		if err != nil {
			t.Fatal(err)
		}
		got, err := design.Decode(b)
		if err != nil {
			t.Fatal(err)
		}
		again, err := design.Encode(got)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(b, again) {
			t.Fatalf("bytes differ:\n%s", cmp.Diff(string(b), string(again)))
		}
		nulls := bytes.Count(b, []byte(": null"))
		if want := bytes.Count(b, []byte(`"signal": null`)) + bytes.Count(b, []byte(`"infeed_at": null`)); nulls > want {
			t.Fatalf("%d nulls, at most %d expected", nulls, want)
		}
	})
}

func fill(t *rapid.T, v reflect.Value, depth int) {
	switch v.Kind() {
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, "bool"))
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(rapid.Int32().Draw(t, "int")))
	case reflect.Float64:
		v.SetFloat(rapid.Float64().Filter(func(f float64) bool { return !math.IsNaN(f) && !math.IsInf(f, 0) }).Draw(t, "float"))
	case reflect.String:
		v.SetString(rapid.String().Draw(t, "text"))
	case reflect.Pointer:
		if rapid.Bool().Draw(t, "set") {
			v.Set(reflect.New(v.Type().Elem()))
			fill(t, v.Elem(), depth+1)
		}
	case reflect.Slice:
		n := rapid.IntRange(0, 2).Draw(t, "length")
		if n > 0 {
			v.Set(reflect.MakeSlice(v.Type(), n, n))
		}
		for i := range n {
			fill(t, v.Index(i), depth+1)
		}
	case reflect.Map:
		n := rapid.IntRange(0, 2).Draw(t, "size")
		v.Set(reflect.MakeMap(v.Type()))
		for range n {
			e := reflect.New(v.Type().Elem()).Elem()
			if e.Kind() == reflect.Pointer {
				e.Set(reflect.New(e.Type().Elem()))
				fill(t, e.Elem(), depth+1)
			} else {
				fill(t, e, depth+1)
			}
			v.SetMapIndex(reflect.ValueOf(rapid.String().Draw(t, "key")), e)
		}
	case reflect.Interface:
		if rapid.Bool().Draw(t, "coupler") {
			v.Set(reflect.ValueOf("coupler"))
		} else {
			v.Set(reflect.ValueOf(rapid.IntRange(1, 64).Draw(t, "slot")))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if tag := v.Type().Field(i).Tag.Get("json"); tag != "-" {
				fill(t, v.Field(i), depth+1)
			}
		}
	}
}

func TestNoNumber(t *testing.T) {
	d := designtest.Sample()
	d.Stations[1].HeatW = math.NaN()
	_, err := design.Encode(d)
	if err == nil || !strings.Contains(err.Error(), "design.stations[1].heat_w is NaN") {
		t.Errorf("error %v", err)
	}
}

func TestMinusZero(t *testing.T) {
	d := designtest.Sample()
	d.Siting.Gap = math.Copysign(0, -1)
	if b := encode(t, d); bytes.Contains(b, []byte(": -0")) {
		t.Error("-0 in the file")
	}
}

func TestDecodeRefuses(t *testing.T) {
	for _, c := range []struct {
		name, data string
		kind       error
		says       string
	}{
		{"later format", `{"format": "railwright-design/2"}`, design.ErrFormat, `format is "railwright-design/2", this version reads "railwright-design/1"`},
		{"no format", `{"stations": []}`, design.ErrNotDesign, `no key "format"`},
		{"no JSON", "stations:\n- a", design.ErrNotDesign, "line 1: broken JSON"},
		{"cut off", "{\n\"format\": \"railwright-design/1\",\n\"stations\": [", design.ErrNotDesign, "line 3: broken JSON"},
		{"empty", "", design.ErrNotDesign, "broken JSON"},
		{"a list", "[]", design.ErrNotDesign, "cannot be a array"},
		{"wrong kind", "{\n\"format\": \"railwright-design/1\",\n\"stations\": 7}", design.ErrNotDesign, "line 3: stations cannot be a number"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := design.Decode([]byte(c.data))
			if !errors.Is(err, c.kind) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want %v with %q", err, c.kind, c.says)
			}
			if err != nil && strings.Contains(err.Error(), "Go ") {
				t.Errorf("error %q speaks of Go", err)
			}
		})
	}
}

// TestLaterKeys: a key that a later version adds is passed over.
func TestLaterKeys(t *testing.T) {
	b := encode(t, designtest.Sample())
	more := bytes.Replace(b, []byte("\n  \"cost\""), []byte("\n  \"added_later\": {\"a\": [1]},\n  \"cost\""), 1)
	if bytes.Equal(b, more) {
		t.Fatal("nothing was added")
	}
	d, err := design.Decode(more)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(encode(t, d), b) {
		t.Error("the rest was not read as before")
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(`{"format": "railwright-design/1", "stations": [{"supply_groups": [{"infeed_at": 3}]}]}`))
	f.Add([]byte(`{"format": "railwright-design/1", "formulas": {"a": null}, "calculations": {"x": {"formula": "a"}}}`))
	f.Add([]byte(`{"format": "railwright-design/2"}`))
	f.Add([]byte(`[`))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := design.Decode(data)
		if err != nil {
			return
		}
		if len(d.Stations) > 0 {
			for _, g := range d.Stations[0].SupplyGroups {
				switch g.InfeedAt.(type) {
				case nil, string, int, float64:
				default:
					return // another kind of value than the format allows
				}
			}
		}
		b, err := design.Encode(d)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := design.Decode(b); err != nil {
			t.Fatal(err)
		}
	})
}
