package modification

import (
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/project"
)

// Input is what is compared. The projects may be nil; then safe states and permissions are not known.
type Input struct {
	Old, New               *design.Design
	OldProject, NewProject *project.Project
}

// Modification is the work from the old design to the new one.
type Modification struct {
	Format  string         `json:"format"`
	From    string         `json:"from"` // revisions
	To      string         `json:"to"`
	Steps   []Step         `json:"steps"`
	Outages []Outage       `json:"outages"`
	Signals []SignalChange `json:"signals"` // sorted by id
	Buy     []PartCount    `json:"buy"`     // parts that the new design needs beyond what stands, sorted by code
	Free    []PartCount    `json:"free"`    // parts that come out and are not needed again
	Peak    int            `json:"peak"`    // most signals out of service at once
	Cores   int            `json:"cores"`   // cores taken off or landed
}

// Step is one thing to do. Its changes say exactly what it does to the facts.
type Step struct {
	Number   int      `json:"number"`
	Kind     Kind     `json:"kind"`
	Station  string   `json:"station"` // "" = beside the stations
	Text     string   `json:"text"`
	Outage   int      `json:"outage"`  // ordinal of the outage it lies in; 0 = none
	Signals  []string `json:"signals"` // ids of the signals concerned
	Cautions []string `json:"cautions"`
	Back     string   `json:"back"` // the way back
	Changes  []Change `json:"changes"`
}

// Outage is the time in which one unit is off.
type Outage struct {
	Number      int      `json:"number"`
	Unit        string   `json:"unit"`       // "group:ID", "station:ID" or "network:CABLE"
	First       int      `json:"first_step"` // its isolating one
	Last        int      `json:"last_step"`
	Signals     []string `json:"signals"`     // out of service, ids
	Trips       []string `json:"trips"`       // outputs that go to their safe state, in words
	Partners    []string `json:"partners"`    // redundant pairs that are out together, in words
	Permissions []string `json:"permissions"` // who must allow it
}

// SignalChange is what changes for one signal.
type SignalChange struct {
	Signal string   `json:"signal"`
	Tag    string   `json:"tag"`
	What   []string `json:"what"`  // "added", "removed", "renamed", "moved", "address", "cable", "wiring"
	Sheet  bool     `json:"sheet"` // its loop sheet is to be issued anew
}

// PartCount is a number of parts.
type PartCount struct {
	Code  string  `json:"code"`
	Title string  `json:"title"`
	Unit  string  `json:"unit"`
	Count float64 `json:"count"`
}

// Between returns the work from one design to another.
func Between(in Input) *Modification {
	from, to := StateOf(in.Old), StateOf(in.New)
	s := lookAt(in.Old, in.New)
	acts := s.actsOf(from, to)
	loadWhereSet(acts)
	absorb(s, acts)
	b := newBuilder(in, s, acts)
	b.prepare()
	for _, e := range b.plan.order() {
		if e.ends {
			b.end(e.unit)
		} else {
			b.begin(e.unit)
		}
	}
	b.close()
	m := b.m
	m.Format = "railwright-modification/1"
	m.From, m.To = in.Old.Project.Revision, in.New.Project.Revision
	m.Signals = signalChanges(in)
	m.Buy, m.Free = parts(in.Old, in.New)
	return m
}

// loadWhereSet loads an address in the outage in which its signal's channel is set, so that the signal can
// be tested as soon as that outage ends.
func loadWhereSet(acts []act) {
	unit := map[string]string{}
	for _, a := range acts {
		if a.kind != Set {
			continue
		}
		for _, fact := range []string{a.change.Before, a.change.After} { // the new channel wins
			if id := signalOf(fact); id != "" && (unit[id] == "" || fact == a.change.After) {
				unit[id] = a.unit
			}
		}
	}
	for i, a := range acts {
		if a.kind == Load && kindOf(a.change.Key) == address {
			acts[i].unit = unit[idOf(a.change.Key)]
		}
	}
}

// signalOf returns the signal of a channel's fact.
func signalOf(fact string) string {
	id, _, _ := strings.Cut(strings.TrimPrefix(fact, "signal:"), " as ")
	return id
}

// absorb puts work on a group whose station is off anyway into the station's outage.
func absorb(s *site, acts []act) {
	whole := map[string]bool{}
	for _, a := range acts {
		if kindOf(a.unit) == "station" {
			whole[a.unit] = true
		}
	}
	for i := range acts {
		if g, ok := strings.CutPrefix(acts[i].unit, "group:"); ok {
			if st := "station:" + s.owner(g); whole[st] {
				acts[i].unit = st
			}
		}
	}
}

// parts compares the parts lists: what to buy, and what comes out.
func parts(old, new *design.Design) (buy, free []PartCount) {
	sum := map[string]*PartCount{}
	add := func(d *design.Design, sign float64) {
		for _, p := range d.Parts {
			if sum[p.Code] == nil {
				sum[p.Code] = &PartCount{Code: p.Code, Title: p.Title, Unit: p.Unit}
			}
			if p.Unit != "m" { // metres are bought by cable, below
				sum[p.Code].Count += sign * p.Count
			}
		}
	}
	add(old, -1)
	add(new, 1)
	laid := map[string]string{}
	for _, c := range old.Cables {
		laid[c.ID] = c.Type
	}
	for _, c := range new.Cables {
		if laid[c.ID] == c.Type {
			continue
		}
		if sum[c.Type] == nil {
			sum[c.Type] = &PartCount{Code: c.Type, Unit: "m"}
		}
		sum[c.Type].Count += c.OrderM
	}
	for _, p := range sum {
		switch {
		case p.Count > 1e-9:
			buy = append(buy, *p)
		case p.Count < -1e-9:
			p.Count = -p.Count
			free = append(free, *p)
		}
	}
	byCode := func(a, b PartCount) int { return strings.Compare(a.Code, b.Code) }
	slices.SortFunc(buy, byCode)
	slices.SortFunc(free, byCode)
	return buy, free
}
