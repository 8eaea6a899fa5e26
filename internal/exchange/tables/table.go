package tables

// Type is the type of a column in SQL terms.
type Type string

// The types. Truth values are integers 0 and 1; Any holds a text or a number.
const (
	Text    Type = "TEXT"
	Integer Type = "INTEGER"
	Real    Type = "REAL"
	Any     Type = ""
)

// Column is one column. Key columns together are the table's primary key.
type Column struct {
	Name string
	Type Type
	Note string
	Key  bool
}

// Table is one table. Its first ParentKeys columns name a row of Parent. Cells are string, int64,
// float64 or nil.
type Table struct {
	Name, Note string
	Parent     string // "" = none
	ParentKeys int
	Columns    []Column
	Rows       [][]any
}
