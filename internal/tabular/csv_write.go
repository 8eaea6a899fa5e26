package tabular

import (
	"bufio"
	"io"
	"strings"
)

// CSVOptions steer WriteCSV; the zero value writes commas and line feeds without a mark.
type CSVOptions struct {
	Delimiter byte // 0 is a comma
	BOM       bool // begin with the UTF-8 byte order mark, which some spreadsheets need
	CRLF      bool // end lines with carriage return and line feed
}

// WriteCSV writes a table with its header row as UTF-8. Texts that a spreadsheet would run as a
// formula are guarded as the package comment says.
func WriteCSV(w io.Writer, t Table, opt CSVOptions) error {
	c := csvWriter{w: bufio.NewWriter(w), delim: opt.Delimiter, end: "\n"}
	if c.delim == 0 {
		c.delim = ','
	}
	if opt.CRLF {
		c.end = "\r\n"
	}
	if opt.BOM {
		c.w.WriteString("\uFEFF")
	}
	head := make([]Value, len(t.Cols))
	for i, col := range t.Cols {
		head[i] = T(col.Head)
	}
	c.line(head, len(t.Cols))
	for _, row := range t.Rows {
		c.line(row, len(t.Cols))
	}
	return c.w.Flush() // holds the first error of all writes
}

type csvWriter struct {
	w     *bufio.Writer
	delim byte
	end   string
}

func (c *csvWriter) line(row []Value, cols int) {
	cols = max(cols, len(row))
	for i := range cols {
		if i > 0 {
			c.w.WriteByte(c.delim)
		}
		if i < len(row) {
			c.cell(row[i], cols == 1)
		}
	}
	c.w.WriteString(c.end)
}

func (c *csvWriter) cell(v Value, alone bool) {
	if v.Kind == Number {
		c.w.WriteString(fewest(v.Number))
		return
	}
	t := apostrophe(strings.ToValidUTF8(v.Text, "\uFFFD"))
	quote := alone && t == "" || strings.IndexByte(t, c.delim) >= 0 || strings.ContainsAny(t, "\"\r\n") ||
		t != strings.TrimSpace(t)
	if !quote {
		c.w.WriteString(t)
		return
	}
	c.w.WriteByte('"')
	c.w.WriteString(strings.ReplaceAll(t, `"`, `""`))
	c.w.WriteByte('"')
}
