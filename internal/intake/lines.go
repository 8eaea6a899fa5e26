package intake

import "strings"

// linedSheet is a sheet whose cells hold whole lines.
type linedSheet struct {
	sheet int
	sep   byte
}

// unpacked returns the book with sheets split whose cells hold whole lines: a CSV file that a
// spreadsheet with another list separator opened, and somebody saved as a workbook.
func (r *reader) unpacked(b *Book) *Book {
	out := &Book{File: b.File, Sheets: append([]Sheet(nil), b.Sheets...)}
	for i := range out.Sheets {
		s := &out.Sheets[i]
		sep, ok := lineSeparator(s)
		if !ok {
			continue
		}
		rows := make([][]string, s.Rows)
		for row := range rows {
			line := s.Text(row, 0)
			for c := 1; c < s.Width(row); c++ { // a comma in a number has parted the line
				line += "," + s.Text(row, c)
			}
			rows[row] = splitLine(line, sep)
		}
		split := FromRows(s.Name, rows)
		split.Hidden = s.Hidden
		if _, _, found := r.findHeading(&split, 0, min(scanTop, split.Rows)); !found {
			continue
		}
		out.Sheets[i] = split
		r.lined = append(r.lined, linedSheet{i, sep})
	}
	return out
}

// lineSeparator finds the sign that parts the lines in the first column of a sheet which has hardly
// another one.
func lineSeparator(s *Sheet) (byte, bool) {
	lines, wide := 0, 0
	count := map[byte]int{}
	for row := range min(s.Rows, 200) {
		if s.Width(row) == 0 {
			continue
		}
		if s.Width(row) > 2 {
			wide++
		}
		lines++
		for _, sep := range []byte{';', '\t', '|', ','} {
			if strings.Count(s.Text(row, 0), string(sep)) >= 2 {
				count[sep]++
			}
		}
	}
	if lines < 3 || wide*5 > lines {
		return 0, false
	}
	for _, sep := range []byte{';', '\t', '|', ','} {
		if count[sep]*10 >= lines*8 {
			return sep, true
		}
	}
	return 0, false
}

// splitLine parts a line as CSV does: quotes hold a cell together.
func splitLine(line string, sep byte) []string {
	var out []string
	var b strings.Builder
	quoted := false
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case c == '"' && quoted && i+1 < len(line) && line[i+1] == '"':
			b.WriteByte('"')
			i++
		case c == '"' && (quoted || b.Len() == 0):
			quoted = !quoted
		case c == sep && !quoted:
			out = append(out, b.String())
			b.Reset()
		default:
			b.WriteByte(c)
		}
	}
	return append(out, b.String())
}
