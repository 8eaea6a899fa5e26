package tabular

// Value is one cell to be written. The zero Value is an empty cell.
type Value struct {
	Kind   Kind // Empty, Text, Number or Bool
	Text   string
	Number float64
}

// T is a text.
func T(s string) Value {
	if s == "" {
		return Value{}
	}
	return Value{Kind: Text, Text: s}
}

// N is a number.
func N(v float64) Value { return Value{Kind: Number, Number: v} }

// I is a whole number.
func I(v int64) Value { return Value{Kind: Number, Number: float64(v)} }

// B is a yes or no.
func B(v bool) Value {
	if v {
		return Value{Kind: Bool, Text: "TRUE", Number: 1}
	}
	return Value{Kind: Bool, Text: "FALSE"}
}

// String gives the value as a file holds it, before any guard against formulas.
func (v Value) String() string {
	if v.Kind == Number {
		return fewest(v.Number)
	}
	return v.Text
}

// Col is a column of a table to be written.
type Col struct {
	Head  string  // with its unit in the name where files are read back: "length_m"
	Width float64 // in characters; 0 takes it from the content
}

// Table is a table to be written: a CSV file or one sheet of a workbook.
type Table struct {
	Name string
	Cols []Col
	Rows [][]Value
}

// Heads makes columns from headings.
func Heads(heads ...string) []Col {
	cols := make([]Col, len(heads))
	for i, h := range heads {
		cols[i].Head = h
	}
	return cols
}
