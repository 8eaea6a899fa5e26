package tomltree_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/tomltree"
)

const good = `# a works
format = 1
[project]
name = "North works"   # remark
[basis]
spare_percent = 7.5
area = { DI = 0.75, DO = 1.5 }
[basis.group]
split.in_out = false
[[place]]
id = "P1"
x_m = 12
codes = ["a", 'b']
[[place]]
id = "P2"
x_m = -3.5
slots = [1, 0x10, 1_000]
`

func TestReadsWhatIsThere(t *testing.T) {
	d := tomltree.Parse("project.toml", []byte("\xEF\xBB\xBF"+strings.ReplaceAll(good, "\n", "\r\n")), "PRJ")
	r := d.Root()
	var got []any
	got = append(got, r.Int("format", 0, 1, 1), r.Table("project").NeedString("name"))
	basis := r.Table("basis")
	got = append(got, basis.Float("spare_percent", 0, 0, 100), basis.Table("area").Keys(), basis.Table("area").Float("DO", 0, 0, 10),
		basis.Table("area").Float("DI", 0, 0, 10), basis.Table("group").Table("split").Bool("in_out", true))
	for _, p := range r.Tables("place") {
		got = append(got, p.Line(""), p.Line("x_m"), p.NeedString("id"), p.NeedFloat("x_m", -10, 100), p.Strings("codes"), p.Ints("slots", 0, 1000))
	}
	want := []any{
		int64(1), "North works", 7.5,
		[]string{"DI", "DO"},
		1.5, 0.75, false,
		10, 12, "P1", 12.0,
		[]string{"a", "b"},
		[]int64(nil), 14, 16, "P2", -3.5, []string(nil),
		[]int64{1, 16, 1000},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if f := d.Findings(); len(f) > 0 {
		t.Errorf("findings on a good file: %v", f)
	}
}

// read asks for a fixed set of keys and returns the findings, one a line.
func read(src string) string {
	d := tomltree.Parse("f.toml", []byte(src), "PRJ")
	r := d.Root()
	r.Float("length_m", 10, 0, 500)
	r.Int("max_slots", 8, 1, 64)
	r.Bool("outdoor", false)
	r.String("name", "")
	r.OneOf("level", "module", "module", "group", "station")
	r.Strings("forms")
	p := r.Table("power")
	p.Float("supply_v", 24, 12, 60)
	for _, pl := range r.Tables("place") {
		pl.SetSubject("place:" + pl.NeedString("id"))
		pl.Float("x_m", 0, -100, 100)
	}
	var b strings.Builder
	for _, f := range d.Findings() {
		fmt.Fprintf(&b, "%s %d:%d %s: %s | %s\n", f.Rule, f.Where.Line, f.Where.Col, f.Subject, f.Message, f.Remedy.Text)
	}
	return b.String()
}

func TestFaults(t *testing.T) {
	for _, c := range []struct{ name, src, want string }{
		{"letter O", "length_m = 12O\nmax_slots = 99", `PRJ-001 1:14 project: 12O is not a number; did you mean 120? | Write 120.
PRJ-005 2:13 project: max_slots is 99; allowed is 1 to 64 | Write a value from 1 to 64.
`},
		{"unit", "length_m = 12 m", "PRJ-001 1:15 project: 12 m has letters behind the number | Write 12 for a number (the unit is in the key's name), \"12 m\" for text.\n"},
		{"unit without blank", "length_m = 12m", "PRJ-001 1:14 project: 12m has letters behind the number | Write 12 for a number (the unit is in the key's name), \"12m\" for text.\n"},
		{"quoted number", `length_m = "12 m"`, "PRJ-004 1:12 project: length_m is the text \"12 m\"; a number belongs here | Write length_m = 12.\n"},
		{"decimal comma", "length_m = 12,5", "PRJ-001 1:14 project: 12,5 has a decimal comma | Write 12.5 with a point.\n"},
		{"bare word", "level = module", "PRJ-001 1:9 project: module is neither a number nor true, false, a list or a text in quotes | Text stands in quotes: \"module\".\n"},
		{"yes", "outdoor = yes", "PRJ-001 1:11 project: yes is no value of TOML | Write true.\n"},
		{"True", "outdoor = True", "PRJ-001 1:11 project: True is no value of TOML | Write true.\n"},
		{"no value", "name =\nmax_slots = 3", "PRJ-001 1:7 project: no value stands after = | Write the value, or take the line out to have the default.\n"},
		{"colon", "name: north\n", "PRJ-001 1:5 project: \"name: north\" has a colon where = belongs | Write name = north.\n"},
		{"remark without #", "this is a remark\nmax_slots = 0", `PRJ-001 1:6 project: "this is a remark" is neither a header nor key = value | Write key = value; put a # before a remark.
PRJ-005 2:13 project: max_slots is 0; allowed is 1 to 64 | Write a value from 1 to 64.
`},
		{"open quote", "name = \"north\nmax_slots = 0", `PRJ-001 1:14 project: the text that begins in line 1 has no closing quote, or one too many | Close it: "text".
PRJ-005 2:13 project: max_slots is 0; allowed is 1 to 64 | Write a value from 1 to 64.
`},
		{"open list", "forms = [\"a\",\nmax_slots = 0", `PRJ-001 2:1 project: the list that begins in line 1 is not closed, or "max_slots = 0" in it is no value | Put commas between the items, text in quotes, and ] at the end.
PRJ-005 2:13 project: max_slots is 0; allowed is 1 to 64 | Write a value from 1 to 64.
`},
		{"header not closed", "[power\nsupply_v = 5\n[[place]]\nx_m = 1", `PRJ-001 1:7 project: the header "[power" is not closed | Write [name] for one table, [[name]] for each of several.
PRJ-003 3:3 project: [place] has no key id | Add id = ….
`},
		{"not UTF-8", "name = \"\xff\"", "PRJ-001 1:9 project: the line holds bytes that are no UTF-8 text | Save the file as UTF-8.\n"},
		{"unknown key", "lenght_m = 3\n[power]\nzebra = 1\n[[place]]\nid=\"A\"\ny_m = 2", `PRJ-002 1:1 project: unknown key "lenght_m"; did you mean "length_m"? | Write length_m.
PRJ-002 3:1 project: unknown key "zebra" in [power]. Known here: supply_v. | Take it out, or put a # before it.
PRJ-002 6:1 place:A: unknown key "y_m" in [place]. Known here: id, x_m. | Take it out, or put a # before it.
`},
		{"unknown table", "[powr]\nsupply_v = 1", "PRJ-002 1:2 project: unknown key \"powr\"; did you mean \"power\"? | Write power.\n"},
		{"one of", `level = "Group"`, "PRJ-006 1:9 project: level is \"Group\"; allowed are \"module\", \"group\", \"station\"; did you mean \"group\"? | Write level = \"group\".\n"},
		{"types", "name = 3\nmax_slots = 3.5\noutdoor = \"true\"\nforms = \"a\"\nplace = 1\npower = []", `PRJ-004 1:8 project: name is 3 (a whole number); text belongs here | Write name = "3".
PRJ-004 2:13 project: max_slots is 3.5 (a number); a whole number belongs here | Write a whole number for max_slots.
PRJ-004 3:11 project: outdoor is the text "true"; true or false belongs here | Write outdoor = true or outdoor = false, without quotes.
PRJ-004 4:9 project: forms is the text "a"; a list belongs here | Write a list for forms.
PRJ-004 5:9 project: place is 1 (a whole number); a list of tables belongs here | Write a list of tables for place.
PRJ-004 6:1 project: power is a list; a table belongs here | Write a table for power.
`},
		{"twice", "name = \"a\"\nname = \"b\"\n[power]\n[power]\nsupply_v = 99\n[[power]]", `PRJ-005 5:12 project: supply_v is 99; allowed is 12 to 60 | Write a value from 12 to 60.
PRJ-007 2:1 project: name stands here a second time (first in line 1) | Keep one of the two.
PRJ-007 4:2 project: [power] stands here a second time (first in line 3) | Keep one of the two.
PRJ-007 6:3 project: power (once as [power], once as [[power]]) stands here a second time (first in line 3) | Keep one of the two.
`},
		{"strange numbers", "length_m = nan\nmax_slots = 99999999999999999999", `PRJ-005 1:12 project: length_m is nan; allowed is 0 to 500 | Write a value from 0 to 500.
PRJ-005 2:13 project: max_slots is 99999999999999999999; allowed is 1 to 64 | Write a value from 1 to 64.
`},
		{"date", "length_m = 2024-01-02", "PRJ-004 1:12 project: length_m is 2024-01-02 (a date); a number belongs here | Write a number for length_m.\n"},
		{"dotted into a header's table", "[power]\nsupply_v=24\n[place]\n", "PRJ-004 3:2 project: place is a table; a list of tables belongs here | Write [[place]] for each one.\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, read(c.src)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// After a fault the key counts as given, and reading goes on.
func TestFaultyLineIsNotMissing(t *testing.T) {
	d := tomltree.Parse("f", []byte("a = 1x\n# remark\nb = 2\nc = ?\n[t]\nd = 'x' y\ne = 5\n"), "HW")
	r := d.Root()
	r.NeedInt("a", 0, 9)
	if b := r.NeedInt("b", 0, 9); b != 2 {
		t.Errorf("b = %d", b)
	}
	r.NeedString("c")
	r.Table("t").NeedString("d")
	if e := r.Table("t").NeedInt("e", 0, 9); e != 5 {
		t.Errorf("e = %d", e)
	}
	var lines []int
	for _, f := range d.Findings() {
		lines = append(lines, f.Where.Line)
		if f.Rule != "HW-001" {
			t.Errorf("unexpected %s", f)
		}
	}
	if diff := cmp.Diff([]int{1, 4, 6}, lines); diff != "" {
		t.Error(diff)
	}
}

func TestNoGoWords(t *testing.T) {
	for _, src := range []string{"a", "=", "a=[", "a={", "[", "[[", "a=\"\\q\"", "a='''", "a=1__0", "a=0x", "a=+", "\x00", "a=01", "a.=1", "a=1e", "a=-x"} {
		d := tomltree.Parse("f", []byte(src), "PRJ")
		if !d.HasSyntaxFaults() {
			t.Errorf("%q: no fault", src)
		}
		for _, f := range d.Findings() {
			for _, w := range []string{"toml:", "unstable", "%!", "U+", "int64", "expected"} {
				if strings.Contains(f.String(), w) {
					t.Errorf("%q: %s", src, f)
				}
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(good))
	for _, s := range []string{"a=[[[", "a={b={c=", "[a.b]\nc=1\n[a]\nb.d=1", "[[a]]\n[a.b]\n[[a.b]]", "a.b=1\na=2", "a=1979-05-27", "\xEF\xBB\xBF[x", "a=\"\"\"\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		d := tomltree.Parse("f", src, "PRJ")
		r := d.Root()
		for _, k := range r.Keys() {
			r.Float(k, 0, 0, 1)
			r.Strings(k)
			for _, c := range r.Tables(k) {
				c.NeedInt("x", 0, 1)
			}
			r.Table(k).String("y", "")
		}
		for _, x := range d.Findings() {
			if x.Where.Line < 1 || x.Where.Col < 1 || x.Message == "" {
				t.Fatalf("bad finding %+v", x)
			}
		}
	})
}
