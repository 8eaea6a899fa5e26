package intake_test

import (
	"strings"
	"testing"

	"railwright/internal/intake"
	"railwright/internal/intake/fromtable"
	"railwright/internal/tabular"
)

// FuzzRead reads anything that is a table as a list.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"Tag,Service,I/O Type,Signal,Range,,Units\n,,,,Min,Max,\nArea 1\nPT-1,Pressure,AI,4-20mA,0,10,bar\nTotal,,,,,,1\n",
		"Kennzeichen;Signalart;Messbereich\n=A1-B1;AE;0..2,5 m\n",
		"Equipment,DI,DO\nP-1,3,1\nZSC/O-1,x,\n",
		"tag,kind,place,description\nA,DI,p,x\n",
		"PT-1,Pump pressure,AI,4-20 mA,0-10,bar\nLS-1,Switch,DI,,,\nSV-1,Valve,DO,,,\n",
		"| Tag | Type |\n|--|--|\n| X-1 | DI |\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b, err := tabular.Read("x.csv", []byte(text), tabular.Options{})
		if err != nil {
			return
		}
		res := intake.Read(fromtable.Book(b), intake.Options{})
		seen := map[string]bool{}
		for _, s := range res.Signals {
			if s.ID == "" || s.Tag == "" || s.Kind == "" || seen[s.ID] {
				t.Fatalf("signal %+v", s)
			}
			seen[s.ID] = true
		}
		if res.Rows < res.LeftOut+len(res.Rejected) {
			t.Fatalf("%d rows, %d left out, %d rejected", res.Rows, res.LeftOut, len(res.Rejected))
		}
		intake.Compare(nil, res.Signals, res.Signals)
	})
}

// FuzzCell puts anything into the cells of one row.
func FuzzCell(f *testing.F) {
	for _, s := range []string{"4-20mA", "0..10 bar", "±", "1e999", "-5--", "24VDC 120 mA", "(((", "0/4-20", "N.C.", "%IX", "1'000'000,5", "Ã", "½"} {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, a, b string) {
		a, b = strings.ReplaceAll(a, "\x00", ""), strings.ReplaceAll(b, "\x00", "")
		sheet := intake.FromRows("S", [][]string{
			{"Tag", "Description", "Type", "Signal form", "Range", "Unit", "Alarm L", "Contact", "Supply", "Wires", "Address", "Current (A)", "Fail position"},
			{"X-1", a, "AI", a, b, a, b, a, b, a, b, a, b},
			{a, b, b, b, a, b, a, b, a, b, a, b, a},
		})
		intake.Read(&intake.Book{File: "x", Sheets: []intake.Sheet{sheet}}, intake.Options{})
	})
}
