package typeface

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestSignsOfTheTrade(t *testing.T) {
	if missing := Missing("Ω°²³µ→←↑↓↔≤≥±×÷·–—…“”„«»€√∞≈≠∑Δ□■●○ÄÖÜäöüßéñçőčžŁ"); len(missing) > 0 {
		t.Errorf("missing: %q", missing)
	}
	if got := string(Missing("⎓a⎓漢")); got != "⎓漢" {
		t.Errorf("Missing = %q", got)
	}
}

// Equal widths and sums: the widths are the font's own.
func TestWidth(t *testing.T) {
	if got := Width(Mono, "iiii", 10); math.Abs(got-Width(Mono, "WWWW", 10)) > 1e-9 {
		t.Errorf("mono widths differ: %v", got)
	}
	if got, want := Width(Regular, "HH", 10), 2*Width(Regular, "H", 10); math.Abs(got-want) > 1e-9 {
		t.Errorf("width of HH %v, want %v", got, want)
	}
}

func TestWrapLosesNothingAndFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[A-Za-z0-9Ω,/ -]{0,60}`).Draw(t, "text")
		width := rapid.Float64Range(3, 60).Draw(t, "width")
		var kept string
		for _, line := range Wrap(Regular, text, 2.5, width) {
			if Width(Regular, line, 2.5) > width {
				t.Fatalf("%q is wider than %v", line, width)
			}
			kept += line
		}
		if strip(kept) != strip(text) {
			t.Fatalf("kept %q of %q", kept, text)
		}
	})
}

func strip(s string) string {
	var out []rune
	for _, r := range s {
		if r != ' ' {
			out = append(out, r)
		}
	}
	return string(out)
}
