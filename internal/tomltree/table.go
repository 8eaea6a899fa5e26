package tomltree

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/finding"
)

// Table is a table of the file: the root, a [header], an item of a [[header]] or a table in braces.
// A table that is not in the file is empty: getters return defaults, Need getters report the
// missing key.
type Table struct {
	doc  *Doc
	node *node
}

// Given reports whether the table stands in the file.
func (t Table) Given() bool { return t.node.at.line > 0 }

// Has reports whether the key stands in the table, readable or not. It counts as asking.
func (t Table) Has(key string) bool { return t.get(key) != nil }

// Keys returns the table's keys in file order, for tables whose keys are names of the user.
func (t Table) Keys() []string {
	t.node.walked = true
	keys := make([]string, 0, len(t.node.order))
	for _, c := range t.node.order {
		keys = append(keys, c.key)
	}
	return keys
}

// SetSubject makes "place:P1" or the like the subject of the findings about this table.
func (t Table) SetSubject(subject string) { t.node.subject = subject }

// Subject returns what SetSubject set, or "project".
func (t Table) Subject() string {
	if t.node.subject == "" {
		return "project"
	}
	return t.node.subject
}

// Line returns the line of the key, or of the table's header where the key is "" or missing; 0
// where neither stands in the file.
func (t Table) Line(key string) int { return t.pos(key).line }

// Where returns the spot of the key, or of the header.
func (t Table) Where(key string) *finding.Where {
	p := t.pos(key)
	return &finding.Where{File: t.doc.file, Line: p.line, Col: p.col}
}

// Report adds a finding about a key (or the whole table: "") with its line. Code is the full code.
func (t Table) Report(code string, sev finding.Severity, key, message, remedy string) {
	t.doc.reportCode(code, sev, t.node.subject, t.pos(key), message, remedy)
}

func (t Table) pos(key string) pos {
	if c := t.node.byKey[key]; c != nil {
		return c.keyAt
	}
	return t.node.keyAt
}

// get returns the node of a key, or nil, and notes that the key exists as far as readers go.
func (t Table) get(key string) *node {
	t.node.walked = true
	if !slices.Contains(t.node.known, key) {
		t.node.known = append(t.node.known, key)
	}
	c := t.node.byKey[key]
	if c != nil {
		c.asked = true
	}
	return c
}

func (t Table) missing(key string) {
	where := "the file"
	if t.node.key != "" {
		where = "[" + t.node.key + "]"
	}
	t.doc.report(3, finding.Error, t.node.subject, t.node.keyAt, fmt.Sprintf("%s has no key %s", where, key), fmt.Sprintf("Add %s = ….", key))
}

// wrong reports a value of the wrong type; nothing for a line that was reported already.
func (t Table) wrong(c *node, want kind) {
	if c.kind == faulty {
		return
	}
	name := c.key
	remedy := fmt.Sprintf("Write %s for %s.", want.name(), name)
	switch {
	case (want == integer || want == decimal) && c.kind == text:
		remedy = fmt.Sprintf("Write %s without quotes and unit.", name)
		if m := numberUnit.FindStringSubmatch(strings.TrimSpace(c.text)); m != nil {
			remedy = fmt.Sprintf("Write %s = %s.", name, m[1])
		} else if _, err := strconv.ParseFloat(c.text, 64); err == nil {
			remedy = fmt.Sprintf("Write %s = %s.", name, c.text)
		}
	case want == text && c.kind != array && c.kind != table && c.kind != tables:
		remedy = fmt.Sprintf("Write %s = %q.", name, c.text)
	case want == boolean && c.kind == text:
		remedy = fmt.Sprintf("Write %s = true or %s = false, without quotes.", name, name)
	case want == tables && c.kind == table:
		remedy = fmt.Sprintf("Write [[%s]] for each one.", name)
	case want == table && c.kind == tables:
		remedy = fmt.Sprintf("Write [%s], once.", name)
	}
	t.doc.report(4, finding.Error, t.node.subject, c.at, fmt.Sprintf("%s is %s; %s belongs here", name, c.show(), want.name()), remedy)
}

// show quotes a value with its kind.
func (n *node) show() string {
	switch n.kind {
	case text:
		return fmt.Sprintf("the text %q", clip(n.text))
	case array, table, tables:
		return n.kind.name()
	}
	return fmt.Sprintf("%s (%s)", clip(n.text), n.kind.name())
}

// Table returns the table of a key.
func (t Table) Table(key string) Table {
	c := t.get(key)
	if c == nil {
		return t.absent(key)
	}
	if c.kind != table {
		t.wrong(c, table)
		return t.absent(key)
	}
	c.walked = true
	return Table{t.doc, c}
}

// absent stands for a table that is not there; a missing key is reported at the parent's line.
func (t Table) absent(key string) Table {
	return Table{t.doc, &node{key: key, kind: table, keyAt: pos{max(1, t.node.keyAt.line), 1}, subject: t.node.subject}}
}

// IsTable reports whether the key holds a table, for keys that take a number or a table.
func (t Table) IsTable(key string) bool {
	c := t.get(key)
	return c != nil && c.kind == table
}

// Tables returns the tables of [[key]] (or of a list of tables in braces) in file order.
func (t Table) Tables(key string) []Table {
	c := t.get(key)
	if c == nil {
		return nil
	}
	if c.kind != tables && c.kind != array {
		t.wrong(c, tables)
		return nil
	}
	out := make([]Table, 0, len(c.items))
	for _, item := range c.items {
		if item.kind != table {
			item.key = key
			t.wrong(item, table)
			continue
		}
		item.key, item.walked = key, true
		if item.keyAt.line == 0 {
			item.keyAt = item.at
		}
		out = append(out, Table{t.doc, item})
	}
	return out
}
