package app

// packedRows are rows of texts of which most come again and again: each text is held once, a cell is
// its number.
type packedRows struct {
	texts []string
	cells []uint32
	width int
}

// pack takes rows over and leaves none of them in use.
func pack(rows [][]string) *packedRows {
	p := &packedRows{texts: []string{""}}
	for _, r := range rows {
		p.width = max(p.width, len(r))
	}
	p.cells = make([]uint32, 0, len(rows)*p.width)
	number := map[string]uint32{"": 0}
	for _, r := range rows {
		for c := range p.width {
			text := ""
			if c < len(r) {
				text = r[c]
			}
			n, ok := number[text]
			if !ok {
				n = uint32(len(p.texts))
				number[text] = n
				p.texts = append(p.texts, text)
			}
			p.cells = append(p.cells, n)
		}
	}
	return p
}

func (p *packedRows) len() int {
	if p == nil || p.width == 0 {
		return 0
	}
	return len(p.cells) / p.width
}

// rows unpacks all rows.
func (p *packedRows) rows() [][]string {
	out := make([][]string, p.len())
	for i := range out {
		out[i] = p.row(i, make([]string, 0, p.width))
	}
	return out
}

// row writes row i into buf.
func (p *packedRows) row(i int, buf []string) []string {
	buf = buf[:0]
	for _, n := range p.cells[i*p.width : (i+1)*p.width] {
		buf = append(buf, p.texts[n])
	}
	return buf
}

// all calls yield with each row; a row is used again for the next one.
func (p *packedRows) all(yield func(row []string) bool) {
	var buf []string
	for i := range p.len() {
		if buf = p.row(i, buf); !yield(buf) {
			return
		}
	}
}
