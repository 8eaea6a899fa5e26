package device

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

// Draft is what a description says.
type Draft struct {
	Source  string // of every entry: "FILE, GSDML" and the like
	Entries []*Entry
	Found   finding.List // what could not be taken over, and what was assumed
}

// Entry is one entry of hardware.toml, or a channel set of one. Values are TOML literals by key.
type Entry struct {
	Class    string // "construction", "coupler", "module"; "module.channels" for a channel set
	Code     string
	Values   map[string]string
	Channels []*Entry
}

// Add begins an entry. The code is made of the name, legal and unique in the draft.
func (d *Draft) Add(class, name string) *Entry {
	e := &Entry{Class: class, Code: d.code(name), Values: map[string]string{}}
	e.Values["code"] = Quote(e.Code)
	d.Entries = append(d.Entries, e)
	return e
}

// code makes a hardware code of a name: letters, digits, points, hyphens, plus signs and underscores.
func (d *Draft) code(name string) string {
	var b strings.Builder
	for _, r := range name {
		ok := r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || b.Len() > 0 && strings.ContainsRune("._+-", r)
		switch {
		case ok:
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
		if b.Len() >= 50 {
			break
		}
	}
	base := strings.TrimRight(b.String(), "-._+")
	if base == "" {
		base = "part"
	}
	code := base
	for n := 2; slices.ContainsFunc(d.Entries, func(e *Entry) bool { return e.Code == code }); n++ {
		code = fmt.Sprintf("%s-%d", base, n)
	}
	return code
}

// Channel adds a channel set of so many channels, numbered on from the last one's; the first channel is 1.
func (e *Entry) Channel(count int) *Entry {
	first := 1
	for _, c := range e.Channels {
		n, _ := strconv.Atoi(c.Values["count"]) // written here
		first += n
	}
	c := &Entry{Class: "module.channels", Values: map[string]string{}}
	c.Int("count", count)
	c.Int("first", first)
	e.Channels = append(e.Channels, c)
	return c
}

// Text, Int and List set values; an empty text sets none.
func (e *Entry) Text(key, v string) {
	if v != "" {
		e.Values[key] = Quote(v)
	}
}

// Int sets a whole number.
func (e *Entry) Int(key string, v int) { e.Values[key] = strconv.Itoa(v) }

// List sets a list of texts.
func (e *Entry) List(key string, v []string) {
	if len(v) == 0 {
		return
	}
	quoted := make([]string, len(v))
	for i, s := range v {
		quoted[i] = Quote(s)
	}
	e.Values[key] = "[" + strings.Join(quoted, ", ") + "]"
}

// Quote writes a TOML basic string.
func Quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "\uFFFD") {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// Report adds a finding about an entry; code "" is about the whole file.
func (d *Draft) Report(rule string, sev finding.Severity, code string, line int, remedy, format string, args ...any) {
	f := finding.Finding{Rule: rule, Severity: sev, Subject: "project", Message: fmt.Sprintf(format, args...), Remedy: finding.Remedy{Text: remedy}}
	if code != "" {
		f.Subject = "part:" + code
	}
	if line > 0 {
		f.Where = &finding.Where{File: d.Source, Line: line}
	}
	d.Found = append(d.Found, f)
}

// keys are the keys of a class with their meaning, from the hardware list itself.
func keys(class string) []hardware.Key {
	for _, e := range hardware.Entries() {
		if e.Name == class {
			return e.Keys
		}
	}
	return nil
}

// Figure is a value that the user states for every entry that lacks the key. Scope narrows it: the code of an
// entry, a class ("module"), or a kind of channels ("DI"); "" is all.
type Figure struct{ Scope, Key, Value string }

// ParseFigure reads [SCOPE.]KEY=VALUE. A value that is no TOML number, truth value, list or table is taken as text.
func ParseFigure(s string) (Figure, error) {
	name, value, ok := strings.Cut(s, "=")
	name, value = strings.TrimSpace(name), strings.TrimSpace(value)
	if !ok || name == "" || strings.HasSuffix(name, ".") || value == "" || strings.ContainsAny(value, "\r\n") {
		return Figure{}, fmt.Errorf("figure %q: want KEY=VALUE, such as price=40 or SMP-1.price=40 or DI.forms=[\"24v\"]", s)
	}
	f := Figure{Key: name, Value: value}
	if i := strings.LastIndexByte(name, '.'); i >= 0 {
		f.Scope, f.Key = name[:i], name[i+1:]
	}
	if _, err := strconv.ParseFloat(value, 64); err != nil && value != "true" && value != "false" && !strings.ContainsRune("\"'[{", rune(value[0])) {
		f.Value = Quote(value)
	}
	return f, nil
}

// suits says how narrowly the figure is meant for a part of an entry: 3 by code, 2 by kind, 1 by class, 0 for
// all; -1 where it is not meant for it.
func (f Figure) suits(entry, part *Entry) int {
	switch f.Scope {
	case "":
		return 0
	case entry.Code:
		return 3
	case part.Class, entry.Class:
		return 1
	}
	if part.Values["kind"] == Quote(f.Scope) {
		return 2
	}
	return -1
}

// Fill sets the figures where the key exists and has no value; the narrowest figure counts, of like ones the
// first. It reports figures that suit no entry (DEV-010).
func (d *Draft) Fill(figures []Figure) {
	used := make([]bool, len(figures))
	for narrow := 3; narrow >= 0; narrow-- {
		for i, f := range figures {
			for _, entry := range d.Entries {
				for _, part := range append([]*Entry{entry}, entry.Channels...) {
					if f.suits(entry, part) != narrow || !slices.ContainsFunc(keys(part.Class), func(k hardware.Key) bool { return k.Name == f.Key }) {
						continue
					}
					used[i] = true
					if part.Values[f.Key] == "" {
						part.Values[f.Key] = f.Value
					}
				}
			}
		}
	}
	for i, f := range figures {
		if !used[i] {
			d.Report("DEV-010", finding.Error, "", 0, "See docs/hardware.md for the keys; a scope is a code, a class or a kind.", "figure %s suits no entry that was read", strings.TrimPrefix(f.Scope+"."+f.Key, "."))
		}
	}
}

// Missing lists the keys that entries lack, by class and key in the order of docs/hardware.md; channels by their
// kind, since what one kind needs suits no other.
func (d *Draft) Missing() []Ask {
	var out []Ask
	for _, entry := range hardware.Entries() {
		for _, k := range entry.Keys {
			at := map[string]int{}
			for _, e := range d.Entries {
				for _, x := range append([]*Entry{e}, e.Channels...) {
					if x.Class != entry.Name || x.Values[k.Name] != "" {
						continue
					}
					scope := x.scope(e)
					i, ok := at[scope]
					if !ok {
						i = len(out)
						at[scope] = i
						out = append(out, Ask{Class: entry.Name, Scope: scope, Key: narrowed(k, scope)})
					}
					if !slices.Contains(out[i].Codes, e.Code) {
						out[i].Codes = append(out[i].Codes, e.Code)
					}
				}
			}
		}
	}
	return out
}

// narrowed says of the key forms which ones the kind has.
func narrowed(k hardware.Key, kind string) hardware.Key {
	if forms := project.Forms[project.Kind(kind)]; k.Name == "forms" && forms != nil {
		k.Limits = "list of " + strings.Join(forms, ", ")
	}
	return k
}

// scope is how a figure names a part and its likes.
func (e *Entry) scope(of *Entry) string {
	if e.Class != "module.channels" {
		return e.Class
	}
	if kind := strings.Trim(e.Values["kind"], `"`); kind != "" {
		return kind
	}
	return of.Code
}

// Ask is one key that entries lack.
type Ask struct {
	Class string
	Scope string // as a figure would name them: a class, a kind of channels, or a code
	Key   hardware.Key
	Codes []string
}

// wanted are keys that may be left out, but that checks and addresses cannot do without.
var wanted = map[string]bool{
	"logic_ma": true, "supply_ma": true, "heat_w": true, "bus_limit_ma": true, "max_each_ma": true, "max_total_ma": true, "input_ma": true, "raw_high": true, "raw_step_k": true,
	"input_type": true, "loop_voltage_v": true, "impedance_ohm": true, "cycle_ms": true, "watchdog_ms": true, "accuracy_percent": true, "filter_ms": true,
}

// Findings are those of reading, and of what is missing: DEV-001 errors for needed keys, one DEV-002 info for
// the figures without which checks stay silent.
func (d *Draft) Findings() finding.List {
	out := slices.Clone(d.Found)
	var quiet []string
	for _, a := range d.Missing() {
		switch {
		case a.Key.Need:
			out = append(out, finding.Finding{
				Rule: "DEV-001", Severity: finding.Error, Subject: "project",
				Message: a.String() + " is not in such files: " + a.Key.Note + brief(a.Key.Limits),
				Remedy:  finding.Remedy{Text: "Fill it in from the device's manual, or state it with --figure " + a.Scope + "." + a.Key.Name + "=VALUE."},
			})
		case wanted[a.Key.Name]:
			quiet = append(quiet, a.Key.Name)
		}
	}
	slices.Sort(quiet)
	if quiet = slices.Compact(quiet); len(quiet) > 0 {
		out = append(out, finding.Finding{
			Rule: "DEV-002", Severity: finding.Info, Subject: "project",
			Message: "not in such files either, and 0 until it is filled in: " + strings.Join(quiet, ", "),
			Remedy:  finding.Remedy{Text: "Checks that need these figures stay silent, and loads count as nothing: fill them in from the manual."},
		})
	}
	out.Sort()
	return out
}

// String names the key and the entries that lack it.
func (a Ask) String() string {
	if a.Class == "module.channels" {
		return fmt.Sprintf("%s of %s channels of %s", a.Key.Name, a.Scope, some(a.Codes))
	}
	return fmt.Sprintf("%s of %s", a.Key.Name, some(a.Codes))
}

// Question is what a person is asked.
func (a Ask) Question() string { return a.String() + ": " + a.Key.Note + brief(a.Key.Limits) + "?" }

// brief is what is allowed, where it is short.
func brief(limits string) string {
	if len(limits) > 80 {
		return ""
	}
	return " (" + limits + ")"
}

func some(codes []string) string {
	if len(codes) <= 4 {
		return strings.Join(codes, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(codes[:4], ", "), len(codes)-4)
}

// TOML writes the entries in the order of docs/hardware.md. Needed keys without a value stand as comments to
// be filled in, so the file tells what is missing.
func (d *Draft) TOML() []byte {
	var b strings.Builder
	b.WriteString("format = 1\nsource = " + Quote(d.Source) + "\n")
	for _, class := range hardware.Entries() {
		for _, e := range d.Entries {
			if e.Class != class.Name {
				continue
			}
			b.WriteString("\n[[" + class.Name + "]]\n")
			e.write(&b)
			for _, c := range e.Channels {
				b.WriteString("\n[[module.channels]]\n")
				c.write(&b)
			}
		}
	}
	return []byte(b.String())
}

func (e *Entry) write(b *strings.Builder) {
	for _, k := range keys(e.Class) {
		switch v := e.Values[k.Name]; {
		case v != "":
			fmt.Fprintf(b, "%s = %s\n", k.Name, v)
		case k.Need:
			k = narrowed(k, strings.Trim(e.Values["kind"], `"`))
			fmt.Fprintf(b, "# %s =    # needed: %s; %s\n", k.Name, k.Note, k.Limits)
		}
	}
}
