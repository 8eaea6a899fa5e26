package check

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"railwright/internal/calc/conductor"
	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/fit"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "SIG-003", Title: "Module chosen for what the signal asks",
	Why:     "The cheapest module may be one whose input a leaky switch holds at 1, whose output does not drive the load, or that does not report a broken wire. The plan then takes the cheapest of those that break fewest rules, and says so.",
	Example: "A 2-wire switch with 1.2 mA of leakage sits on a type 3 input, though a type 1 module costs less: on it DIN-002 would be broken. Fix the module by hand if you know better.",
	Source:  "common-practice#module-by-demand", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		off, choices, volts := notUsed(f), fixedChoices(f), leastAtChannel(f)
		var out finding.List
		for i := range f.Design.Stations {
			out = append(out, demanded(f, &f.Design.Stations[i], off, choices, volts)...)
		}
		return out
	},
})

// demanded gathers the signals of a station that a cheaper module would serve worse, by both modules and
// the rules that it would break.
func demanded(f *Facts, st *design.Station, off map[string]bool, choices fixed, volts q.Voltage) finding.List {
	tags := map[[3]string][]string{}
	high, _, _, _ := f.Ambient(st.Place)
	where := fit.Where{Construction: st.Construction, Ambient: q.Temperature(high), Off: off}
	for _, id := range f.Placed {
		at, s := f.Seats[id], f.Signals[id]
		if at.Station != st || s == nil || choices.told("signal:"+id, "module") || choices.told("signal:"+id, "channel") {
			continue
		}
		mine := fit.FlawsOf(s, &f.Project.Basis, at.Module, setOf(at), volts)
		var worst *hardware.Module
		rules := ""
		for m := range f.List.Modules {
			mod := &f.List.Modules[m]
			if perChannel(mod) >= perChannel(at.Module) || worst != nil && perChannel(mod) >= perChannel(worst) {
				continue
			}
			for k := range mod.Channels {
				if _, ok := fit.MayUse(s, &f.Project.Basis, mod, k, where, ""); !ok {
					continue
				}
				if x := fit.FlawsOf(s, &f.Project.Basis, mod, k, volts); x.Compare(mine) > 0 {
					worst, rules = mod, strings.Join(beyond(x.Rules, mine.Rules), ", ")
				}
			}
		}
		if worst != nil {
			key := [3]string{at.Module.Code, worst.Code, rules}
			tags[key] = append(tags[key], s.Tag)
		}
	}
	var out finding.List
	for _, key := range slices.SortedFunc(maps.Keys(tags), func(a, b [3]string) int { return slices.Compare(a[:], b[:]) }) {
		out = append(out, finding.Finding{
			Severity: finding.Info, Subject: "station:" + st.ID,
			Message: fmt.Sprintf("%s on %s, though %s costs less a channel: there %s would be broken.", sitting(tags[key]), key[0], key[1], key[2]),
			Figures: figures("signals", float64(len(tags[key])), "1"),
			Remedy:  finding.Remedy{Text: "None needed; fix the module by hand if you know better."},
		})
	}
	return out
}

// setOf is the number of a seat's channel set on its module.
func setOf(at Seat) int {
	for i := range at.Module.Channels {
		if &at.Module.Channels[i] == at.Set {
			return i
		}
	}
	return 0
}

func sitting(tags []string) string {
	if len(tags) == 1 {
		return tags[0] + " sits"
	}
	return few(tags) + " sit"
}

// beyond are the codes of a that b does not hold, each once.
func beyond(a, b []string) []string {
	out := slices.DeleteFunc(slices.Clone(a), func(x string) bool { return slices.Contains(b, x) })
	slices.Sort(out)
	return slices.Compact(out)
}

// perChannel is the price of a module for each of its channels, in 1/10,000.
func perChannel(m *hardware.Module) int64 {
	n := 0
	for i := range m.Channels {
		n += m.Channels[i].Count
	}
	if n == 0 {
		return 1 << 60
	}
	return int64(m.Price) / int64(n)
}

// leastAtChannel is the lowest voltage at the channels of a 24 V group that carries the most that the basis
// allows.
func leastAtChannel(f *Facts) q.Voltage {
	b := &f.Project.Basis
	r, err := conductor.ResistancePerLength(b.Supply.InfeedArea, conductor.Class5, 70)
	if err != nil {
		return f.Project.Power.SupplyMin
	}
	return f.Project.Power.SupplyMin - b.Group.MaxCurrent.Current().Through(r.Of(2*b.Supply.InfeedLen.Length()))
}
