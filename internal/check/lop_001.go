package check

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "LOP-001", Title: "Two sources or none in a current loop",
	Why:     "Exactly one end of a loop drives the current. Two sources fight or add up, none leaves it dead; it is the commonest loop error.",
	Example: "A flow meter with an output of its own (active) fixed by hand to a module that powers the loop; release the module.",
	Source:  "arithmetic#kirchhoff", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		out := placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			return clash(f, s, at.Set.Loop, at.Module.Code)
		})
		for _, u := range f.Design.Unplaced {
			s := f.Signals[u.Signal]
			m := fixedModule(f, u.Signal)
			if s == nil || m == nil || !fit.CurrentLoop(s) {
				continue
			}
			if x, bad := clash(f, s, loopsOf(m, s), m.Code); bad {
				x.Subject = "signal:" + s.ID
				out = append(out, x)
			}
		}
		return out
	},
})

// clash compares what the device does in its loop with what the module can do.
func clash(f *Facts, s *project.Signal, loop []string, code string) (finding.Finding, bool) {
	if !fit.CurrentLoop(s) || len(loop) == 0 {
		return finding.Finding{}, false
	}
	want, fault, ends := "takes", "two sources", "the device drives the current, and so does module "+code
	if fit.Passive(s) {
		want, fault, ends = "feeds", "no source", "neither the device nor module "+code+" drives the current"
	}
	if slices.Contains(loop, want) {
		return finding.Finding{}, false
	}
	remedy := finding.Remedy{Text: fmt.Sprintf("Put it on a module whose loop says %q (released, the plan chooses one), or mend the column active.", want)}
	if m := otherLoop(f, s, want); m != "" {
		remedy.Text = fmt.Sprintf("Use %s (released, the plan chooses a fitting module by itself), or mend the column active.", m)
		remedy.Change = []finding.Change{{Subject: "signal:" + s.ID, Property: "module", Value: m}}
	}
	return finding.Finding{Severity: finding.Error, Message: fmt.Sprintf("%s has %s in its loop: %s.", s.Tag, fault, ends), Remedy: remedy}, true
}

// fixedModule is the module type that a choice fixes for a signal.
func fixedModule(f *Facts, id string) *hardware.Module {
	for _, d := range f.Project.Choices {
		if d.Subject == "signal:"+id && d.Property == "module" && d.Strength == project.Fixed {
			if m, ok := f.List.Module(d.Value); ok {
				return m
			}
		}
	}
	return nil
}

// loopsOf is what the module's sets for the signal's form can do in a loop.
func loopsOf(m *hardware.Module, s *project.Signal) []string {
	for i := range m.Channels {
		if set := &m.Channels[i]; set.Kind == s.Kind && slices.Contains(set.Forms, s.Form) {
			return set.Loop
		}
	}
	return nil
}

// otherLoop is the cheapest module of the fixed one's constructions that suits the loop.
func otherLoop(f *Facts, s *project.Signal, want string) string {
	fixed := fixedModule(f, s.ID)
	if fixed == nil {
		return ""
	}
	var best *hardware.Module
	for i := range f.List.Modules {
		m := &f.List.Modules[i]
		if strings.Join(m.Constructions, " ") != strings.Join(fixed.Constructions, " ") || s.ExLevel != "" || !slices.Contains(loopsOf(m, s), want) || exiModule(m) {
			continue
		}
		if best == nil || m.Price < best.Price {
			best = m
		}
	}
	if best == nil {
		return ""
	}
	return best.Code
}

func exiModule(m *hardware.Module) bool {
	return slices.ContainsFunc(m.Channels, func(c hardware.ChannelSet) bool { return c.ExLevel != "" })
}
