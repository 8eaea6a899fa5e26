package regmap

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

// JSON writes the map for programs.
func (m *Map) JSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(m)
	return b.Bytes(), err
}

// Read reads a JSON map back.
func Read(data []byte) (*Map, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	m := &Map{}
	if err := d.Decode(m); err != nil {
		return nil, fmt.Errorf("read Modbus map: %w", err)
	}
	if m.Format != Format {
		return nil, fmt.Errorf("read Modbus map: format %q; want %q", m.Format, Format)
	}
	return m, nil
}

var heads = []string{"station", "address", "node", "table", "number", "words", "read_function", "write_function", "type", "tag", "description", "unit", "raw_low", "raw_high", "value_low", "value_high"}

// rows are the cells of CSV and Markdown.
func (m *Map) rows() [][]string {
	var out [][]string
	for _, s := range m.Stations {
		for _, r := range s.Registers {
			row := []string{s.Station, s.Address, strconv.Itoa(s.Node), r.Table, strconv.Itoa(r.Number), strconv.Itoa(r.Words), strconv.Itoa(r.Read), write(r.Write), r.Type, r.Tag, r.Description, r.Unit, "", "", "", ""}
			if r.Scaled {
				copy(row[12:], []string{strconv.FormatInt(r.RawLow, 10), strconv.FormatInt(r.RawHigh, 10), number(r.ValueLow), number(r.ValueHigh)})
			}
			out = append(out, row)
		}
	}
	return out
}

func write(f int) string {
	if f == 0 {
		return ""
	}
	return strconv.Itoa(f)
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// CSV writes one row a signal. The first row says how numbers and words count, in the headings of the
// columns concerned. Texts that a spreadsheet would run as a formula get an apostrophe.
func (m *Map) CSV() []byte {
	var b strings.Builder
	head := append([]string{}, heads...)
	head[4] = fmt.Sprintf("number (base %d)", m.Base)
	head[5] = fmt.Sprintf("words (%s)", m.WordOrder)
	line := func(cells []string) {
		for i, c := range cells {
			if i > 0 {
				b.WriteByte(',')
			}
			if c != "" && strings.ContainsRune("=+-@\t\r'", rune(c[0])) && strings.Trim(c, "-0123456789.") != "" {
				c = "'" + c
			}
			if strings.ContainsAny(c, "\",\r\n") || c != strings.TrimSpace(c) {
				c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
			}
			b.WriteString(c)
		}
		b.WriteByte('\n')
	}
	line(head)
	for _, r := range m.rows() {
		line(r)
	}
	return []byte(b.String())
}

// Markdown writes a section with a table for each station.
func (m *Map) Markdown() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# Modbus map of %s, revision %s\n\nNumbers count from %d; a value of two registers has its %s.\n", cell(m.Project), cell(m.Revision), m.Base, strings.Replace(m.WordOrder, " ", " word ", 1))
	last := ""
	for _, r := range m.rows() {
		if r[0] != last {
			last = r[0]
			fmt.Fprintf(&b, "\n## %s, %s, node %s\n\n| table | number | words | read | write | type | tag | description | raw | value |\n|---|---:|---:|---:|---:|---|---|---|---|---|\n", cell(r[0]), cell(r[1]), r[2])
		}
		raw, value := "", ""
		if r[12] != "" {
			raw, value = r[12]+" to "+r[13], strings.TrimSpace(r[14]+" to "+r[15]+" "+r[11])
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s | %s | %s | %s | %s |\n", r[3], r[4], r[5], r[6], r[7], r[8], cell(r[9]), cell(r[10]), raw, cell(value))
	}
	return []byte(b.String())
}

// cell keeps a text inside its Markdown cell.
func cell(s string) string {
	return strings.NewReplacer("\\", "\\\\", "|", "\\|", "\r", " ", "\n", " ", "<", "&lt;", "&", "&amp;", "`", "\\`", "*", "\\*", "_", "\\_").Replace(s)
}
