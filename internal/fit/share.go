package fit

import (
	"cmp"
	"strings"

	"railwright/internal/project"
)

// GroupKey says which signals may share a supply group: those with equal keys.
type GroupKey struct {
	Voltage   string // voltage kind
	Supply    string // supply class
	Function  string // "analogue", "in", "out", "any"
	Exi       bool
	Segregate string // segregation class if its level is group or station
	Part      string // equipment, if the basis splits by part
}

// String writes the key as design.json does: "24vdc normal in exi seg:X part:Y".
func (k GroupKey) String() string {
	var b strings.Builder
	b.WriteString(k.Voltage + " " + k.Supply + " " + k.Function)
	if k.Exi {
		b.WriteString(" exi")
	}
	if k.Segregate != "" {
		b.WriteString(" seg:" + k.Segregate)
	}
	if k.Part != "" {
		b.WriteString(" part:" + k.Part)
	}
	return b.String()
}

// Compare orders keys by their text, which is their order on the rail.
func (k GroupKey) Compare(o GroupKey) int { return cmp.Compare(k.String(), o.String()) }

// ModuleKey says which signals may share a module: those with equal keys.
type ModuleKey struct {
	Group     GroupKey
	Segregate string // segregation class if its level is module
	HighRelay bool   // relay output above HighContact
}

// String writes the key for messages.
func (k ModuleKey) String() string {
	s := k.Group.String()
	if k.Segregate != "" {
		s += " module-seg:" + k.Segregate
	}
	if k.HighRelay {
		s += " high-contact"
	}
	return s
}

// SegregationLevel returns the level of a segregation class; "group" where the basis states none,
// "none" for the empty class.
func SegregationLevel(class string, b *project.Basis) project.Level {
	if class == "" {
		return project.LevelNone
	}
	if l, ok := b.Segregation[class]; ok && l != "" {
		return l
	}
	return project.LevelGroup
}

// GroupKeyOf returns the signal's group key.
func GroupKeyOf(s *project.Signal, b *project.Basis) GroupKey {
	k := GroupKey{Voltage: VoltageKind(s), Supply: SupplyClass(s), Function: "any", Exi: s.ExLevel != ""}
	switch {
	case b.Group.SplitAnalogue && s.Kind.Analogue():
		k.Function = "analogue"
	case b.Group.SplitInOut && s.Kind.Output():
		k.Function = "out"
	case b.Group.SplitInOut:
		k.Function = "in"
	}
	if l := SegregationLevel(s.Segregate, b); l == project.LevelGroup || l == project.LevelStation {
		k.Segregate = s.Segregate
	}
	if b.Group.SplitByPart {
		k.Part = s.Equipment
	}
	return k
}

// ModuleKeyOf returns the signal's module key.
func ModuleKeyOf(s *project.Signal, b *project.Basis) ModuleKey {
	k := ModuleKey{Group: GroupKeyOf(s, b), HighRelay: HighRelay(s)}
	if SegregationLevel(s.Segregate, b) == project.LevelModule {
		k.Segregate = s.Segregate
	}
	return k
}

// StationClass returns the class that parts signals over stations: the segregation class if its
// level is station, else "". Signals of different station classes never share a station.
func StationClass(s *project.Signal, b *project.Basis) string {
	if SegregationLevel(s.Segregate, b) == project.LevelStation {
		return s.Segregate
	}
	return ""
}

// RedundancyLevel returns what redundant partners may not share, at least the module.
func RedundancyLevel(b *project.Basis) project.Level {
	switch b.Redundancy {
	case project.LevelGroup, project.LevelStation:
		return b.Redundancy
	}
	return project.LevelModule
}

// Partners returns, for each signal, the indices of its redundant partners, closed symmetrically,
// ascending, without itself. Ids and tags that name no signal are left out.
func Partners(signals []project.Signal) [][]int {
	at := make(map[string]int, 2*len(signals))
	for i := range signals {
		if _, taken := at[signals[i].Tag]; !taken {
			at[signals[i].Tag] = i
		}
	}
	for i := range signals {
		at[signals[i].ID] = i
	}
	out := make([][]int, len(signals))
	for i := range signals {
		for _, id := range signals[i].RedundantWith {
			if j, ok := at[id]; ok && j != i {
				out[i] = insert(out[i], j)
				out[j] = insert(out[j], i)
			}
		}
	}
	return out
}

func insert(list []int, v int) []int {
	for i, x := range list {
		if x == v {
			return list
		}
		if x > v {
			list = append(list, 0)
			copy(list[i+1:], list[i:])
			list[i] = v
			return list
		}
	}
	return append(list, v)
}
