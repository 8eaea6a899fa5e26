package hardware

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/tomltree"
)

// class is one kind of entry: its name in the file, its fields, and its slice in a List.
type class[T any] struct {
	name   string
	fields []field[T]
	code   func(*T) string
	source func(*T) *string
	all    func(*List) *[]T
}

// classes are all classes in the order in which Encode writes them.
var classes = []interface {
	read(root tomltree.Table, source string, l *List)
	encode(b *strings.Builder, l *List)
	lay(into, over *List)
	keep(l *List, keep func(code string) bool)
	codes(l *List) []string
	keys() Entry
}{
	constructionClass, couplerClass, moduleClass, baseClass, supplyClass, protectionClass, cableClass, boxClass, enclosureClass, networkClass, partClass,
}

var (
	constructionClass = class[Construction]{"construction", constructionFields, func(e *Construction) string { return e.Code }, func(e *Construction) *string { return &e.Source }, func(l *List) *[]Construction { return &l.Constructions }}
	couplerClass      = class[Coupler]{"coupler", couplerFields, func(e *Coupler) string { return e.Code }, func(e *Coupler) *string { return &e.Source }, func(l *List) *[]Coupler { return &l.Couplers }}
	moduleClass       = class[Module]{"module", moduleFields, func(e *Module) string { return e.Code }, func(e *Module) *string { return &e.Source }, func(l *List) *[]Module { return &l.Modules }}
	baseClass         = class[Base]{"base", baseFields, func(e *Base) string { return e.Code }, func(e *Base) *string { return &e.Source }, func(l *List) *[]Base { return &l.Bases }}
	supplyClass       = class[SupplyUnit]{"supply_unit", supplyFields, func(e *SupplyUnit) string { return e.Code }, func(e *SupplyUnit) *string { return &e.Source }, func(l *List) *[]SupplyUnit { return &l.Supplies }}
	protectionClass   = class[Protection]{"protection", protectionFields, func(e *Protection) string { return e.Code }, func(e *Protection) *string { return &e.Source }, func(l *List) *[]Protection { return &l.Protections }}
	cableClass        = class[Cable]{"cable", cableFields, func(e *Cable) string { return e.Code }, func(e *Cable) *string { return &e.Source }, func(l *List) *[]Cable { return &l.Cables }}
	boxClass          = class[JunctionBox]{"junction_box", boxFields, func(e *JunctionBox) string { return e.Code }, func(e *JunctionBox) *string { return &e.Source }, func(l *List) *[]JunctionBox { return &l.Boxes }}
	enclosureClass    = class[Enclosure]{"enclosure", enclosureFields, func(e *Enclosure) string { return e.Code }, func(e *Enclosure) *string { return &e.Source }, func(l *List) *[]Enclosure { return &l.Enclosures }}
	networkClass      = class[NetworkProfile]{"network", networkFields, func(e *NetworkProfile) string { return e.Code }, func(e *NetworkProfile) *string { return &e.Source }, func(l *List) *[]NetworkProfile { return &l.Networks }}
	partClass         = class[Part]{"part", partFields, func(e *Part) string { return e.Code }, func(e *Part) *string { return &e.Source }, func(l *List) *[]Part { return &l.Parts }}
)

// read reads the [[name]] tables into the list. Entries with faults are noted by Parse.
func (c class[T]) read(root tomltree.Table, source string, l *List) {
	all := c.all(l)
	for _, t := range root.Tables(c.name) {
		var e T
		t.SetSubject(subject(t.String("code", "")))
		for i := range c.fields {
			f := &c.fields[i]
			f.read(t, f, &e)
		}
		code := c.code(&e)
		if code == "" {
			continue // reported as missing
		}
		if first, twice := l.spots[code][""]; twice {
			t.Report("HWL-011", finding.Error, "code", fmt.Sprintf("code %q is given twice, also in line %d", clip(code), first.Line), "Give one of the two another code, or take it out.")
			continue
		}
		l.note(code, "", *t.Where(""))
		for i := range c.fields {
			if key := c.fields[i].key; t.Has(key) {
				l.note(code, key, *t.Where(key))
			}
		}
		if s := c.source(&e); *s == "" {
			*s = source
		}
		if m, ok := any(&e).(*Module); ok {
			readChannels(t, m, l)
		}
		*all = append(*all, e)
	}
}

