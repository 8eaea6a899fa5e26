package tomltree

// Rule is one kind of fault that this package reports; the code is the document's prefix, a hyphen
// and Number in three digits. Numbers are permanent; 1 to 9 are this package's, others the caller's.
type Rule struct {
	Number int
	Title  string
	Text   string
}

// Rules are all faults that this package reports.
var Rules = []Rule{
	{1, "line is not TOML", "The line cannot be read; the message says what stands there and what belongs there. Reading goes on with the next key."},
	{2, "unknown key", "No such key exists here. A mistyped key would silently leave its default in force, so it is an error."},
	{3, "key is missing", "The key has no default and must be given."},
	{4, "value of the wrong type", "For instance text where a number belongs. Numbers stand without quotes and without a unit; the unit is in the key's name."},
	{5, "value outside its limits", "The number is below the least or above the most that is allowed."},
	{6, "value not among the allowed ones", "The text is none of the words allowed here."},
	{7, "given twice", "The same key or table stands in the file twice; the first one is used."},
}
