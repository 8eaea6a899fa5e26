package demo

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strings"
)

//go:embed secondyear/added.csv
var added string

// What the works changed in its second year, beside what was added: a fan and two room instruments went
// out, two instruments were renamed, one kind of module is no longer made.
var (
	gone         = []string{"FH2-MT-903", "FH2-TY-904", "FH2-YS-906", "FH2-YA-906", "FH2-YC-906"}
	renamed      = map[string]string{"FH2-AT-108": "FH2-AT-118", "FH2-AT-308": "FH2-AT-318"}
	discontinued = "di8"
)

// SecondYear returns the example's signal list of its second year, made from the list of the first year
// with its column of ids, and the choices that go with it.
func SecondYear(list []byte) (signals, choices []byte, err error) {
	rows, err := csv.NewReader(strings.NewReader(string(list))).ReadAll()
	if err != nil {
		return nil, nil, err
	}
	more, err := csv.NewReader(strings.NewReader(added)).ReadAll()
	if err != nil {
		return nil, nil, err
	}
	heads := rows[0]
	id, tag := slices.Index(heads, "id"), slices.Index(heads, "tag")
	out := [][]string{heads}
	for _, r := range rows[1:] {
		if slices.Contains(gone, r[id]) {
			continue
		}
		if name := renamed[r[id]]; name != "" {
			r[tag] = name
		}
		out = append(out, r)
	}
	for _, r := range more[1:] {
		x := make([]string, len(heads))
		for i, h := range more[0] {
			if at := slices.Index(heads, h); at >= 0 {
				x[at] = r[i]
			}
		}
		x[id] = x[tag]
		out = append(out, x)
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	err = w.WriteAll(out)
	choice := "format = 1\n\n[[choice]]\nsubject = \"part:" + discontinued + "\"\nproperty = \"use\"\nvalue = \"no\"\nreason = \"no longer made\"\nby = \"purchasing\"\n"
	return []byte(b.String()), []byte(choice), err
}
