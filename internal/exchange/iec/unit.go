package iec

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/exchange"
	"railwright/internal/finding"
)

// Names that every file has beside those of signals.
const (
	ProgramName       = "RW_IO"
	ConfigurationName = "RW_CONFIG"
	ResourceName      = "RW_RESOURCE"
	TaskName          = "RW_TASK"
	InstanceName      = "RW_INSTANCE"
	TargetName        = "RW_TARGET"
)

// Head says what the file was made from.
type Head struct {
	Project, Controller, Revision string
	Convention                    string // "byte" or "word"
	Input                         string // SHA-256 of the design's input
	Tool                          string
	IntervalMS                    int64 // of the task; at least 1
}

// Variable is one global variable.
type Variable struct {
	Name, Type string
	Address    string   // "" for values in engineering units and fault marks
	Initial    string   // literal; "" = none
	Tag        string   // of its signal, as the list has it; "" for a spare channel
	Notes      []string // what it is and where
}

// Function is one function in Structured Text, with inputs in order.
type Function struct {
	Name, Result string
	Inputs       []Variable
	Locals       []Variable
	Note         string
	Body         []string // lines
}

// Unit is a complete source: functions, one program that scales, and a configuration whose global
// variables are located.
type Unit struct {
	Head      Head
	Functions []Function
	Located   []Variable
	Values    []Variable // in engineering units, and fault marks
	Body      []string   // of the program, lines
	Uses      []Variable // globals that the program names, in order of use

	parts []part // one a point
}

// Build makes the unit of points. Give it all of a design's, so that a name is the same in every export, and take
// what is wanted with Only. Findings: EXC-001 for names that had to be changed, EXC-002 for tags that would have
// come to the same name.
func Build(points []exchange.Point, head Head) (*Unit, finding.List) {
	head.IntervalMS = max(head.IntervalMS, 1)
	names := NewNames(append([]string{ProgramName, ConfigurationName, ResourceName, TaskName, InstanceName, TargetName}, functionNames()...)...)
	all := make([]named, len(points))
	for i, p := range points {
		all[i] = named{p.ID, p.Tag}
		switch {
		case p.Spare:
			all[i] = named{last, fmt.Sprintf("SPARE_%s_%d_%d", p.Station, p.Slot, p.Channel)}
		case p.Back:
			all[i].tag += "_OUT"
		}
	}
	given := names.assign(all)
	u := &Unit{Head: head}
	for i, p := range points {
		v := Variable{Name: given[i], Type: p.Type, Address: p.Address, Tag: p.Tag, Notes: notes(p)}
		u.add(scaled(p, v, names))
	}
	u.functions()
	return u, changed(points, all, given)
}

// last is the id of spare channels, which give way to every signal.
const last = "\uffff"

// part is what one point brings into a unit.
type part struct {
	located Variable
	values  []Variable // in engineering units, fault mark
	calls   []string   // functions
	body    []string
}

func (u *Unit) add(p part) {
	u.parts = append(u.parts, p)
	u.Located = append(u.Located, p.located)
	u.Values = append(u.Values, p.values...)
	u.Body = append(u.Body, p.body...)
	if len(p.body) > 0 {
		u.Uses = append(append(u.Uses, p.located), p.values...)
	}
}

// functions takes what the parts call from the library.
func (u *Unit) functions() {
	need := map[string]bool{}
	for _, p := range u.parts {
		for _, c := range p.calls {
			need[c] = true
		}
	}
	for _, f := range library() {
		if need[f.Name] {
			u.Functions = append(u.Functions, f)
		}
	}
}

// Only is the unit with the points that keep names by their place in Build's list.
func (u *Unit) Only(keep func(i int) bool) *Unit {
	out := &Unit{Head: u.Head}
	for i, p := range u.parts {
		if keep(i) {
			out.add(p)
		}
	}
	out.functions()
	return out
}

// changed reports names that differ from the tag, and tags that fell together.
func changed(points []exchange.Point, all []named, given []string) finding.List {
	var found finding.List
	made, tags := 0, 0
	example := ""
	for i, p := range points {
		if p.Spare || p.Back {
			continue
		}
		if tags++; given[i] == all[i].tag {
			continue
		}
		made++
		if example == "" {
			example = fmt.Sprintf("%s is %s", p.Tag, given[i])
		}
		if legal := Legal(all[i].tag); legal != given[i] {
			found = append(found, finding.Finding{
				Rule: "EXC-002", Severity: finding.Warning, Subject: "signal:" + p.ID,
				Message: fmt.Sprintf("tag %s would be named %s, which another variable has (case does not count); it is named %s", p.Tag, legal, given[i]),
				Remedy:  finding.Remedy{Text: "Rename one of the tags if people would mistake one for the other."}, Source: "IEC 61131-3, identifiers",
			})
		}
	}
	if made > 0 {
		found = append(found, finding.Finding{
			Rule: "EXC-001", Severity: finding.Info, Subject: "project",
			Message: fmt.Sprintf("%d of %d tags are no legal identifiers and were changed: %s; each variable's comment keeps the tag", made, tags, example),
			Source:  "IEC 61131-3, identifiers",
		})
	}
	return found
}

