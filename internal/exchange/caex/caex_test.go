package caex_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"railwright/internal/exchange"
	"railwright/internal/exchange/caex"
	"railwright/internal/exchange/extest"
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

func TestRefused(t *testing.T) {
	object := caex.Object{Path: "signal/s", Name: "s", Role: "Signal", Interface: "channel"}
	station := caex.Object{Path: "station/S", Name: "S", Role: "Station", Inside: []caex.Object{{Path: "station/S/1/1", Name: "1", Role: "Channel", Interface: "signal"}}}
	good := string(caex.Write(&caex.Plant{Name: "p", Stations: []caex.Object{station}, Signals: []caex.Object{object}, Links: []caex.Link{{Signal: object.Path, Channel: "station/S/1/1"}}}, "a.aml", epoch))
	if _, err := caex.Read([]byte(good)); err != nil {
		t.Fatal(err)
	}
	for _, c := range [][2]string{
		{`SchemaVersion="3.0"`, `SchemaVersion="2.15"`},
		{"http://www.dke.de/CAEX", "http://www.example.org/"},
		{`RefPartnerSideA="`, `RefPartnerSideA="0`},
		{"<?xml", "<!DOCTYPE a><?xml"},
		{`?>`, `?><!DOCTYPE CAEXFile [<!ENTITY a "b">]>`},
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
