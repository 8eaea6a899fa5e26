package demo

import (
	"bytes"
	"embed"
	"fmt"
)

//go:embed weak mended
var spots embed.FS

// Spot is one weak spot that Weak plants.
type Spot struct {
	Name    string
	Subject string // what the finding is about
	Rule    string // the rule that finds it; "" where the plan mends it by itself
	Mend    string // how Mended has it
}

// Spots are the planted weak spots.
var Spots = []Spot{
	{"a valve too far out", "signal:OUT-XY-1", "OUT-009", "a valve with a coil of 120 mA"},
	{"a valve that a larger conductor reaches", "signal:OUT-XY-8", "", "the plan takes the larger conductor by itself"},
	{"an over-long 2-wire RTD", "signal:OUT-TE-2", "RTD-001", "four wires"},
	{"a 230 V input at the end of a long cable", "signal:OUT-XS-3", "DIN-004", "a contact at 24 V"},
	{"a loop with barrier and HART short of volts", "signal:OUT-LT-4", "LOP-002", "no barrier, a transmitter for 12 V"},
	{"two supplies in one loop by a hand choice", "signal:OUT-FT-5", "LOP-001", "the plan chooses the module"},
	{"two supplies in one loop by the list", "signal:OUT-AT-6", "LST-010", "four wires"},
	{"a leaky 2-wire switch on a type 1 input", "signal:OUT-LS-7", "DIN-002", "the plan chooses a type 3 input"},
	{"a breaker behind a current-limited supply", "group:GEN-S1-G1", "PWR-003", "the plan chooses an electronic device"},
	{"a second feed into a safety-switched group", "signal:INT-YS-119", "SAF-001", "a free contact, fed from a normal group"},
	{"an enclosure too hot", "station:GEN-S1", "ENC-001", "ventilated house, 45 degC"},
	{"an NPN input with earthed 0 V", "signal:INT-GS-112", "POL-001", "24 V isolated, with insulation monitoring"},
}

// edits are the lines of project.toml that Weak has otherwise.
var edits = []struct{ old, new string }{
	{"earthing = \"isolated\"       # 24 V isolated, with insulation monitoring: the screens have sensors that switch to 0 V", "earthing = \"earthed\""},
	{
		"id = \"GEN\"\nname = \"emergency generator house\"\nx_m = 45\ny_m = -35\ncandidate = true\npower_source = true\nambient_max_c = 45",
		"id = \"GEN\"\nname = \"emergency generator house\"\nx_m = 45\ny_m = -35\ncandidate = true\npower_source = true\nambient_max_c = 59",
	},
}

// Weak returns the example with the weak spots planted; Mended the same project with each of them
// mended by hand.
func Weak() []File {
	files := overlay(Files(), "weak")
	for i := range files {
		if files[i].Name != "project.toml" {
			continue
		}
		for _, e := range edits {
			if bytes.Count(files[i].Data, []byte(e.old)) != 1 {
				panic(fmt.Sprintf("demo: project.toml does not hold %q once", e.old))
			}
			files[i].Data = bytes.Replace(files[i].Data, []byte(e.old), []byte(e.new), 1)
		}
	}
	return files
}

// Mended returns the project of Weak with each weak spot mended by hand.
func Mended() []File { return overlay(Files(), "mended") }

// overlay adds to the example: rows to the list, places and routes to project.toml, and files that it
// does not have.
func overlay(base []File, dir string) []File {
	out := append([]File(nil), base...)
	for _, f := range all(spots, dir) {
		switch f.Name {
		case "signals.csv":
			_, rows, _ := bytes.Cut(f.Data, []byte("\n"))
			out = extend(out, "signals.csv", rows)
		case "places.toml":
			out = extend(out, "project.toml", f.Data)
		default:
			out = append([]File{f}, out...)
		}
	}
	return out
}

func extend(files []File, name string, more []byte) []File {
	for i := range files {
		if files[i].Name == name {
			files[i].Data = append(bytes.Clone(files[i].Data), more...)
		}
	}
	return files
}
