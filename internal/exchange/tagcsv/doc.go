// Package tagcsv writes the tags of a design as CSV in any columns, for tools that import tags from
// tables of their own shape.
//
// ParseTemplate reads the column template (TOML, docs/exchange.md): which columns, what stands in each as text
// with fields in braces, how the file is cut and encoded. Write fills it in. Default is the template used
// where none is given. Cells are written as they are: a tag that begins with = or - stays so, since the
// reader is a program; Write reports such cells, because a spreadsheet would take them for formulas.
package tagcsv
