package tabular

import (
	"bytes"
	"fmt"
	"math"
)

// readCSV reads delimited text. A quote opens a quoted cell only at the cell's beginning and closes
// it only before a delimiter or line end, so that 3" in a description does no harm.
func readCSV(name string, text []byte, enc string, opt Options) (*Book, error) {
	b := newBuilder(name, CSV)
	b.book.Encoding = enc
	if _, err := b.begin(""); err != nil {
		return nil, err
	}
	delim := byte(opt.Delimiter)
	if opt.Delimiter > 127 {
		return nil, b.fail(ErrFormat, "", "the delimiter must be one ASCII character", "use comma, semicolon, tab or pipe")
	}
	row := 0
	if d, rest, ok := statedDelimiter(text); ok {
		if delim == 0 {
			delim = d
		}
		text, row = rest, 1
	}
	if delim == 0 {
		delim = detectDelimiter(text)
	}
	b.book.Delimiter = rune(delim)
	p := csvParser{text: text, delim: delim}
	for !p.done() {
		for col := 0; ; col++ {
			cell, last, err := p.cell()
			if err != nil {
				return nil, b.fail(ErrDamaged, Address(row, col), err.Error(), "close the quote, or save the file again if it is cut off")
			}
			if err := b.putText(col, undoApostrophe(undoFormulaText(cell)), Text, 0); err != nil {
				return nil, err
			}
			if last {
				break
			}
		}
		if err := b.flush(row, false); err != nil {
			return nil, err
		}
		row++
	}
	b.end()
	return b.book, nil
}

// statedDelimiter reads the first line "sep=;" that some spreadsheets write.
func statedDelimiter(text []byte) (byte, []byte, bool) {
	line, rest, _ := bytes.Cut(text, []byte("\n"))
	line = bytes.TrimSuffix(line, []byte("\r"))
	if len(line) == 5 && bytes.EqualFold(line[:4], []byte("sep=")) {
		return line[4], rest, true
	}
	return 0, text, false
}

// csvParser cuts text into cells.
type csvParser struct {
	text  []byte
	delim byte
	pos   int
	buf   []byte
}

func (p *csvParser) done() bool { return p.pos >= len(p.text) }

// cell returns the next cell, valid until the next call, and whether it is the last of its row.
func (p *csvParser) cell() (cell []byte, last bool, err error) {
	if p.pos < len(p.text) && p.text[p.pos] == '"' {
		return p.quoted()
	}
	rest := p.text[p.pos:]
	for i, c := range rest {
		switch c {
		case p.delim:
			p.pos += i + 1
			return rest[:i], false, nil
		case '\n', '\r':
			p.pos += i
			p.lineEnd()
			return rest[:i], true, nil
		}
	}
	p.pos = len(p.text)
	return rest, true, nil
}

func (p *csvParser) lineEnd() {
	if p.text[p.pos] == '\r' {
		p.pos++
		if p.pos < len(p.text) && p.text[p.pos] == '\n' {
			p.pos++
		}
		return
	}
	p.pos++
}

func (p *csvParser) quoted() (cell []byte, last bool, err error) {
	start := p.pos
	p.buf = p.buf[:0]
	for i := p.pos + 1; ; {
		j := bytes.IndexByte(p.text[i:], '"')
		if j < 0 || len(p.buf) > MaxCellBytes {
			line := 1 + bytes.Count(p.text[:start], []byte("\n"))
			return nil, false, fmt.Errorf("the quote that opens the cell in line %d is not closed", line)
		}
		p.buf = append(p.buf, p.text[i:i+j]...)
		i += j + 1
		switch {
		case i == len(p.text):
			p.pos = i
			return p.buf, true, nil
		case p.text[i] == '"':
			p.buf = append(p.buf, '"')
			i++
		case p.text[i] == p.delim:
			p.pos = i + 1
			return p.buf, false, nil
		case p.text[i] == '\n' || p.text[i] == '\r':
			p.pos = i
			p.lineEnd()
			return p.buf, true, nil
		default:
			p.buf = append(p.buf, '"')
		}
	}
}

// detectDelimiter picks the delimiter that cuts the first rows into the most even rows.
func detectDelimiter(text []byte) byte {
	head := text[:min(len(text), 256<<10)]
	best, bestScore := byte(','), 0.0
	for _, d := range []byte{';', '\t', ',', '|'} {
		if s := evenness(head, d); s > bestScore*1.0001 {
			best, bestScore = d, s
		}
	}
	return best
}

// evenness scores a delimiter: the share of filled rows that have the commonest number of cells,
// squared, times the logarithm of that number.
func evenness(text []byte, d byte) float64 {
	p := csvParser{text: text, delim: d}
	counts := map[int]int{}
	rows := 0
	for n := 0; !p.done() && n < 500; n++ {
		cells, filled := 0, false
		for {
			c, last, err := p.cell()
			if err != nil { // a row cut off by the limit of the sample, or a stray quote
				return score(counts, rows)
			}
			cells++
			filled = filled || len(c) > 0
			if last {
				break
			}
		}
		if filled {
			counts[cells]++
			rows++
		}
	}
	return score(counts, rows)
}

func score(counts map[int]int, rows int) float64 {
	best := 0.0
	for cells, n := range counts {
		if cells > 1 {
			share := float64(n) / float64(rows)
			best = max(best, share*share*math.Log(float64(cells)+1))
		}
	}
	return best
}
