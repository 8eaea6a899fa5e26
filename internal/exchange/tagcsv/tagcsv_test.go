package tagcsv

import (
	"encoding/csv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/exchange"
	"railwright/internal/exchange/extest"
)

const sample = `format = 1
delimiter = ";"
line_end = "crlf"
encoding = "latin-1"
kinds = ["AI", "DI"]
[[column]]
head = "No"
value = "{row:3}"
[[column]]
head = "Symbol"
value = "{{{name}}"
max = 6
[[column]]
head = "Type"
value = "{type}"
map = { BOOL = "bit", INT = "" }
[[column]]
head = "Where"
value = "{area}.{byte}.{bit} {terminals}"
`

func TestTemplate(t *testing.T) {
	tpl, found := ParseTemplate("t.toml", []byte(sample))
	if len(found) > 0 {
		t.Fatal(found)
	}
	points := []exchange.Point{
		{Tag: "a", Kind: "DI", Type: "BOOL", Area: 'I', Address: "%IX1.2", Span: exchange.Span{From: 10, Bits: 1}, Terminals: "signal=1; x"},
		{Tag: "b", Kind: "DO", Type: "BOOL", Area: 'Q', Address: "%QX0.0", Span: exchange.Span{From: 0, Bits: 1}},
		{Tag: "c", Kind: "AI", Type: "INT", Area: 'I', Address: "%IW4", Span: exchange.Span{From: 32, Bits: 16}},
		{Tag: "", Kind: "AI", Type: "INT", Area: 'I', Address: "%IW6", Span: exchange.Span{From: 48, Bits: 16}, Spare: true},
	}
	got, found := Write(tpl, points, []string{"müll", "b", "漢漢漢漢漢漢漢", "d"})
	want := "No;Symbol;Type;Where\r\n001;{m\xfcll};bit;\"I.1.2 signal=1; x\"\r\n002;{???????};;\"I.4.0 \"\r\n"
	if string(got) != want {
		t.Errorf("%q\n%q", got, want)
	}
	var rules []string
	for _, f := range found {
		rules = append(rules, f.Rule)
	}
	if strings.Join(rules, " ") != "EXC-010 EXC-011" {
		t.Error(found)
	}
}

func TestFaultsOfATemplate(t *testing.T) {
	for bad, rule := range map[string]string{
		`delimiter = ";;"`: "TPL-011", `delimiter = "\""`: "TPL-011", `encoding = "utf-9"`: "TPL-006", `kinds = ["XX"]`: "TPL-006", `sparse = true`: "TPL-002",
		"column = [{ head = \"a\", value = \"{nam}\" }]": "TPL-010", "column = [{ head = \"a\", value = \"{name\" }]": "TPL-010",
		"column = [{ head = \"a\", value = \"{byte:x}\" }]": "TPL-010", "column = [{ value = \"x\" }]": "TPL-003", "": "TPL-003",
	} {
		_, found := ParseTemplate("t.toml", []byte("format = 1\n"+bad+"\n"))
		ok := false
		for _, f := range found {
			ok = ok || f.Rule == rule && f.Where != nil
		}
		if !ok {
			t.Errorf("%s: %v, want %s", bad, found, rule)
		}
	}
}

// Law: encoding/csv, which is not ours, reads every cell back as the template makes it.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := extest.Draw(t, func(area byte, from, bits int, convention string) string {
			return exchange.Print(area, exchange.Span{From: from, Bits: bits}, convention)
		})
		points := exchange.Points(w.Design, w.Project, w.Hardware, false)
		names := make([]string, len(points))
		for i, p := range points {
			names[i] = strings.ReplaceAll(p.Tag, "\r", "") // encoding/csv turns \r\n inside a cell into \n
			points[i].Tag = names[i]
		}
		tpl, found := ParseTemplate("", []byte("format = 1\ndelimiter = \""+rapid.SampledFrom([]string{",", ";", "tab", "|"}).Draw(t, "delimiter")+"\"\ncolumn = [{ head = \"a\", value = \"{tag}\" }, { head = \"b\", value = \"{address} {type}\" }]\n"))
		if len(found) > 0 {
			t.Fatal(found)
		}
		data, _ := Write(tpl, points, names)
		r := csv.NewReader(strings.NewReader(string(data)))
		r.Comma = rune(tpl.Delimiter)
		rows, err := r.ReadAll()
		if err != nil || len(rows) != len(points)+1 {
			t.Fatalf("%d rows of %d: %v\n%s", len(rows)-1, len(points), err, data)
		}
		for i, p := range points {
			if rows[i+1][0] != p.Tag || rows[i+1][1] != p.Address+" "+p.Type {
				t.Fatalf("%q of %+v", rows[i+1], p)
			}
		}
	})
}

func FuzzTemplate(f *testing.F) {
	f.Add([]byte(sample))
	f.Add([]byte(defaultTemplate))
	f.Fuzz(func(t *testing.T, src []byte) {
		tpl, found := ParseTemplate("t.toml", src)
		if !found.HasErrors() {
			Write(tpl, []exchange.Point{{Address: "%IX0.0"}}, []string{"A"})
		}
	})
}
