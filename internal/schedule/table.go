package schedule

// Kind says what a cell holds.
type Kind uint8

// The kinds of cells. The zero Kind is an empty cell.
const (
	Empty Kind = iota
	Text
	Number
	YesNo
)

// Cell is one cell of a table. The zero Cell is empty.
type Cell struct {
	Kind   Kind
	Text   string
	Number float64 // 1 or 0 for YesNo
}

// Table is one schedule.
type Table struct {
	Key   string // short and stable: the name of its file
	Title string // for people: the name of its sheet
	Heads []string
	Rows  [][]Cell
	Total bool     // the last row holds the totals of the rows above it
	Paper []string // the columns that people need on paper, in order; nil: all
	By    string   // on paper, each value of this column begins a part of its own; "": one table
	File  bool     // for label printers and other programs: paper shows it in another form
}

func (t *Table) add(cells ...Cell) {
	if len(cells) != len(t.Heads) {
		panic("schedule: row of another width in " + t.Key)
	}
	t.Rows = append(t.Rows, cells)
}

func text(s string) Cell {
	if s == "" {
		return Cell{}
	}
	return Cell{Kind: Text, Text: s}
}

func number(v float64) Cell { return Cell{Kind: Number, Number: v} }

func whole(n int) Cell { return number(float64(n)) }

func yes(b bool) Cell {
	if b {
		return Cell{Kind: YesNo, Number: 1}
	}
	return Cell{Kind: YesNo}
}

// opt is a number that the list may have left out.
func opt(v float64, set bool) Cell {
	if !set {
		return Cell{}
	}
	return number(v)
}
