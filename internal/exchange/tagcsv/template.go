package tagcsv

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
	"railwright/internal/tomltree"
)

// Template says how a table of tags looks.
type Template struct {
	Delimiter byte
	CRLF      bool
	Encoding  string // "utf-8", "utf-8-mark", "latin-1", "windows-1252"
	Header    bool
	Always    bool     // quote every cell
	Kinds     []string // kinds of signals that get a row; empty = all
	Spares    bool     // spare channels get rows too
	Columns   []Column
}

// Column is one column: its heading and what stands in it.
type Column struct {
	Head  string
	parts []part
	Map   map[string]string // whole values that are written otherwise
	Max   int               // longest value in characters; 0 = any
}

// part is plain text, or a field with the least number of digits.
type part struct {
	text, field string
	digits      int
}

// defaultTemplate is used where the user gives none.
const defaultTemplate = `format = 1
column = [
  { head = "name", value = "{name}" },
  { head = "tag", value = "{tag}" },
  { head = "type", value = "{type}" },
  { head = "address", value = "{address}" },
  { head = "description", value = "{description}" },
  { head = "kind", value = "{kind}" },
  { head = "unit", value = "{unit}" },
  { head = "raw_low", value = "{raw_low}" },
  { head = "raw_high", value = "{raw_high}" },
  { head = "value_low", value = "{value_low}" },
  { head = "value_high", value = "{value_high}" },
  { head = "station", value = "{station}" },
  { head = "slot", value = "{slot}" },
  { head = "channel", value = "{channel}" },
]
`

// Default is the template used where none is given.
func Default() *Template {
	t, found := ParseTemplate("", []byte(defaultTemplate))
	if len(found) > 0 {
		panic(found[0].String())
	}
	return t
}

var encodings = []string{"utf-8", "utf-8-mark", "latin-1", "windows-1252"}

// ParseTemplate reads a template; file is its name for messages. All faults come back in one run, rules
// TPL-001 to TPL-007 as for every TOML file, TPL-010 for a value that cannot be read and TPL-011 for a
// delimiter that is none.
func ParseTemplate(file string, src []byte) (*Template, finding.List) {
	doc := tomltree.Parse(file, src, "TPL")
	root := doc.Root()
	root.NeedInt("format", 1, 1)
	t := &Template{
		Delimiter: delimiter(root), CRLF: root.OneOf("line_end", "lf", "lf", "crlf") == "crlf", Encoding: root.OneOf("encoding", "utf-8", encodings...),
		Header: root.Bool("header", true), Always: root.OneOf("quote", "needed", "needed", "always") == "always", Spares: root.Bool("spares", false),
	}
	kinds := make([]string, len(project.Kinds))
	for i, k := range project.Kinds {
		kinds[i] = string(k)
	}
	t.Kinds = root.StringsOf("kinds", kinds...)
	for _, c := range root.Tables("column") {
		t.Columns = append(t.Columns, column(c))
	}
	if len(t.Columns) == 0 {
		root.Report("TPL-003", finding.Error, "", "no [[column]]", `Add [[column]] with head = "Name" and value = "{name}".`)
	}
	return t, doc.Findings()
}

func delimiter(root tomltree.Table) byte {
	s := root.String("delimiter", ",")
	if s == "tab" {
		return '\t'
	}
	if len(s) != 1 || s[0] < 0x20 || s[0] > 0x7e || strings.ContainsAny(s, `"{}`) || s[0] >= '0' && s[0] <= '9' || s[0] >= 'A' && s[0] <= 'Z' || s[0] >= 'a' && s[0] <= 'z' {
		root.Report("TPL-011", finding.Error, "delimiter", fmt.Sprintf("delimiter is %q; allowed are one mark such as , or ;, or tab", s), `Write delimiter = ";".`)
		return ','
	}
	return s[0]
}

func column(c tomltree.Table) Column {
	out := Column{Head: c.NeedString("head"), Max: int(c.Int("max", 0, 0, 10_000))}
	if c.Has("value") {
		parts, err := parse(c.String("value", ""))
		if err != nil {
			c.Report("TPL-010", finding.Error, "value", err.Error(), "Write text with fields in braces, such as {name} or {byte:4}; {{ is a brace.")
		}
		out.parts = parts
	}
	if c.Has("map") {
		m := c.Table("map")
		out.Map = map[string]string{}
		for _, k := range m.Keys() {
			out.Map[k] = m.String(k, "")
		}
	}
	return out
}

// parse takes a value apart into texts and fields.
func parse(value string) ([]part, error) {
	var out []part
	text := func(s string) {
		if s != "" {
			out = append(out, part{text: s})
		}
	}
	for {
		i := strings.IndexByte(value, '{')
		if i < 0 {
			text(value)
			return out, nil
		}
		text(value[:i])
		value = value[i+1:]
		if strings.HasPrefix(value, "{") {
			text("{")
			value = value[1:]
			continue
		}
		field, rest, ok := strings.Cut(value, "}")
		if !ok {
			return nil, fmt.Errorf("{%s has no closing brace", value)
		}
		p, err := fieldOf(field)
		if err != nil {
			return nil, err
		}
		out, value = append(out, p), rest
	}
}

func fieldOf(s string) (part, error) {
	name, digits, padded := strings.Cut(s, ":")
	if !slices.Contains(FieldNames, name) {
		msg := fmt.Sprintf("{%s} is no field", name)
		if near, ok := finding.Nearest(name, FieldNames); ok {
			msg += "; did you mean {" + near + "}?"
		} else {
			msg += "; fields are " + strings.Join(FieldNames, ", ")
		}
		return part{}, fmt.Errorf("%s", msg)
	}
	p := part{field: name}
	if padded {
		if len(digits) != 1 || digits[0] < '1' || digits[0] > '9' {
			return part{}, fmt.Errorf("{%s}: the number of digits is 1 to 9", s)
		}
		p.digits = int(digits[0] - '0')
	}
	return p, nil
}