func readChannels(t tomltree.Table, m *Module, l *List) {
	for i, ct := range t.Tables("channels") {
		ct.SetSubject(t.Subject())
		var set ChannelSet
		for k := range channelFields {
			f := &channelFields[k]
			f.read(ct, f, &set)
			if ct.Has(f.key) {
				l.note(m.Code, fmt.Sprintf("channels.%d.%s", i, f.key), *ct.Where(f.key))
			}
		}
		_, set.Feeds = set.Terminal("supply+")
		l.note(m.Code, fmt.Sprintf("channels.%d", i), *ct.Where(""))
		m.Channels = append(m.Channels, set)
	}
}

// encode writes all entries in the order of codes, each with its keys in one order.
func (c class[T]) encode(b *strings.Builder, l *List) {
	all := slices.Clone(*c.all(l))
	slices.SortFunc(all, func(x, y T) int { return cmp.Compare(c.code(&x), c.code(&y)) })
	for i := range all {
		b.WriteString("\n[[" + c.name + "]]\n")
		writeFields(b, c.fields, &all[i])
		if m, ok := any(&all[i]).(*Module); ok {
			for k := range m.Channels {
				b.WriteString("\n[[module.channels]]\n")
				writeFields(b, channelFields, &m.Channels[k])
			}
		}
	}
}

func writeFields[T any](b *strings.Builder, fields []field[T], e *T) {
	for i := range fields {
		v := fields[i].write(e)
		if v == "" && fields[i].need && fields[i].zero != "" {
			v = fields[i].zero
		}
		if v != "" {
			b.WriteString(fields[i].key + " = " + v + "\n")
		}
	}
}

// lay puts the entries of over into the list in place of those with the same code.
func (c class[T]) lay(into, over *List) {
	all := c.all(into)
	out := slices.Clone(*all)
	at := make(map[string]int, len(out))
	for i := range out {
		at[c.code(&out[i])] = i
	}
	for _, e := range *c.all(over) {
		if i, ok := at[c.code(&e)]; ok {
			out[i] = e
			continue
		}
		out = append(out, e)
	}
	*all = out
}

// keep leaves in the list only what keep says.
func (c class[T]) keep(l *List, keep func(string) bool) {
	var out []T
	for _, e := range *c.all(l) {
		if keep(c.code(&e)) {
			out = append(out, e)
		}
	}
	*c.all(l) = out
}

func (c class[T]) codes(l *List) []string {
	all := *c.all(l)
	out := make([]string, len(all))
	for i := range all {
		out[i] = c.code(&all[i])
	}
	return out
}

// Key describes one key of the file format, for the documentation.
type Key struct {
	Name, Note, Limits string
	Need               bool
}

// Entry describes the keys of one kind of entry.
type Entry struct {
	Name string // "module", or "module.channels"
	Keys []Key
}

func (c class[T]) keys() Entry { return Entry{c.name, keysOf(c.fields)} }

func keysOf[T any](fields []field[T]) []Key {
	out := make([]Key, len(fields))
	for i, f := range fields {
		out[i] = Key{f.key, f.note, f.limit, f.need}
	}
	return out
}

// Entries describes all keys of the file format in the order in which Encode writes them.
func Entries() []Entry {
	var out []Entry
	for _, c := range classes {
		out = append(out, c.keys())
		if out[len(out)-1].Name == "module" {
			out = append(out, Entry{"module.channels", keysOf(channelFields)})
		}
	}
	return out
}
