package tabular

import "bytes"

// readMarkdown reads the tables of a Markdown text into one sheet. Row n of the sheet is line n of
// the file, so that addresses can be found; headings and lines of text between the tables become
// rows with one cell, because the station or area often stands there.
func readMarkdown(name string, text []byte, enc string) (*Book, error) {
	b := newBuilder(name, Markdown)
	b.book.Encoding = enc
	if _, err := b.begin(""); err != nil {
		return nil, err
	}
	fenced := false
	for r := 0; len(text) > 0; r++ {
		line, rest, _ := bytes.Cut(text, []byte("\n"))
		text = rest
		line = bytes.TrimSpace(line)
		if bytes.HasPrefix(line, []byte("```")) || bytes.HasPrefix(line, []byte("~~~")) {
			fenced = !fenced
			line = nil
		}
		if err := b.markdownLine(line); err != nil {
			return nil, err
		}
		if err := b.flush(r, false); err != nil {
			return nil, err
		}
	}
	b.end()
	return b.book, nil
}

func (b *builder) markdownLine(line []byte) error {
	switch {
	case len(line) == 0 || isRule(line):
		return nil
	case bytes.IndexByte(line, '|') < 0:
		t := bytes.Trim(line, "# \t")
		return b.putText(0, plain(t), Text, 0)
	}
	line = bytes.TrimPrefix(line, []byte("|"))
	if bytes.HasSuffix(line, []byte("|")) && !bytes.HasSuffix(line, []byte(`\|`)) {
		line = line[:len(line)-1]
	}
	for col := 0; ; col++ {
		cell, rest, found := cutBar(line)
		if err := b.putText(col, plain(bytes.TrimSpace(cell)), Text, 0); err != nil {
			return err
		}
		if !found {
			return nil
		}
		line = rest
	}
}

// cutBar cuts at the first bar that is not escaped.
func cutBar(line []byte) (cell, rest []byte, found bool) {
	for i, c := range line {
		if c == '|' && (i == 0 || line[i-1] != '\\') {
			return line[:i], line[i+1:], true
		}
	}
	return line, nil, false
}

// plain takes off the marks of a cell that is bold or code as a whole, and escapes.
func plain(t []byte) []byte {
	for _, mark := range []string{"**", "__", "`"} {
		if m := []byte(mark); len(t) > 2*len(m) && bytes.HasPrefix(t, m) && bytes.HasSuffix(t, m) &&
			!bytes.Contains(t[len(m):len(t)-len(m)], m) {
			t = t[len(m) : len(t)-len(m)]
		}
	}
	if bytes.IndexByte(t, '\\') >= 0 {
		for _, c := range []string{"|", "*", "_", "`", "#", "<", ">", "[", "]", "-"} {
			t = bytes.ReplaceAll(t, []byte(`\`+c), []byte(c))
		}
	}
	for _, br := range []string{"<br>", "<br/>", "<br />"} {
		t = bytes.ReplaceAll(t, []byte(br), []byte("\n"))
	}
	return t
}
