package hardware

import (
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
	"railwright/internal/tomltree"
)

// Format is the number of the hardware list's file format.
const Format = 1

type dropped struct {
	code  string
	where finding.Where
}

// Parse reads a hardware list in its TOML form; file is its name for messages. All faults come back
// in one run, each with its line; an entry with a fault is left out. What entries say of each other
// is not looked at here: see Merge and Check.
func Parse(file string, src []byte) (*List, finding.List) {
	doc := tomltree.Parse(file, src, "HWL")
	root := doc.Root()
	root.NeedInt("format", Format, Format)
	l := &List{spots: map[string]spots{}, faulty: map[string]bool{}}
	source := root.String("source", "")
	for _, code := range root.Strings("drop") {
		l.drop = append(l.drop, dropped{code, *root.Where("drop")})
	}
	for _, c := range classes {
		c.read(root, source, l)
	}
	findings := doc.Findings()
	for _, f := range findings {
		if code, ok := strings.CutPrefix(f.Subject, "part:"); ok && f.Severity == finding.Error {
			l.faulty[code] = true
		}
	}
	for _, c := range classes {
		c.keep(l, func(code string) bool { return !l.faulty[code] })
	}
	l.Sort()
	return l, findings
}

// spots are the places of an entry's keys; "" is the entry itself.
type spots map[string]finding.Where

// note remembers where an entry or one of its keys stands.
func (l *List) note(code, key string, where finding.Where) {
	if l.spots[code] == nil {
		l.spots[code] = spots{}
	}
	l.spots[code][key] = where
}

// where finds the spot of a key of an entry, or of the entry.
func (l *List) where(code, key string) *finding.Where {
	w, ok := l.spots[code][key]
	if !ok {
		w, ok = l.spots[code][""]
	}
	if !ok {
		return nil
	}
	return &w
}

// Where returns where an entry was read; nil where the list was not read from a file.
func (l *List) Where(code string) *finding.Where { return l.where(code, "") }

func subject(code string) string {
	if code == "" {
		return "project"
	}
	return "part:" + code
}

// families are the words of a cable's family.
func families() []string {
	out := []string{"signal", "power", "exi", "serial"}
	for _, s := range project.Sensors[project.TC] {
		out = append(out, "thermocouple-"+s)
	}
	return append(out, media...)
}
