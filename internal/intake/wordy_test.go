package intake

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The cheap look at a description lets nothing through unread that the close one would find: tried on
// every cell of every list, and on what people write.
func TestCheapLookMissesNothing(t *testing.T) {
	texts := []string{"Flow 0..10 bar", "level -1 to +3 m", "±5 mm", "valve, 24 V DC", "Pt 100 head", "TC type K", "Ex ia IIC", "motor 2 A", "0 - 100 %", "solenoid 8 W", "heater (normally closed)", "limit switch NC", "RS485 link", "4/20", "0…16 bar", "5 x Pt100", "pulse", "ΔP 0-2,5 bar", "10k NTC", "2x 4-20mA"}
	paths, err := filepath.Glob(filepath.Join("testdata", "lists", "*.[cm]*"))
	if err != nil || len(paths) < 50 {
		t.Fatal(len(paths), err)
	}
	for _, p := range paths {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, strings.FieldsFunc(string(data), func(r rune) bool { return r == ';' || r == '\n' || r == '|' || r == '"' })...)
	}
	for _, text := range texts {
		if text = tidy(text); text == "" {
			continue
		}
		for _, style := range []numberStyle{stylePoint, styleComma} {
			o := parseTraits(text, style)
			if (o.said > 0 || o.kind != "" || o.form != "" || len(o.process) > 0) && !mayBeElectrical(text) {
				t.Errorf("%q: %s, %d ranges", text, o.words(), len(o.process))
			}
		}
	}
}

func TestDescribedContact(t *testing.T) {
	for text, want := range map[string]string{
		"Pump No. 3 running": "", "Steering gear no. 1 overload": "", "Boiler NO 2": "", "High level (NC)": "NC", "High level NO": "NO", "Druckschalter, Öffner": "NC", "Valve normally open": "NO",
		"Door contact N.C.": "NC", "Niveau haut NF": "NC", "Line no 4": "", "Fault, NC contact": "",
	} {
		if got := describedContact(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
