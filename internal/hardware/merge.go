package hardware

import (
	"crypto/sha256"
	"encoding/hex"
	"maps"
	"slices"
	"strings"

	"railwright/internal/finding"
)

// Merge lays the entries of over (a project's hardware.toml) over base: first what over drops goes,
// then an entry with a known code takes the place of the old one, and every other is added. A
// construction that is dropped takes its couplers, modules and bases along, so that a whole
// construction can be replaced. Neither list is changed. Check says whether the result holds together.
func Merge(base, over *List) (*List, finding.List) {
	var found finding.List
	out := base.shallow()
	for _, d := range over.drop {
		if !out.remove(d.code) {
			w := d.where
			found = append(found, finding.Finding{
				Rule: "HWL-013", Severity: finding.Error, Subject: subject(d.code), Where: &w,
				Message: "drop names " + quoted(clip(d.code)) + ", which is not in the list", Remedy: finding.Remedy{Text: "Take it out of drop." + didYouMean(d.code, base)},
			})
		}
	}
	for _, c := range classes {
		c.lay(out, over)
	}
	maps.Copy(out.spots, over.spots)
	maps.Copy(out.faulty, over.faulty)
	out.Sort()
	return out, found
}

// shallow copies the slices and the notes; entries are shared.
func (l *List) shallow() *List {
	out := *l
	out.spots, out.faulty, out.drop = map[string]spots{}, map[string]bool{}, nil
	maps.Copy(out.spots, l.spots)
	maps.Copy(out.faulty, l.faulty)
	for _, c := range classes {
		c.keep(&out, func(string) bool { return true })
	}
	return &out
}

// remove takes out an entry, a construction with all that belongs to it alone.
func (l *List) remove(code string) bool {
	gone := map[string]bool{code: true}
	if _, ok := l.Construction(code); ok {
		for _, c := range l.Couplers {
			if c.Construction == code {
				gone[c.Code] = true
			}
		}
		for _, m := range l.Modules {
			if len(m.Constructions) == 1 && m.Constructions[0] == code {
				gone[m.Code] = true
			}
		}
		for _, b := range l.Bases {
			if len(b.Constructions) == 1 && b.Constructions[0] == code {
				gone[b.Code] = true
			}
		}
		for i := range l.Modules {
			l.Modules[i].Constructions = without(l.Modules[i].Constructions, code)
		}
		for i := range l.Bases {
			l.Bases[i].Constructions = without(l.Bases[i].Constructions, code)
		}
	}
	found := false
	for _, c := range classes {
		found = found || slices.Contains(c.codes(l), code)
		c.keep(l, func(c string) bool { return !gone[c] })
	}
	return found
}

func without(list []string, word string) []string {
	if !slices.Contains(list, word) || len(list) == 1 {
		return list
	}
	return slices.DeleteFunc(slices.Clone(list), func(s string) bool { return s == word })
}

// Load reads a project's hardware.toml, lays it over base and checks the result: the list that the
// project plans with, and all findings in order. An empty src gives base itself.
func Load(base *List, file string, src []byte) (*List, finding.List) {
	if len(src) == 0 {
		return base, nil
	}
	over, found := Parse(file, src)
	merged, more := Merge(base, over)
	found = append(append(found, more...), Check(merged)...)
	found.Sort()
	return merged, found
}

// Encode writes the list in its canonical TOML form: entries by class and code, keys in one order,
// numbers with the fewest digits. Parse reads it back to an equal list.
func Encode(l *List) []byte {
	var b strings.Builder
	b.WriteString("format = 1\n")
	for _, c := range classes {
		c.encode(&b, l)
	}
	return []byte(b.String())
}

// SHA256 returns the hash of the canonical form in hexadecimal.
func SHA256(l *List) string {
	sum := sha256.Sum256(Encode(l))
	return hex.EncodeToString(sum[:])
}

// Only returns a list of the entries with the codes and of all that they name in turn (a coupler's
// construction and network profile, the profile's cable and parts, a construction's end piece and
// infeed modules), to be kept by value beside a design.
func (l *List) Only(codes []string) *List {
	want := map[string]bool{}
	var add func(code string)
	add = func(code string) {
		if code == "" || want[code] {
			return
		}
		want[code] = true
		if c, ok := l.Construction(code); ok {
			add(c.EndPiece)
			for _, m := range c.InfeedModules {
				add(m)
			}
		}
		if c, ok := l.Coupler(code); ok {
			add(c.Construction)
			add(c.Network)
		}
		if m, ok := l.Module(code); ok {
			for _, c := range m.Constructions {
				add(c)
			}
		}
		if n, ok := l.Network(code); ok {
			add(n.Cable)
			add(n.EndPart)
			add(n.SwitchPart)
		}
	}
	for _, code := range codes {
		add(code)
	}
	out := l.shallow()
	for _, c := range classes {
		c.keep(out, func(code string) bool { return want[code] })
	}
	return out
}