// notes are what a variable's comment says after the tag.
func notes(p exchange.Point) []string {
	at := fmt.Sprintf("%s slot %d channel %d", p.Station, p.Slot, p.Channel)
	if p.Spare {
		return []string{"spare " + string(p.Kind), at}
	}
	parts := []string{at}
	if p.Contact != "" {
		parts = append(parts, p.Contact)
	}
	if p.Scale.Known {
		parts = append(parts, strings.TrimSpace(fmt.Sprintf("%d to %d is %s to %s %s", p.Scale.RawLow, p.Scale.RawHigh, short(p.Scale.Low), short(p.Scale.High), p.Unit)))
	}
	if p.Hold != "" {
		parts = append(parts, "HOLD "+p.Hold)
	}
	if p.Description != "" {
		parts = append(parts, p.Description)
	}
	return parts
}

func short(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// scaled is a point with, if it is analogue and its scaling is known, its value in engineering units, fault
// mark and statements.
func scaled(p exchange.Point, raw Variable, names *Names) part {
	out := part{located: raw}
	s := p.Scale
	if !s.Known || p.Back {
		return out
	}
	ends := fmt.Sprintf("RAW_LOW := %s, RAW_HIGH := %s", Real(float64(s.RawLow)), Real(float64(s.RawHigh)))
	values := fmt.Sprintf("VALUE_LOW := %s, VALUE_HIGH := %s", Real(s.Low), Real(s.High))
	value := Variable{Name: names.Unique(raw.Name + "_VALUE"), Type: "REAL", Tag: p.Tag, Notes: []string{"in " + unitOf(p)}}
	if p.Area == 'Q' {
		value.Initial = Real(safe(p))
		out.call("RW_RAW_"+p.Type, raw.Name, "VALUE := "+value.Name, ends, values)
		out.values = []Variable{value}
		return out
	}
	out.call("RW_SCALE_"+p.Type, value.Name, "RAW := "+raw.Name, ends, values)
	out.values = []Variable{value}
	if s.MAHigh != 0 {
		fault := Variable{Name: names.Unique(raw.Name + "_FAULT"), Type: "BOOL", Tag: p.Tag, Notes: []string{"current of 3.6 mA or less, or 21 mA or more"}}
		out.call("RW_FAULT_"+p.Type, fault.Name, "RAW := "+raw.Name, ends)
		out.values = append(out.values, fault)
	}
	return out
}

func (p *part) call(function, target string, arguments ...string) {
	p.calls = append(p.calls, function)
	p.body = append(p.body, fmt.Sprintf("%s := %s(%s);", target, function, strings.Join(arguments, ", ")))
}

func unitOf(p exchange.Point) string {
	if p.Unit == "" {
		return "the unit of the range"
	}
	return p.Unit
}

// safe is what an analogue output's value begins with: its safe state if that is a number in the range, else
// the lower end.
func safe(p exchange.Point) float64 {
	v, err := strconv.ParseFloat(strings.TrimSpace(p.SafeState), 64)
	low, high := min(p.Scale.Low, p.Scale.High), max(p.Scale.Low, p.Scale.High)
	if err != nil || v < low || v > high {
		return p.Scale.Low
	}
	return v
}

// Real writes a REAL literal, which always has a decimal point (IEC 61131-3, numeric literals).
func Real(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return "0.0"
	}
	s := strconv.FormatFloat(v, 'g', -1, 32)
	mantissa, exp, ok := strings.Cut(s, "e")
	if !strings.Contains(mantissa, ".") {
		mantissa += ".0"
	}
	if !ok {
		return mantissa
	}
	n, _ := strconv.Atoi(exp) // FormatFloat wrote it
	return mantissa + "E" + strconv.Itoa(n)
}

// Externals are the globals that the program names, each once, in order of use.
func (u *Unit) Externals() []Variable {
	seen := map[string]bool{}
	return slices.DeleteFunc(slices.Clone(u.Uses), func(v Variable) bool {
		twice := seen[v.Name]
		seen[v.Name] = true
		return twice
	})
}
