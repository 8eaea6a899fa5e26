package iec_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/exchange"
	"railwright/internal/exchange/extest"
	"railwright/internal/exchange/iec"
	"railwright/internal/exchange/iec/strict"
)

func printAddress(area byte, from, bits int, convention string) string {
	return exchange.Print(area, exchange.Span{From: from, Bits: bits}, convention)
}

func source(w extest.World, spares bool) (*iec.Unit, []byte, []exchange.Point) {
	points := exchange.Points(w.Design, w.Project, w.Hardware, spares)
	p := w.Design.Project
	u, _ := iec.Build(points, iec.Head{Project: p.Name, Controller: p.Controller, Revision: p.Revision, Convention: p.Convention, Tool: "railwright dev", IntervalMS: 20})
	return u, iec.Text(u), points
}

// Law: whatever the tags, the source passes the strict reader, and what it declares is what the design has:
// one located variable for each point, in order, its tag in the comment.
func TestSourceOfAnyDesign(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := extest.Draw(t, printAddress)
		_, text, points := source(w, rapid.Bool().Draw(t, "spares"))
		same(t, text, points, w.Design.Project.Convention)
	})
}

type failer interface {
	Fatalf(format string, args ...any)
}

func same(t failer, text []byte, points []exchange.Point, convention string) {
	f, err := strict.Parse(text)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if err := f.Check(strict.Options{Words: convention == "word"}); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	located := slices.DeleteFunc(f.Globals(), func(g strict.Global) bool { return g.Address == "" })
	if len(located) != len(points) {
		t.Fatalf("%d located variables of %d points", len(located), len(points))
	}
	for i, p := range points {
		g := located[i]
		tag := iec.TagOf(g.Comment)
		if p.Spare {
			tag = ""
		}
		if g.Address != p.Address || g.Type != p.Type || tag != p.Tag {
			t.Fatalf("%+v is %+v", p, g)
		}
	}
}

// Law: what a part of a design exports has the names that the whole has.
func TestNamesDoNotDependOnWhatIsExported(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := extest.Draw(t, printAddress)
		whole, _, points := source(w, true)
		station := points[len(points)-1].Station
		part := whole.Only(func(i int) bool { return points[i].Station == station })
		text := iec.Text(part)
		f, err := strict.Parse(text)
		if err == nil {
			err = f.Check(strict.Options{Words: w.Design.Project.Convention == "word"})
		}
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		for _, v := range slices.Concat(part.Located, part.Values) {
			if !slices.ContainsFunc(slices.Concat(whole.Located, whole.Values), func(o iec.Variable) bool { return o.Name == v.Name && o.Tag == v.Tag && o.Type == v.Type }) {
				t.Fatalf("%+v is not in the whole", v)
			}
		}
	})
}

func TestLegal(t *testing.T) {
	// Source: IEC 61131-3, identifiers and keywords; the spelling of umlauts is common practice (DIN 5007 variant 2).
	for tag, want := range map[string]string{
		"FT-101": "FT_101", "101-FT": "S_101_FT", "Rührwerk-ß": "Ruehrwerk_ss", "Ventil--offen": "Ventil_offen", "LS_": "LS", "__LS": "LS", "IF": "S_IF",
		"real_to_INT": "S_real_to_INT", "limit": "S_limit", "": "SIGNAL", "--": "SIGNAL", "É1": "E1", "Ω2": "U03A92", "=A1+B2": "A1_B2", "x²": "x2",
	} {
		if got := iec.Legal(tag); got != want {
			t.Errorf("%q: %q, want %q", tag, got, want)
		}
	}
}

func TestReal(t *testing.T) {
	for v, want := range map[float64]string{0: "0.0", 1: "1.0", -15: "-15.0", 0.25: "0.25", 1e21: "1.0E21", 1.5e-9: "1.5E-9", 30000: "30000.0"} {
		if got := iec.Real(v); got != want {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
}

// Law: a comment gives its text back and holds nothing that ends it or another one.
func TestCommentsKeepTheTag(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tag := rapid.OneOf(extest.Tag(), rapid.StringOf(rapid.SampledFrom([]rune("(*)<U+>|x é\n")))).Draw(t, "tag")
		tag = strings.TrimSpace(strings.ToValidUTF8(tag, ""))
		v := iec.Variable{Tag: tag, Notes: []string{"note"}}
		c := iec.Comment(v)
		if tag != "" && iec.TagOf(c) != tag || strings.Contains(c, "(*") || strings.Contains("("+c+")", "*)") && !strings.HasSuffix(c, "note") {
			t.Fatalf("%q: %q: %q", tag, c, iec.TagOf(c))
		}
	})
}

// The functions' arithmetic, worked by hand: 15000 of 0 to 30000 is 12 mA, half of -10 to 30.
func TestScale(t *testing.T) {
	s := exchange.Scale{Known: true, RawHigh: 30000, Low: -10, High: 30}
	if got := s.At(15000); got != 10 {
		t.Fatal(got)
	}
}

func ExampleText() {
	u, _ := iec.Build([]exchange.Point{{ID: "1", Tag: "101-FT", Type: "INT", Area: 'I', Address: "%IW4", Span: exchange.Span{From: 32, Bits: 16}, Station: "S1", Slot: 1}}, iec.Head{Project: "yard", IntervalMS: 20})
	for _, line := range strings.Split(string(iec.Text(u)), "\n") {
		if strings.Contains(line, "%IW4") && strings.Contains(line, " AT ") {
			fmt.Println(strings.TrimSpace(line))
		}
	}
	// Output: S_101_FT AT %IW4 : INT; (* 101-FT | S1 slot 1 channel 0 *)
}
