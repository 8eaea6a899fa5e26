package explain_test

import (
	"strings"
	"sync"
	"testing"

	"railwright/internal/demo"
	"railwright/internal/design"
	"railwright/internal/explain"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/plan"
	"railwright/internal/project"
)

// example is the built-in example planned with a small budget, once for all tests.
var example = sync.OnceValues(func() (*design.Design, *project.Project) {
	in := folder.Files{}
	for _, f := range demo.Files() {
		in[f.Name] = f.Data
	}
	f := folder.Parse(in)
	d, err := plan.Run(f.Project, hardware.Builtin(), plan.Options{Steps: 1000})
	if err != nil {
		panic(err)
	}
	return d, f.Project
})

// Every calculation of the example has a title of its own in the catalogue.
func TestEveryRecordHasATitle(t *testing.T) {
	d, _ := example()
	for id := range d.Calculations {
		if explain.TitleKey(id) == "" {
			t.Errorf("%s has no title", id)
		}
	}
}

// subjects lists every subject of a design that a sheet can be asked for.
func subjects(d *design.Design) []string {
	out := []string{"project"}
	for _, s := range d.Stations {
		out = append(out, "station:"+s.ID)
		for _, g := range s.SupplyGroups {
			out = append(out, "group:"+g.ID)
		}
		for _, sl := range s.Slots {
			for _, c := range sl.Channels {
				if c.Signal != nil {
					out = append(out, "signal:"+c.SignalID)
				}
			}
		}
	}
	for _, s := range d.Supplies {
		out = append(out, "supply:"+s.ID)
	}
	for _, f := range d.Feeders {
		out = append(out, "feeder:"+f.ID)
	}
	for _, c := range d.Cables {
		out = append(out, "cable:"+c.ID)
	}
	return out
}

// Every subject of the example has a sheet of figures; each input is stated somewhere or is a step of
// the same sheet, and no line is longer than 80 columns.
func TestSheetsGoDownToTheLeaves(t *testing.T) {
	d, _ := example()
	for _, subject := range subjects(d) {
		s, _, ok := explain.Of(d, subject)
		if !ok || s.Subject != subject {
			t.Fatalf("%s is not found", subject)
		}
		if s.Own == 0 {
			t.Errorf("%s has no figure", subject)
		}
		for _, w := range s.Working {
			for _, in := range w.Inputs {
				kind, _, _ := strings.Cut(in.From, ":")
				switch kind {
				case "calc":
					if in.Step == 0 {
						t.Errorf("%s: %s of %s comes from %s, which is not in the sheet", subject, in.Name, w.ID, in.From)
					}
				case "project", "signal", "hardware", "cite", "rule":
				default:
					t.Errorf("%s: %s of %s comes from %q", subject, in.Name, w.ID, in.From)
				}
			}
		}
		for _, line := range strings.Split(s.Text(), "\n") {
			if n := len([]rune(line)); n > explain.Width && strings.Contains(strings.TrimSpace(line), " ") {
				t.Errorf("%s: a line of %d columns: %q", subject, n, line)
			}
		}
	}
}

// Supply units beyond the first of a feed show the feed's figures; bare names and tags are found.
func TestNames(t *testing.T) {
	d, _ := example()
	id := d.Stations[0].ID
	if s, _, ok := explain.Of(d, id); !ok || s.Subject != "station:"+id {
		t.Errorf("%s is not found by its bare name", id)
	}
	if _, near, ok := explain.Of(d, "FH1-XA-970"); ok || len(near) != 1 || near[0] != "FH1-XA-907" {
		t.Errorf("suggested %v", near)
	}
	if _, _, ok := explain.Of(d, "group:nothing-like-it"); ok {
		t.Error("found what is not there")
	}
}

// A sheet, written out by hand and recomputed with a pocket calculator.
func TestTextOfAValve(t *testing.T) {
	f := folder.Parse(folder.Files{
		"project.toml": []byte("format = 1\n[project]\nname = \"x\"\n[basis]\nconstruction = \"rail\"\n[network]\nprofile = \"ethernet-fibre\"\n" +
			"[[place]]\nid = \"A\"\ncontroller = true\ncandidate = true\npower_source = true\n"),
		"signals.csv": []byte("tag,kind,form,place,current_ma\nXY-1,DO,24v,A,300\n"),
	})
	d, err := plan.Run(f.Project, hardware.Builtin(), plan.Options{Steps: 100})
	if err != nil {
		t.Fatal(err)
	}
	s, _, ok := explain.Of(d, "XY-1")
	if !ok {
		t.Fatal("not found")
	}
	// group: 0.3 A and what the modules draw; 23.5 - 2 x 2 m x 15.9134 ohm/km x load; valve: less 0.5 V, less 0.3 A x 2 x 14 m x 15.9134 ohm/km = 0.134 V
	for _, want := range []string{
		"    u_device = supply - drop - current / 1000 * 2 * length * r / 1000\n",
		"      drop     0.5 V           hardware, ",
		"      current  300 mA          signal list, XY-1, current_ma (that the device\n                               draws)\n",
		"      r20  13.3 ohm/km  iec-60228, ",
		"  iec-60228: IEC 60228:2004 Conductors of insulated cables",
	} {
		if !strings.Contains(s.Text(), want) {
			t.Errorf("the sheet lacks %q:\n%s", want, s.Text())
		}
	}
}
