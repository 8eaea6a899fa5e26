package app

// packedRows are rows of texts of which most come again and again: each text is held once, a cell is
// its number.
type packedRows struct {
	texts []string
	cells []uint32 // of the columns in use, row by row
	use   []int
	n     int
	width int
}

// pack takes rows over and leaves none of them in use.
func pack(rows [][]string) *packedRows {
	p := &packedRows{texts: []string{""}, n: len(rows)}
	var filled []bool
	for _, r := range rows {
		p.width = max(p.width, len(r))
		filled = append(filled, make([]bool, p.width-len(filled))...)
		for c, text := range r {
			filled[c] = filled[c] || text != ""
		}
	}
	for c, yes := range filled {
		if yes {
			p.use = append(p.use, c)
		}
	}
	p.cells = make([]uint32, 0, len(rows)*len(p.use))
	number := map[string]uint32{"": 0}
	for _, r := range rows {
		for _, c := range p.use {
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
	if p == nil {
		return 0
	}
	return p.n
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
	buf = append(buf[:0], make([]string, p.width)...)
	for n, c := range p.use {
		buf[c] = p.texts[p.cells[i*len(p.use)+n]]
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
