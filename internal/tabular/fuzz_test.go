package tabular

import "testing"

func read(t *testing.T, name string, data []byte) {
	b, err := Read(name, data, Options{})
	if err != nil {
		return
	}
	for _, s := range b.Sheets {
		for r := range min(s.Rows(), 100) {
			for c := range min(s.Width(r), 100) {
				s.Cell(r, c)
				s.Merged(r, c)
			}
		}
	}
}

func FuzzText(f *testing.F) {
	for _, s := range []string{"a,b\n1,2\n", "\uFEFFa;b\n\"x\"\"y\";2\n", "\xFF\xFEa\x00;\x00", "|a|b|\n|--|--|\n|1|2|\n", "sep=;\n", "=\"007\",'=1\n", "\"", "a\x00b", ""} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) { read(t, "x.csv", data) })
}

func FuzzXLSX(f *testing.F) {
	f.Add([]byte(`<worksheet><cols><col min="1" max="2" hidden="1"/></cols><sheetData><row r="1" hidden="1"><c r="A1" s="1" t="inlineStr"><is><t>x&amp;_x0041_</t></is></c><c t="s"><v>0</v></c><c r="D1"><f>1</f></c><c t="e"><v>#N/A</v></c></row></sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells></worksheet>`))
	f.Add([]byte(`<a b='>'><![CDATA[x]]><!-- c --></a>`))
	f.Fuzz(func(t *testing.T, sheet []byte) {
		read(t, "x.xlsx", xlsxWith(t, string(sheet), "xl/sharedStrings.xml", "<sst><si><t>s</t></si></sst>"))
	})
}

func FuzzODS(f *testing.F) {
	f.Add([]byte(odsHead + `<table:table table:name="S"><table:table-row table:number-rows-repeated="3"><table:table-cell table:style-name="ce1" office:value-type="float" office:value="7" table:number-columns-repeated="2"><text:p>007</text:p></table:table-cell></table:table-row></table:table>` + odsTail))
	f.Fuzz(func(t *testing.T, content []byte) { read(t, "x.ods", pack(t, "content.xml", string(content))) })
}

func FuzzArchive(f *testing.F) {
	f.Add(xlsxWith(f, `<worksheet><sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData></worksheet>`))
	f.Fuzz(func(t *testing.T, data []byte) { read(t, "x.xlsx", data) })
}
