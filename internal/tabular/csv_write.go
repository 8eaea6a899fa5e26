package tabular

import (
	"bufio"
	"io"
	"strings"
	"unicode/utf8"
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
	heads := make([]string, len(t.Cols))
	for i, col := range t.Cols {
		heads[i] = col.Head
	}
	c := NewCSVWriter(w, heads, opt)
	for _, row := range t.Rows {
		c.w.line(row, c.cols)
	}
	return c.Flush()
}

// CSVWriter writes a list row by row, for lists that are too long to be held a second time.
type CSVWriter struct {
	w    csvWriter
	cols int
	row  []Value
}

// NewCSVWriter begins a list with its header row.
func NewCSVWriter(w io.Writer, heads []string, opt CSVOptions) *CSVWriter {
	c := &CSVWriter{w: csvWriter{w: bufio.NewWriterSize(w, 64<<10), delim: opt.Delimiter, end: "\n"}, cols: len(heads)}
	if c.w.delim == 0 {
		c.w.delim = ','
	}
	if opt.CRLF {
		c.w.end = "\r\n"
	}
	if opt.BOM {
		c.w.w.WriteString("\uFEFF")
	}
	c.Row(heads)
	return c
}

// Row writes one row of texts; the slice may be used again.
func (c *CSVWriter) Row(cells []string) {
	c.row = c.row[:0]
	for _, t := range cells {
		c.row = append(c.row, T(t))
	}
	c.w.line(c.row, c.cols)
}

// Flush writes what is still held, and returns the first error of all writes.
func (c *CSVWriter) Flush() error { return c.w.w.Flush() }

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
	t := v.Text
	if !utf8.ValidString(t) {
		t = strings.ToValidUTF8(t, "\uFFFD")
	}
	t = apostrophe(t)
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
