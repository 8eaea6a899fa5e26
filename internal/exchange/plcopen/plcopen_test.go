package plcopen_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"railwright/internal/exchange"
	"railwright/internal/exchange/extest"
	"railwright/internal/exchange/iec"
	"railwright/internal/exchange/iec/strict"
	"railwright/internal/exchange/plcopen"
)

const epoch = "1970-01-01T00:00:00Z"

func unit(w extest.World) *iec.Unit {
	points := exchange.Points(w.Design, w.Project, w.Hardware, true)
	u, _ := iec.Build(points, iec.Head{Project: "P & Q", Controller: "K1", Revision: "A", Convention: w.Design.Project.Convention, IntervalMS: 20})
	return u
}

// Law: the variables that are read back are those of the unit, and the text form has the same.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := extest.Draw(t, func(area byte, from, bits int, convention string) string {
			return exchange.Print(area, exchange.Span{From: from, Bits: bits}, convention)
		})
		u := unit(w)
		data := plcopen.Write(u, epoch)
		got, err := plcopen.Read(data)
		if err != nil {
			t.Fatal(err)
		}
		all := slices.Concat(u.Located, u.Values)
		if len(got) != len(all) {
			t.Fatalf("%d variables of %d", len(got), len(all))
		}
		for i, v := range all {
			want := plcopen.Variable{Name: v.Name, Address: v.Address, Type: v.Type, Initial: v.Initial}
			if v.Tag != "" && iec.TagOf(got[i].Documentation) != v.Tag {
				t.Fatalf("tag %q of %q", v.Tag, got[i].Documentation)
			}
			got[i].Documentation = ""
			if d := cmp.Diff(want, got[i]); d != "" {
				t.Fatal(d)
			}
		}
		f, err := strict.Parse(iec.Text(u))
		if err != nil {
			t.Fatal(err)
		}
		for i, g := range f.Globals() {
			if g.Name != got[i].Name || g.Address != got[i].Address || g.Type != got[i].Type {
				t.Fatalf("text %+v, XML %+v", g, got[i])
			}
		}
		bodies, err := plcopen.Bodies(data)
		if err != nil || bodies[iec.ProgramName] != strings.Join(u.Statements(), "\n") {
			t.Fatalf("%v: %q", err, bodies[iec.ProgramName])
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add(plcopen.Write(&iec.Unit{Located: []iec.Variable{{Name: "A", Address: "%IX0.0", Type: "BOOL", Tag: "a"}}}, epoch))
	f.Add([]byte(`<project xmlns="http://www.plcopen.org/xml/tc6_0201"><instances><configurations><configuration><globalVars><variable/></globalVars></configuration></configurations></instances></project>`))
	f.Fuzz(func(t *testing.T, data []byte) {
		all, err := plcopen.Read(data)
		for _, v := range all {
			if err == nil && (v.Name == "" || v.Type == "") {
				t.Fatalf("%+v", v)
			}
		}
	})
}
