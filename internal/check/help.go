package check

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/calc/conductor"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// placed calls try for every placed signal in order of id and gathers what it finds; a finding without
// a subject is about the signal.
func placed(f *Facts, try func(s *project.Signal, at Seat) (finding.Finding, bool)) finding.List {
	var out finding.List
	for _, id := range f.Placed {
		s := f.Signals[id]
		if s == nil {
			continue
		}
		if x, bad := try(s, f.Seats[id]); bad {
			if x.Subject == "" {
				x.Subject = "signal:" + id
			}
			out = append(out, x)
		}
	}
	return out
}

// groups calls try for every supply group.
func groups(f *Facts, try func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool)) finding.List {
	var out finding.List
	for i := range f.Design.Stations {
		st := &f.Design.Stations[i]
		for k := range st.SupplyGroups {
			g := &st.SupplyGroups[k]
			if x, bad := try(st, g); bad {
				x.Subject = "group:" + g.ID
				out = append(out, x)
			}
		}
	}
	return out
}

// stations calls try for every station.
func stations(f *Facts, try func(st *design.Station) (finding.Finding, bool)) finding.List {
	var out finding.List
	for i := range f.Design.Stations {
		st := &f.Design.Stations[i]
		if x, bad := try(st); bad {
			if x.Subject == "" {
				x.Subject = "station:" + st.ID
			}
			out = append(out, x)
		}
	}
	return out
}

// feeders calls try for every feeder with its protective device.
func feeders(f *Facts, try func(fd *design.Feeder, d *hardware.Protection) (finding.Finding, bool)) finding.List {
	var out finding.List
	for i := range f.Design.Feeders {
		fd := &f.Design.Feeders[i]
		d, ok := deviceOf(f, "feeder:"+fd.ID)
		if !ok {
			continue
		}
		if x, bad := try(fd, d); bad {
			x.Subject = "feeder:" + fd.ID
			out = append(out, x)
		}
	}
	return out
}

// deviceOf is the protective device of "group:ID" or "feeder:ID".
func deviceOf(f *Facts, subject string) (*hardware.Protection, bool) {
	for i := range f.Design.Protections {
		if p := &f.Design.Protections[i]; p.Protects == subject {
			return f.List.Protection(p.Type)
		}
	}
	return nil, false
}

// figureOf is the figure NAME of a signal.
func figureOf(f *Facts, s *project.Signal, name string) (float64, bool) {
	return f.Figure("signal:" + s.ID + "." + name)
}

// calc is the id of a signal's record.
func calc(s *project.Signal, name string) string { return "signal:" + s.ID + "." + name }

// laid is the laid length of a seat's field cable in metres; 0 where there is none.
func laid(at Seat) float64 {
	if at.Cable == nil {
		return 0
	}
	return at.Cable.LengthM
}

// loopOf is the resistance of both cores of a cable type over a length, at the hot temperature that the
// figures use; false for a size that no table knows.
func loopOf(c *hardware.Cable, metres float64) (float64, bool) {
	r, err := conductor.ResistancePerLength(c.Area, conductor.Class(strconv.Itoa(c.Class)), figure.HotCopper)
	if err != nil {
		return 0, false
	}
	return 2 * metres * float64(r), true
}

// larger finds the smallest larger conductor of the seat's cable (same family, screen and at least as
// many cores) for which keeps holds; loop is the resistance of both cores.
func larger(f *Facts, at Seat, keeps func(loop float64) bool) (*hardware.Cable, float64) {
	if at.Type == nil {
		return nil, 0
	}
	var best *hardware.Cable
	found := 0.0
	for i := range f.List.Cables {
		c := &f.List.Cables[i]
		if c.Use != "field" || c.Family != at.Type.Family || c.Cores < at.Type.Cores || c.Screened != at.Type.Screened || c.Area <= at.Type.Area {
			continue
		}
		if c.MaxLength > 0 && c.MaxLength.Metres() < laid(at) {
			continue
		}
		loop, ok := loopOf(c, laid(at))
		if !ok || !keeps(loop) {
			continue
		}
		if best == nil || c.Area < best.Area || c.Area == best.Area && (c.Price < best.Price || c.Price == best.Price && c.Code < best.Code) {
			best, found = c, loop
		}
	}
	return best, found
}

// useCable is the change that gives a signal another cable type.
func useCable(s *project.Signal, c *hardware.Cable) finding.Change {
	return finding.Change{Subject: "signal:" + s.ID, Property: "cable", Value: c.Code}
}

// better finds the cheapest other module of the construction that takes the signal's kind and form and
// for whose channel set keeps holds.
func better(f *Facts, s *project.Signal, at Seat, keeps func(set *hardware.ChannelSet) bool) *hardware.Module {
	var best *hardware.Module
	for _, m := range f.List.ModulesOf(at.Station.Construction) {
		if m.Code == at.Module.Code || m.SupplyKind != at.Module.SupplyKind {
			continue
		}
		for i := range m.Channels {
			set := &m.Channels[i]
			if set.Kind != s.Kind || !slices.Contains(set.Forms, s.Form) || set.ExLevel != at.Set.ExLevel || s.HART && !set.HART || !keeps(set) {
				continue
			}
			if best == nil || m.Price < best.Price || m.Price == best.Price && m.Code < best.Code {
				best = m
			}
		}
	}
	return best
}

// useModule is the change that puts a signal on another module type.
func useModule(s *project.Signal, m *hardware.Module) finding.Change {
	return finding.Change{Subject: "signal:" + s.ID, Property: "module", Value: m.Code}
}

// few names up to five things and counts the rest.
func few(names []string) string {
	if len(names) <= 5 {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:5], ", "), len(names)-5)
}

// counted prints a number with its noun: "1 cable", "2 cables". The noun takes an s.
func counted(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return fmt.Sprintf("%d %s", n, noun)
}

// num prints a number with at most n decimals and no idle zeros.
func num(v float64, n int) string {
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func amps(i q.Current) float64 { return float64(i) }

// Short names of the hardware that rules look at.
type (
	chanSet = hardware.ChannelSet
	module  = hardware.Module
)

// sameLoop reports whether the channel set can do in a loop what the signal asks.
func sameLoop(set *chanSet, s *project.Signal) bool {
	if s.Active == "active" || s.Wires == 4 {
		return slices.Contains(set.Loop, "takes")
	}
	return slices.Contains(set.Loop, "feeds")
}
