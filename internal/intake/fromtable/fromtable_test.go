package fromtable_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"railwright/internal/intake"
	"railwright/internal/intake/fromtable"
	"railwright/internal/tabular"
)

func TestImport(t *testing.T) {
	book, res, err := fromtable.Import("x.csv", []byte("Tag;Typ;Messbereich\n=A-B1;AE;0..2,5 m\n=A-B2;??;\n"), intake.Options{Place: "hall"})
	if err != nil || len(res.Signals) != 1 || len(res.Rejected) != 1 || res.Signals[0].Place != "hall" {
		t.Fatal(err, res)
	}
	rj := fromtable.RejectedTable(res)
	if len(rj.Rows) != 1 || rj.Rows[0][3].Text != "=A-B2" || !strings.Contains(rj.Rows[0][2].Text, "no kind") {
		t.Errorf("rejected %+v", rj)
	}
	var b bytes.Buffer
	if err := fromtable.Marked(&b, book, res); err != nil {
		t.Fatal(err)
	}
	back, err := tabular.Read("marked.xlsx", b.Bytes(), tabular.Options{})
	if err != nil || len(back.Sheets) != 3 || back.Sheets[2].Text(1, 0) != "=A-B1" {
		t.Errorf("marked copy: %v", err)
	}
	if _, _, err := fromtable.Import("x.xlsx", []byte("PK\x03\x04"), intake.Options{}); !errors.Is(err, tabular.ErrDamaged) {
		t.Errorf("got %v", err)
	}
}
