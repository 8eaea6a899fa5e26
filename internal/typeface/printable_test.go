package typeface

import (
	"testing"

	"pgregory.net/rapid"
)

// Every style has the printing signs of ASCII, which Has takes for granted.
func TestPlainSigns(t *testing.T) {
	for r := ' '; r <= '~'; r++ {
		for _, s := range Styles {
			if w, ok := metricsOf(s).width(r); !ok || w == 0 {
				t.Errorf("%s lacks %q", s, r)
			}
		}
	}
}

func TestPrintable(t *testing.T) {
	if got := Printable("10 kΩ\t漢\n24 V⎓"); got != "10 kΩ □ 24 V□" {
		t.Errorf("Printable = %q", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		if text := Printable(rapid.String().Draw(t, "text")); len(Missing(text)) > 0 {
			t.Fatalf("%q still lacks signs", text)
		}
	})
}
