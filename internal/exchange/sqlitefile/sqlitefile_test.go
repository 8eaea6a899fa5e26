package sqlitefile_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/design/designtest"
	"railwright/internal/exchange/sqlitefile"
	"railwright/internal/exchange/tables"
)

func file(t *testing.T, all []tables.Table) string {
	t.Helper()
	data, err := sqlitefile.Bytes(all)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "design.sqlite")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// Law: every table comes back as it was, and two files of one design are equal.
func TestRoundTrip(t *testing.T) {
	all := tables.All(designtest.Sample(), nil, nil)
	path := file(t, all)
	for _, x := range all {
		rows, err := sqlitefile.Read(path, x)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(x.Rows, rows); d != "" {
			t.Errorf("%s: %s", x.Name, d)
		}
	}
	a, _ := os.ReadFile(path)
	b, err := sqlitefile.Bytes(all)
	if err != nil || !bytes.Equal(a, b) {
		t.Error("two files of one design differ", err)
	}
}
