package folder

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// base is a sound project of 21 lines.
const base = `format = 1
[project]
name = "Works"
[[place]]
id = "CTRL"
controller = true
power_source = true
[[place]]
id = "P1"
candidate = true
[[place]]
id = "P2"
candidate = true
[[route]]
from = "CTRL"
to = "P1"
length_m = 100
[[route]]
from = "P1"
to = "P2"
length_m = 50
`

const baseList = "tag,kind,form,place\nA,DI,pnp,P1\nB,DI,pnp,P2\n"

// networked adds the one other table that a project must have; behind the rest, so that lines stay.
func networked(toml string) []byte { return []byte(toml + "\n[network]\nprofile = \"net\"\n") }

// told prints the findings of at least the severity, each on a line.
func told(f *Folder, infos bool) string {
	var b strings.Builder
	for _, x := range f.Findings {
		if x.Severity == "info" && !infos {
			continue
		}
		spot := "nowhere"
		if x.Where != nil {
			spot = x.Where.String()
		}
		fmt.Fprintf(&b, "%s %s: %s\n", x.Rule, spot, x.Message)
	}
	return b.String()
}

func TestProjectFaults(t *testing.T) {
	for _, c := range []struct{ name, toml, want string }{
		{"sound", base, ""},
		{"nothing", "", `LST-035 signals.csv, cell D2: place P1 is not in project.toml
LST-035 signals.csv, cell D3: place P2 is not in project.toml
PRJ-003 project.toml, line 1: [project] has no key name
PRJ-003 project.toml, line 1: the file has no key format
PRJ-015 project.toml, line 1: no place is stated
`},
		{"format", strings.Replace(base, "format = 1", "format = 2", 1), "PRJ-011 project.toml, line 1: format is 2; this version reads format 1\n"},
		{"limits and types", base + `[basis]
ambient_max_c = 140
spare_percent = { DI = 10.05, DX = 5 }
free_slots = "two"
redundancy = "none"
max_cable_m = 0.0004
[basis.prices]
labour_per_h = 65.005
station_hours = 8
[basis.address]
align_bytes = 3
[basis.segregation]
loud = "grup"
[basis.current_ma]
"DI pnpp" = 15
[basis.reserve_percent]
enclosure = -1
`, `PRJ-002 project.toml, line 24: unknown key "DX" in [spare_percent]. Known here: AI, AO, CNT, DI, DO, RTD, SER, TC.
PRJ-002 project.toml, line 30: unknown key "station_hours" in [prices]. Known here: cable_end_min, check_min, group_min, group_off_h, labour_per_h, module_min, network_end_min, pull_min_per_m, station_h, station_off_h, termination_min.
PRJ-002 project.toml, line 36: unknown key "DI pnpp" in [current_ma]; did you mean "DI pnp"?
PRJ-004 project.toml, line 25: free_slots is the text "two"; a whole number belongs here
PRJ-005 project.toml, line 23: ambient_max_c is 140; allowed is -40 to 85
PRJ-005 project.toml, line 27: max_cable_m is 0.0004; allowed is 1 to 100000
PRJ-005 project.toml, line 38: enclosure is -1; allowed is 0 to 200
PRJ-006 project.toml, line 26: redundancy is "none"; allowed are "module", "group", "station"
PRJ-006 project.toml, line 34: loud is "grup"; allowed are "none", "module", "group", "station"; did you mean "group"?
PRJ-010 project.toml, line 24: DI is 10.05; the finest step is 0.1
PRJ-010 project.toml, line 29: labour_per_h is 65.005; the finest step is 0.01
PRJ-012 project.toml, line 32: align_bytes is 3; allowed are 1, 2, 4, 8, 16, 32, 64
`},
		{"places", strings.Replace(base, "candidate = true\n[[place]]\nid = \"P2\"\ncandidate = true", `candidate = true
controller = true
[[place]]
id = "P1"
[[place]]
id = "P2"
candidate = true
forbidden = true
[[place]]
id = "P3"
forbidden = true
ambient_min_c = 50
[[place]]
id = "P4"
candidate = true
zone = "0"
[[place]]
name = "no id"
[power]
ups_place = "P9"
supply_min_v = 25`, 1), `PRJ-003 project.toml, line 26: [place] has no key id
PRJ-014 project.toml, line 13: place P1 stands here a second time (first in line 9)
PRJ-016 project.toml, line 11: place P1 has the controller too, after CTRL (line 6)
PRJ-018 project.toml, line 17: place P2 is candidate (line 16) and forbidden
PRJ-021 project.toml, line 29: ups_place names place P9, which is not stated
PRJ-022 project.toml, line 21: ambient_min_c 50 is above ambient_max_c 40
PRJ-025 project.toml, line 23: no route joins place P4 with the controller, so no network cable could reach a station here
PRJ-026 project.toml, line 30: supply_min_v 25 is above supply_voltage_v 24
PRJ-028 project.toml, line 25: place P4 is in zone 0 and candidate; no station may stand in zone 0 or 20
PRJ-019 project.toml, line 20: place P3 is forbidden without a reason
PRJ-025 project.toml, line 19: no route joins place P3 with the controller
`},
		{"routes", base + `[[route]]
from = "P1"
to = "P2"
length_m = 60
[[route]]
from = "P1"
to = "P7"
length_m = 60
[[route]]
from = "P1"
to = "P1"
length_m = 60
[[route]]
from = "P1"
length_m = 0
`, `PRJ-003 project.toml, line 34: [route] has no key to
PRJ-005 project.toml, line 36: length_m is 0; allowed is 0.1 to 100000
PRJ-014 project.toml, line 22: route P1--P2 stands here a second time (first in line 18)
PRJ-023 project.toml, line 28: to names place P7, which is not stated
PRJ-024 project.toml, line 32: the route begins and ends at P1
`},
		{"nobody home", strings.NewReplacer("controller = true\n", "", "power_source = true\n", "", "candidate = true\n", "").Replace(base), `PRJ-016 project.toml, line 4: no place has the controller
PRJ-017 project.toml, line 4: no station may stand anywhere: no place is a candidate
PRJ-020 project.toml, line 4: no place has a mains distribution board to feed stations
`},
		{"choices", base + `[[choice]]
subject = "signal:A"
property = "station"
value = "S1"
[[choice]]
subject = "signal:A"
property = "place"
value = "P2"
[[choice]]
subject = "station:S1"
property = "place"
value = "P1"
[[choice]]
subject = "place:P1"
property = "station"
value = "no"
[[choice]]
subject = "signal:A"
property = "statoin"
value = "S1"
[[choice]]
subject = "signl:A"
property = "station"
value = "S1"
[[choice]]
subject = "signal:Z"
property = "station"
value = "S1"
[[choice]]
subject = "station:S1"
property = "input_byte"
value = "many"
[[choice]]
subject = "station:S1"
property = "slot.0"
value = "di16"
[[choice]]
subject = "signal:B"
property = "channel"
value = "S1/1/1"
[[choice]]
subject = "signal:A"
property = "channel"
value = "S1/1/1"
[[choice]]
subject = "signal:B"
property = "module"
value = 3
`, `PRJ-004 project.toml, line 69: value is 3 (a whole number); text belongs here
PRJ-040 project.toml, line 40: a signal has no property "statoin"; it has station, place, channel, module, address, cable; did you mean "station"?
PRJ-040 project.toml, line 43: subject "signl:A" is not understood; it is one of signal:ID, station:ID, place:ID, part:CODE
PRJ-040 project.toml, line 53: value "many" is not understood; station input_byte takes a whole number
PRJ-040 project.toml, line 56: a station has no property "slot.0"; it has place, coupler, enclosure, slot.N, infeed.N, input_byte, output_byte, infeed_mm2.N, protection.N; did you mean "slot.N"?
PRJ-041 project.toml, line 46: the choice names signal Z, which does not exist
PRJ-042 project.toml, line 22: signal:A place = P2 (project.toml line 26) and signal:A station = S1 (project.toml line 22) cannot both hold, as station S1 stands at P1 (project.toml line 30)
PRJ-042 project.toml, line 30: place:P1 station = no (project.toml line 34) and station:S1 place = P1 (project.toml line 30) cannot both hold
PRJ-042 project.toml, line 58: signal:A channel = S1/1/1 (project.toml line 62) and signal:B channel = S1/1/1 (project.toml line 58) want the same channel
`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := told(Parse(Files{ProjectFile: networked(c.toml), ListFile: []byte(baseList)}), false)
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestListFaults(t *testing.T) {
	for _, c := range []struct{ name, columns, list, want string }{
		{"sound", "", baseList, ""},
		{"empty", "", "", "LST-054 signals.csv: the list is empty\n"},
		{"only a heading", "", "tag,kind,place\n", "LST-054 signals.csv, cell A1: the list has a heading but no signals\n"},
		{"no heading", "", "A,DI,P1\nB,DI,P1\n", ""},
		{"columns missing", "", "tag,form\nA,pnp\n", "LST-050 signals.csv, cell A1: the list has no column kind and place\n"},
		{"title, BOM, semicolons, synonyms", "", "\xEF\xBB\xBFSignal list of the works;;;\n;;;\nTag No;Kind;Form;Location\nA;DI;pnp;P1\n", `LST-052 signals.csv, cell A3: "Tag No" is read as the column tag (common name)
LST-052 signals.csv, cell D3: "Location" is read as the column place (common name)
`},
		{"column map", "[columns]\n\"Loop no\" = \"tag\"\n\"Nothing\" = \"remarks\"\n\"Also\" = \"tag\"\n\"X\" = \"tagg\"", "Loop no\tkind\tform\tplace\nA\tDI\tpnp\tP1\n", `PRJ-006 project.toml, line 26: X is "tagg"; allowed are
PRJ-013 project.toml, line 25: two headings are mapped to tag (lines 23 and 25)
LST-057 project.toml, line 24: [columns] maps "Nothing" to remarks, but the list has no such heading
LST-057 project.toml, line 25: [columns] maps "Also" to tag, but the list has no such heading
LST-052 signals.csv, cell A1: "Loop no" is read as the column tag (column map)
`},
		{"unknown, twice, stray", "", "tag,kind,form,place,curent_ma,tag,\nA,DI,pnp,P1,5,,note\n", `LST-051 signals.csv, cell E1: the column "curent_ma" is not known and not read; did you mean current_ma?
LST-053 signals.csv, cell F1: "tag" is the column tag a second time (first in A1); the first is read
LST-055 signals.csv, cell G2: "note" stands in column G, which has no heading; the column is not read
`},
		{"rows", "", "tag,kind,form,place,current_ma\nA,DI,pnp,P1,12O mA\n,,,,\nB,DI,pnp,P1,\"4,5\"\nB,DO,24v,P8,1\n", `LST-002 signals.csv, cell E2: current_ma "12O mA" is not a number; did you mean 120 mA?
LST-030 signals.csv, cell A4: tag B stands in 2 rows: A4, A5; all of them are left out
LST-030 signals.csv, cell A5: tag B stands in 2 rows: A4, A5; all of them are left out
LST-035 signals.csv, cell D5: place P8 is not in project.toml; known are CTRL, P1, P2
LST-005 signals.csv, cell E4: current_ma "4,5" is read as 4.5 mA
`},
		{"open quote", "", "tag,kind,form,place\n\"A,DI,pnp,P1\n", "PRJ-052 signals.csv, cell A2: the quote that opens the cell in line 2 is not closed\n"},
		{"not a table", "", "%PDF-1.4", "PRJ-052 signals.csv: this is a PDF\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := told(Parse(Files{ProjectFile: networked(base + c.columns), ListFile: []byte(c.list)}), true)
			if c.name == "no heading" {
				if !strings.Contains(got, "LST-050 signals.csv, cell A1: no heading row was found") {
					t.Error(got)
				}
				return
			}
			got = cutAllowed(got)
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// cutAllowed shortens the list of all columns in a message.
func cutAllowed(s string) string {
	lines := strings.SplitAfter(s, "\n")
	for i, l := range lines {
		if head, _, ok := strings.Cut(l, "allowed are \"id\""); ok {
			lines[i] = head + "allowed are\n"
		}
	}
	return strings.Join(lines, "")
}

// Faulty rows are left out with their cell; the rest stays.
func TestLeftOut(t *testing.T) {
	f := Parse(Files{ProjectFile: networked(base), ListFile: []byte("tag,kind,form,place\nA,DI,pnp,P1\n,DX,,P1\nC,DI,pnp,P9\n")})
	var got []string
	for _, u := range f.LeftOut {
		got = append(got, strings.Join([]string{u.Signal, u.Tag, u.Where, u.Why, u.Proof}, "|"))
	}
	if diff := cmp.Diff([]string{
		"C|C|signals.csv, cell D4|place P9 is not in project.toml; known are CTRL, P1, P2|row",
		"row:3||signals.csv, cell A3|tag is missing|row",
	}, got); diff != "" {
		t.Error(diff)
	}
	if len(f.Project.Signals) != 1 || len(f.Cells) != 3 {
		t.Errorf("%d signals, %d rows", len(f.Project.Signals), len(f.Cells))
	}
}

func TestContradictions(t *testing.T) {
	choice := func(subject, property, value, more string) string {
		return fmt.Sprintf("[[choice]]\nsubject = %q\nproperty = %q\nvalue = %q\n%s", subject, property, value, more)
	}
	for _, c := range []struct{ name, project, choices, list, want string }{
		{"two values", choice("signal:A", "station", "S1", ""), choice("signal:A", "station", "S2", ""), "", "PRJ-042 choices.toml, line 2: signal:A station = S1 (project.toml line 22) and signal:A station = S2 (choices.toml line 2) differ\n"},
		{"list and hand", choice("signal:A", "station", "P1.1", ""), "", "tag,kind,form,place,station\nA,DI,pnp,P1,P2.1\n", "PRJ-042 signals.csv, line 2: signal:A station = P1.1 (project.toml line 22) and signal:A station = P2.1 (signals.csv row 2) differ\n"},
		{"fixed and forbidden", choice("part:di16", "use", "yes", ""), choice("part:di16", "use", "yes", "strength = \"forbidden\"\n"), "", "PRJ-042 project.toml, line 22: part:di16 use ≠ yes (choices.toml line 2) and part:di16 use = yes (project.toml line 22) cannot both hold\n"},
		{"same twice", choice("place:P1", "station", "yes", ""), choice("place:P1", "station", "yes", ""), "", "PRJ-043 choices.toml, line 2: place:P1 station yes is stated twice (project.toml line 22 and choices.toml line 2)\n"},
		{"same channel", choice("signal:A", "channel", "S1/1/1", ""), choice("signal:B", "channel", "S1/1/1", ""), "", "PRJ-042 choices.toml, line 2: signal:A channel = S1/1/1 (project.toml line 22) and signal:B channel = S1/1/1 (choices.toml line 2) want the same channel\n"},
		{"place and station", choice("signal:A", "place", "P2", "") + choice("signal:A", "station", "S1", ""), choice("station:S1", "place", "P1", ""), "", "PRJ-042 project.toml, line 26: signal:A place = P2 (project.toml line 22) and signal:A station = S1 (project.toml line 26) cannot both hold, as station S1 stands at P1 (choices.toml line 2)\n"},
		{"no station there", choice("place:P1", "station", "no", ""), choice("station:S1", "place", "P1", ""), "", "PRJ-042 choices.toml, line 2: place:P1 station = no (project.toml line 22) and station:S1 place = P1 (choices.toml line 2) cannot both hold\n"},
		{"forbidden place", "[[place]]\nid = \"P3\"\nforbidden = true\nreason = \"floods\"\n[[route]]\nfrom = \"P1\"\nto = \"P3\"\nlength_m = 5\n", choice("place:P3", "station", "yes", ""), "", "PRJ-042 choices.toml, line 2: choices.toml line 2 wants a station at place P3, which is forbidden (floods)\n"},
		{"unknown", choice("signal:AA", "station", "S1", "") + choice("place:P8", "station", "yes", ""), choice("station:S1", "place", "P9", ""), "", `PRJ-041 choices.toml, line 2: the choice names place P9, which does not exist
PRJ-041 project.toml, line 22: the choice names signal AA, which does not exist
PRJ-041 project.toml, line 26: the choice names place P8, which does not exist
`},
		{"signal left out", choice("signal:C", "station", "S1", ""), "", "tag,kind,form,place\nC,DI,relay,P1\nA,DI,pnp,P1\n", `LST-007 signals.csv, cell C2: form relay belongs to DO, not to DI; allowed for DI are contact, pnp, npn, 2-wire, namur, 24v, 120vac, 230vac
PRJ-044 project.toml, line 22: the row of signal C is left out; the choice waits until it is mended
`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.list == "" {
				c.list = baseList
			}
			got := told(Parse(Files{ProjectFile: networked(base + c.project), ChoicesFile: []byte("format = 1\n" + c.choices), ListFile: []byte(c.list)}), true)
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestMissing(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "x")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for path, says := range map[string]string{
		filepath.Join(dir, "none"): "does not exist; `railwright demo",
		file:                       "is a file; give the folder that holds project.toml",
		dir:                        "holds no project.toml; `railwright demo DIR`",
	} {
		if _, err := Read(path); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", path, err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, ProjectFile), networked(base), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff("PRJ-050 signals.csv: the folder has no signal list\n", told(f, true)); diff != "" {
		t.Error(diff)
	}
}

func TestRulesAreInOrder(t *testing.T) {
	last := "PRJ-009"
	for _, r := range Rules {
		if r.Code <= last || r.Title == "" || r.Text == "" {
			t.Errorf("rule %q after %q", r.Code, last)
		}
		last = r.Code
	}
}
