package tomltree

import (
	"fmt"
	"sort"
	"strings"

	"railwright/internal/finding"
)

// kind says what a node is.
type kind uint8

const (
	faulty kind = iota // present, but its line could not be read
	text
	integer
	decimal
	boolean
	date
	array
	table
	tables // [[name]]
)

// name is what people call a kind of value.
func (k kind) name() string {
	return [...]string{"faulty", "text", "a whole number", "a number", "true or false", "a date", "a list", "a table", "a list of tables"}[k]
}

// pos is a spot in the file; line and col count from 1, col in characters.
type pos struct{ line, col int }

// node is a key with its value, a table, or an item of a list.
type node struct {
	key     string
	kind    kind
	keyAt   pos    // of the key, or of the header
	at      pos    // of the value
	text    string // text: decoded; numbers, dates, booleans: as written
	items   []*node
	order   []*node // of a table: in file order
	byKey   map[string]*node
	subject string

	asked    bool // somebody asked for it
	walked   bool // tables: keys nobody asked for are faults
	known    []string
	explicit bool // has a header of its own
	dotted   bool // made by a dotted key
	closed   bool // inline
}

func newTable(key string, at pos) *node {
	return &node{key: key, kind: table, keyAt: at, at: at, byKey: map[string]*node{}}
}

func (n *node) add(child *node) *node {
	n.byKey[child.key] = child
	n.order = append(n.order, child)
	return child
}

// Doc is one file as a tree, with the findings so far.
type Doc struct {
	file     string
	prefix   string
	data     []byte
	lines    []int // offset of each line's first byte
	root     *node
	findings finding.List
	finished bool
}

// Root returns the table of the keys above the first header.
func (d *Doc) Root() Table { return Table{doc: d, node: d.root} }

// Findings returns all findings so far: of the syntax, of the getters, of Report, and one for each
// key that nobody asked for. Call it when everything has been asked. It may be called again.
func (d *Doc) Findings() finding.List {
	if !d.finished {
		d.finished = true
		d.unknown(d.root, "")
	}
	out := append(finding.List(nil), d.findings...)
	out.Sort()
	return out
}

// HasSyntaxFaults reports whether some line could not be read as TOML.
func (d *Doc) HasSyntaxFaults() bool {
	for _, f := range d.findings {
		if f.Rule == d.prefix+"-001" {
			return true
		}
	}
	return false
}

// unknown reports the keys that nobody asked for.
func (d *Doc) unknown(n *node, subject string) {
	if n.subject != "" {
		subject = n.subject
	}
	for _, c := range n.order {
		switch {
		case !c.asked && c.kind != faulty:
			msg := fmt.Sprintf("unknown key %q%s", c.key, n.place())
			remedy := "Take it out, or put a # before it."
			if near, ok := finding.Nearest(c.key, n.known); ok {
				msg += fmt.Sprintf("; did you mean %q?", near)
				remedy = fmt.Sprintf("Write %s.", near)
			} else if len(n.known) > 0 {
				known := append([]string(nil), n.known...)
				sort.Strings(known)
				msg += ". Known here: " + strings.Join(known, ", ") + "."
			}
			d.report(2, finding.Error, subject, c.keyAt, msg, remedy)
		case c.kind == table && c.walked:
			d.unknown(c, subject)
		case c.kind == tables || c.kind == array:
			for _, item := range c.items {
				if item.kind == table && item.walked {
					d.unknown(item, subject)
				}
			}
		}
	}
}

// place says which table a message is about.
func (n *node) place() string {
	if n.key == "" {
		return ""
	}
	return " in [" + n.key + "]"
}

func (d *Doc) report(rule int, sev finding.Severity, subject string, at pos, msg, remedy string) {
	d.reportCode(fmt.Sprintf("%s-%03d", d.prefix, rule), sev, subject, at, msg, remedy)
}

func (d *Doc) reportCode(code string, sev finding.Severity, subject string, at pos, msg, remedy string) {
	if subject == "" {
		subject = "project"
	}
	d.findings = append(d.findings, finding.Finding{
		Rule: code, Severity: sev, Subject: subject,
		Where:   &finding.Where{File: d.file, Line: at.line, Col: at.col},
		Message: msg, Remedy: finding.Remedy{Text: remedy},
	})
}
