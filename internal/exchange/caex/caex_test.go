package caex_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"railwright/internal/exchange"
	"railwright/internal/exchange/caex"
	"railwright/internal/exchange/extest"
	"railwright/internal/peer"
)

const epoch = "1970-01-01T00:00:00Z"

func plant(w extest.World) *caex.Plant {
	return caex.Build(w.Design, exchange.Points(w.Design, w.Project, w.Hardware, true))
}

// Law: a plant that is written and read is the same plant.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := extest.Draw(t, func(area byte, from, bits int, convention string) string {
			return exchange.Print(area, exchange.Span{From: from, Bits: bits}, convention)
		})
		p := plant(w)
		got, err := caex.Read(caex.Write(p, "a.aml", epoch))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(p, got); d != "" {
			t.Fatal(d)
		}
	})
}

// The example has every signal with its link; xmllint holds the file against our own statement of the part
// of the CAEX 3.0 schema that it uses (the published one is not in the registries).
func TestSchema(t *testing.T) {
	p := plant(extest.Example())
	if len(p.Links) != len(p.Signals) || len(p.Signals) < 300 {
		t.Fatalf("%d links, %d signals", len(p.Links), len(p.Signals))
	}
	data := caex.Write(p, "example.aml", epoch)
	if n := strings.Count(string(data), ` ID="`); n < 2*len(p.Signals) {
		t.Fatalf("%d IDs", n)
	}
	xmllint := peer.Need(t, "xmllint")
	file := filepath.Join(t.TempDir(), "example.aml")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(xmllint, "--noout", "--nonet", "--schema", "testdata/caex.xsd", file).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
}

func TestRefused(t *testing.T) {
	good := string(caex.Write(plant(extest.Example()), "a.aml", epoch))
	for _, c := range [][2]string{
		{`SchemaVersion="3.0"`, `SchemaVersion="2.15"`}, {"http://www.dke.de/CAEX", "http://www.example.org/"},
		{`RefPartnerSideA="`, `RefPartnerSideA="0`}, {"<?xml", "<!DOCTYPE a><?xml"}, {`?>`, `?><!DOCTYPE CAEXFile [<!ENTITY a "b">]>`},
	} {
		if _, err := caex.Read([]byte(strings.Replace(good, c[0], c[1], 1))); err == nil {
			t.Errorf("%s was read", c[1])
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(caex.Write(&caex.Plant{Name: "p", Stations: []caex.Object{{Path: "station/S", Name: "S", Role: "Station"}}}, "a.aml", epoch))
	f.Fuzz(func(t *testing.T, data []byte) {
		if p, err := caex.Read(data); err == nil {
			caex.Write(p, "a.aml", epoch)
		}
	})
}
