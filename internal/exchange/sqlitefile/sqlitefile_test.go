package sqlitefile_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/design/designtest"
	"railwright/internal/exchange"
	"railwright/internal/exchange/extest"
	"railwright/internal/exchange/sqlitefile"
	"railwright/internal/exchange/tables"
	"railwright/internal/peer"
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

// The sqlite3 program (Debian), which is built from other sources than our library, opens the example's file: it is whole, its foreign
// keys hold, and queries that a person would ask give what the design says.
func TestPeer(t *testing.T) {
	sqlite := peer.Need(t, "sqlite3")
	w := extest.Example()
	points := exchange.Points(w.Design, w.Project, w.Hardware, true)
	path := file(t, tables.All(w.Design, points, make([]string, len(points))))
	ask := func(query string) string {
		out, err := exec.Command(sqlite, "-readonly", path, query).CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v\n%s", query, err, out)
		}
		return strings.TrimSpace(string(out))
	}
	metres := 0.0
	for _, c := range w.Design.Cables {
		metres += c.LengthM
	}
	signals := 0
	for _, p := range points {
		if !p.Spare && !p.Back {
			signals++
		}
	}
	for query, want := range map[string]string{
		"PRAGMA integrity_check":        "ok",
		"PRAGMA foreign_key_check":      "",
		"SELECT count(*) FROM stations": fmt.Sprint(len(w.Design.Stations)),
		"SELECT count(*) FROM stations_slots_channels WHERE signal_id <> ''": fmt.Sprint(signals),
		"SELECT printf('%.3f', sum(length_m)) FROM cables":                   fmt.Sprintf("%.3f", metres),
		"SELECT count(*) FROM calculations":                                  fmt.Sprint(len(w.Design.Calculations)),
		"SELECT count(*) FROM about WHERE note = '' AND column_name <> '' AND table_name IN ('stations', 'cables', 'supplies', 'feeders')":        "0",
		"SELECT count(*) FROM points p JOIN stations_slots_channels c ON c.signal_id = p.signal_id WHERE p.area = 'I' AND c.address <> p.address": "0",
	} {
		if got := ask(query); got != want {
			t.Errorf("%s: %s, want %s", query, got, want)
		}
	}
}
