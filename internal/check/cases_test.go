package check_test

import (
	"slices"
	"strings"
	"testing"

	"railwright/internal/check"
	"railwright/internal/finding"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/plan"
)

// ruleCase is one small project with the findings of one rule that its plan must bring, and no others:
// what stands beside them must stay silent.
type ruleCase struct {
	rule, name string
	toml       string             // added to the usual project
	csv        string             // the list, heading first
	hw         string             // hardware.toml
	change     func(*check.Facts) // made to the planned design before the rules read it
	want       []string           // "severity subject | text | text": texts of message and remedy
}

const usual = `format = 1
[project]
name = "case"
`

// usualPlaces: a control room with the board, and a place 200 m away without a station.
const usualPlaces = `
[[place]]
id = "A"
controller = true
candidate = true
power_source = true
[[place]]
id = "B"
[[route]]
from = "A"
to = "B"
length_m = 200
`

func (c *ruleCase) project() string {
	p := usual
	if !strings.Contains(c.toml, "[basis]") {
		p += "[basis]\nconstruction = \"rail\"\n"
	}
	if !strings.Contains(c.toml, "[network]") {
		p += "[network]\nprofile = \"ethernet-fibre\"\n"
	}
	if !strings.Contains(c.toml, "[[place]]") {
		p += usualPlaces
	}
	return p + c.toml
}

// cases are all cases, gathered by the files of the families.
var cases []ruleCase

func (c *ruleCase) run(t *testing.T) {
	csv := c.csv
	if csv == "" {
		csv = "tag,kind,form,place,contact\nXS-1,DI,contact,A,NC\n"
	}
	f := folder.Parse(folder.Files{"project.toml": []byte(c.project()), "signals.csv": []byte(csv)})
	if bad := f.Findings.Count(finding.Error); bad > 0 && !strings.Contains(c.name, "faulty row") {
		t.Fatalf("the case itself is faulty: %v", f.Findings)
	}
	list, found := hardware.Load(hardware.Builtin(), "hardware.toml", []byte(c.hw))
	if found.HasErrors() {
		t.Fatalf("hardware: %v", found)
	}
	if c.change != nil { // a list of its own, which it may change
		list, _ = hardware.Load(&hardware.List{}, "copy", hardware.Encode(list))
	}
	d, err := plan.Run(f.Project, list, plan.Options{Steps: 500, Findings: f.Findings, Unplaced: f.LeftOut})
	if err != nil {
		t.Fatal(err)
	}
	all := d.Findings
	if c.change != nil {
		facts := check.Gather(d, f.Project, list)
		c.change(facts)
		all = check.Run(check.Gather(d, f.Project, list))
	}
	var got finding.List
	for _, x := range all {
		if x.Rule == c.rule {
			got = append(got, x)
		}
	}
	left := slices.Clone(got)
	for _, w := range c.want {
		if i := slices.IndexFunc(left, func(x finding.Finding) bool { return says(x, w) }); i >= 0 {
			left = slices.Delete(left, i, i+1)
		} else {
			t.Errorf("missing %q; found %v", w, got)
		}
	}
	for _, x := range left {
		t.Errorf("not wanted: %s", x)
	}
}

func says(x finding.Finding, want string) bool {
	parts := strings.Split(want, " | ")
	if parts[0] != string(x.Severity)+" "+x.Subject {
		return false
	}
	for _, p := range parts[1:] {
		if !strings.Contains(x.Message+" "+x.Remedy.Text, p) {
			return false
		}
	}
	return true
}

func TestCases(t *testing.T) {
	for _, c := range cases {
		t.Run(c.rule+" "+c.name, func(t *testing.T) { c.run(t) })
	}
}

// Every rule that reads the design has a case on which it fires and one on which it is silent.
func TestEveryRuleHasCases(t *testing.T) {
	fires, silent := map[string]bool{}, map[string]bool{}
	for _, c := range cases {
		if len(c.want) > 0 {
			fires[c.rule] = true
		} else {
			silent[c.rule] = true
		}
	}
	for _, r := range check.All() {
		if r.Run == nil {
			continue
		}
		if !fires[r.Code] {
			t.Errorf("%s has no case on which it fires", r.Code)
		}
		if !silent[r.Code] {
			t.Errorf("%s has no case on which it is silent", r.Code)
		}
	}
}
