// Package fromtable joins the two rooms that may not know each other: it hands the sheets of a table
// file (tabular) to the reader of foreign lists (intake), and makes tables of what intake says.
//
// Begin with Book; Report and Marked write what a person gets back.
package fromtable

import (
	"fmt"
	"io"

	"railwright/internal/finding"
	"railwright/internal/intake"
	"railwright/internal/tabular"
)

// Book gives a table file's sheets to intake. Cells are not copied.
func Book(b *tabular.Book) *intake.Book {
	out := &intake.Book{File: b.File}
	for _, s := range b.Sheets {
		sh := intake.Sheet{
			Name: s.Name, Hidden: s.Hidden, Rows: s.Rows(), Width: s.Width, Text: s.Text, RowHidden: s.RowHidden,
			Kind: func(r, c int) intake.CellKind { return cellKind(s.Cell(r, c).Kind) },
		}
		if b.Format == tabular.XLSX || b.Format == tabular.ODS {
			sh.Look = func(r, c int) intake.Look {
				l := s.Cell(r, c).Look
				return intake.Look{Fill: l.Fill, Font: l.Font, Bold: l.Bold, Struck: l.Struck}
			}
		}
		for _, m := range s.Merges {
			sh.Merges = append(sh.Merges, intake.Block(m))
		}
		out.Sheets = append(out.Sheets, sh)
	}
	return out
}

func cellKind(k tabular.Kind) intake.CellKind {
	switch k {
	case tabular.Number:
		return intake.CellNumber
	case tabular.Date:
		return intake.CellDate
	case tabular.Fault:
		return intake.CellFault
	}
	return intake.CellText
}

// Notes turns what the table's reader had to assume into findings.
func Notes(b *tabular.Book) finding.List {
	var out finding.List
	for _, n := range b.Notes {
		f := finding.Finding{Rule: n.Code, Severity: finding.Warning, Subject: "project", Message: n.Message, Remedy: finding.Remedy{Text: n.Remedy}}
		f.Where = &finding.Where{File: b.File, Sheet: n.Sheet, Cell: n.Cell}
		if n.Code == "TAB-002" {
			f.Severity = finding.Info
		}
		out = append(out, f)
	}
	if b.MoreNotes > 0 {
		out = append(out, finding.Finding{Rule: "TAB-009", Severity: finding.Info, Subject: "project", Message: fmt.Sprintf("%d further notes of the file's reader are not shown", b.MoreNotes)})
	}
	return out
}

// Tables makes the report as tables: findings, columns as understood, rows that were rejected.
func Tables(res *intake.Result) []tabular.Table {
	f := tabular.Table{Name: "Findings", Cols: tabular.Heads("severity", "rule", "sheet", "cell", "subject", "message", "remedy", "confidence")}
	for _, x := range res.Findings {
		var w finding.Where
		if x.Where != nil {
			w = *x.Where
		}
		cell := w.Cell
		if cell == "" && w.Line > 0 {
			cell = fmt.Sprintf("row %d", w.Line)
		}
		row := []tabular.Value{tabular.T(string(x.Severity)), tabular.T(x.Rule), tabular.T(w.Sheet), tabular.T(cell), tabular.T(x.Subject), tabular.T(x.Message), tabular.T(x.Remedy.Text)}
		if c, ok := x.Figures["confidence"]; ok {
			row = append(row, tabular.N(c.Value))
		}
		f.Rows = append(f.Rows, row)
	}
	c := tabular.Table{Name: "Columns", Cols: tabular.Heads("sheet", "column", "heading", "read as", "confidence", "from")}
	for _, u := range res.Columns {
		c.Rows = append(c.Rows, []tabular.Value{tabular.T(u.Sheet), tabular.T(u.Column), tabular.T(u.Heading), tabular.T(u.Meaning), tabular.N(u.Confidence), tabular.T(u.How)})
	}
	return []tabular.Table{f, c}
}

// RejectedTable makes a table of the rows that gave no signal, with the reason behind their cells.
func RejectedTable(res *intake.Result) tabular.Table {
	width := 0
	for _, rj := range res.Rejected {
		width = max(width, len(rj.Cells))
	}
	t := tabular.Table{Name: "Rejected", Cols: tabular.Heads("sheet", "row", "why")}
	for i := range width {
		t.Cols = append(t.Cols, tabular.Col{Head: tabular.Column(i)})
	}
	for _, rj := range res.Rejected {
		why := ""
		for i, w := range rj.Why {
			if i > 0 {
				why += "; "
			}
			why += w
		}
		row := []tabular.Value{tabular.T(rj.Sheet), tabular.I(int64(rj.Row)), tabular.T(why)}
		for _, c := range rj.Cells {
			row = append(row, tabular.T(c))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// Marked writes a copy of the list as a workbook with the report in front and every error and
// warning marked in its cell.
func Marked(w io.Writer, b *tabular.Book, res *intake.Result) error {
	var marks []tabular.Mark
	for _, f := range res.Findings {
		if f.Severity == finding.Info || f.Where == nil || f.Where.Cell == "" {
			continue
		}
		row, col, ok := tabular.ParseAddress(f.Where.Cell)
		if !ok {
			continue
		}
		for i, s := range b.Sheets {
			if s.Name == f.Where.Sheet {
				marks = append(marks, tabular.Mark{Sheet: i, Row: row, Col: col, Text: string(f.Severity) + ": " + f.Message + " " + f.Remedy.Text})
				break
			}
		}
	}
	return tabular.WriteMarked(w, b, Tables(res), marks)
}

// Import reads a table file's bytes as a foreign list: what the import command does before it shows
// anything. The book is for Marked; the findings include the notes of the file's reader. The error
// is a *tabular.Error where the file itself cannot be read.
func Import(name string, data []byte, opt intake.Options) (*tabular.Book, *intake.Result, error) {
	book, err := tabular.Read(name, data, tabular.Options{})
	if err != nil {
		return nil, nil, fmt.Errorf("import list: %w", err)
	}
	res := intake.Read(Book(book), opt)
	res.Findings = append(res.Findings, Notes(book)...)
	res.Findings.Sort()
	return book, res, nil
}
