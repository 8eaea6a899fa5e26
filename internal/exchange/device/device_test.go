package device

import (
	"strings"
	"testing"

	"railwright/internal/hardware"
)

func TestParseFigure(t *testing.T) {
	for in, want := range map[string]Figure{
		"price=40":             {"", "price", "40"},
		"SMP-1.price = 40.5":   {"SMP-1", "price", "40.5"},
		"a.b.price=1":          {"a.b", "price", "1"},
		"supply_kind=24vdc":    {"", "supply_kind", `"24vdc"`},
		`DI.forms=["24v"]`:     {"DI", "forms", `["24v"]`},
		"own_infeed=true":      {"", "own_infeed", "true"},
		`title=say "hello"`:    {"", "title", `"say \"hello\""`},
		`terminals={ a = "" }`: {"", "terminals", `{ a = "" }`},
	} {
		if got, err := ParseFigure(in); err != nil || got != want {
			t.Errorf("%s: %+v, %v", in, got, err)
		}
	}
	for _, in := range []string{"", "price", "=1", "price=", "price=1\n[[module]]"} {
		if f, err := ParseFigure(in); err == nil {
			t.Errorf("%q was read as %+v", in, f)
		}
	}
}

// TestFill: the narrowest figure counts, what the description says stays, and a figure that suits nothing is
// reported.
func TestFill(t *testing.T) {
	d := &Draft{}
	a, b := d.Add("module", "A 1"), d.Add("module", "A 1")
	b.Int("width_mm", 7)
	c := a.Channel(8)
	c.Text("kind", "DI")
	e := a.Channel(4)
	if a.Code != "A-1" || b.Code != "A-1-2" || e.Values["first"] != "9" {
		t.Fatalf("%+v %+v %+v", a, b, e)
	}
	d.Fill([]Figure{{"", "width_mm", "10"}, {"", "price", "1"}, {"module", "price", "2"}, {"A-1", "price", "3"}, {"DI", "bits", "1"}, {"", "bits", "16"}, {"coupler", "price", "9"}})
	for _, x := range []struct{ got, want string }{
		{a.Values["width_mm"], "10"}, {b.Values["width_mm"], "7"}, {a.Values["price"], "3"}, {b.Values["price"], "2"}, {c.Values["bits"], "1"}, {e.Values["bits"], "16"},
	} {
		if x.got != x.want {
			t.Errorf("%s, want %s", x.got, x.want)
		}
	}
	if len(d.Found) != 1 || d.Found[0].Rule != "DEV-010" || !strings.Contains(d.Found[0].Message, "coupler.price") {
		t.Error(d.Found)
	}
}

// TestGapsAreNamed: every needed key of an entry without values is asked for, and stands in the draft as a line to
// fill in.
func TestGapsAreNamed(t *testing.T) {
	d := &Draft{Source: "x"}
	d.Add("coupler", "C")
	text := string(d.TOML())
	asked := map[string]bool{}
	for _, a := range d.Missing() {
		asked[a.Key.Name] = a.Key.Need
	}
	for _, entry := range hardware.Entries() {
		for _, k := range entry.Keys {
			if entry.Name != "coupler" || !k.Need || k.Name == "code" {
				continue
			}
			if !asked[k.Name] || !strings.Contains(text, "# "+k.Name+" = ") {
				t.Errorf("%s is not asked for\n%s", k.Name, text)
			}
		}
	}
}

func FuzzParseFigure(f *testing.F) {
	f.Add("SMP-1.price=40")
	f.Add("a={")
	f.Fuzz(func(t *testing.T, s string) {
		if g, err := ParseFigure(s); err == nil && (g.Key == "" && g.Scope == "" || strings.ContainsAny(g.Value, "\r\n")) {
			t.Fatalf("%+v", g)
		}
	})
}
