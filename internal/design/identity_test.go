package design

import (
	"slices"
	"testing"
)

func TestMatchTakesTheLargestOverlap(t *testing.T) {
	old := map[string][]string{"A": {"1", "2", "3"}, "B": {"4", "5"}, "C": {"6"}}
	sets := [][]string{{"3", "4", "5"}, {"1", "2"}, {"7"}, {"6", "8"}}
	if got, want := Match(old, sets), []string{"B", "A", "", "C"}; !slices.Equal(got, want) {
		t.Fatalf("%v, want %v", got, want)
	}
}

func TestNamesAreNeverReused(t *testing.T) {
	n := NewNames(&Design{Ordinals: map[string]int{"hall-S": 3}})
	if got := n.Next("hall-S", 1); got != "hall-S4" {
		t.Fatal(got)
	}
	if got := n.Next("W-hall-", 3); got != "W-hall-001" {
		t.Fatal(got)
	}
	n.Keep("W-hall-", 9)
	if got := n.Next("W-hall-", 3); got != "W-hall-010" {
		t.Fatal(got)
	}
}
