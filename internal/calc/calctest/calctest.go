// Package calctest reads the reference tables that the formula packages' tests lean on. It is for
// tests only.
package calctest

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// Rows returns the rows of a CSV file by column name.
func Rows(t testing.TB, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	var rows []map[string]string
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = cells[i]
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		t.Fatalf("%s has no rows", path)
	}
	return rows
}

// Example returns the row of a worked-examples file with the given id.
func Example(t testing.TB, path, id string) map[string]string {
	t.Helper()
	for _, row := range Rows(t, path) {
		if row["id"] == id {
			return row
		}
	}
	t.Fatalf("%s has no example %s", path, id)
	return nil
}

// Float reads a cell as a number.
func Float(t testing.TB, cell string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		t.Fatalf("cell %q: %v", cell, err)
	}
	return v
}

// Near fails unless got lies within tol of want.
func Near[N ~float64](t testing.TB, what string, got N, want, tol float64) {
	t.Helper()
	if d := math.Abs(float64(got) - want); !(d <= tol) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, float64(got), want, tol)
	}
}

// Published holds a computed value against a worked example's recomputed value (exact) and its
// printed one (within the tolerance given there).
func Published[N ~float64](t testing.TB, row map[string]string, got N) {
	t.Helper()
	what := row["id"] + " " + row["title"] + " (source " + row["source_id"] + ")"
	tol := Float(t, row["tolerance"])
	re := Float(t, row["recomputed"])
	Near(t, what+" recomputed", got, re, math.Max(1e-6*math.Abs(re), 1e-9)+5e-6)
	if row["published"] != "n/a" {
		Near(t, what+" published", got, Float(t, row["published"]), math.Max(tol, 1e-9)+1e-9)
	}
}

// Absurd are values that no formula may take as a length, a current or a voltage.
func Absurd() []float64 {
	return []float64{-1, math.NaN(), math.Inf(1), math.Inf(-1), 1e30, -1e30}
}
