package finding

import "testing"

func TestNearest(t *testing.T) {
	words := []string{"contact", "pnp", "npn", "4-20ma", "0-20ma", "length_m", "max_slots"}
	for _, c := range []struct{ word, want string }{
		{"contcat", "contact"},
		{"Contact", "contact"},
		{"4-20 mA", "4-20ma"},
		{"lenght_m", "length_m"},
		{"maxslots", "max_slots"},
		{"PNP", "pnp"},
		{"pnpp", "pnp"},
		{"zebra", ""},
		{"x", ""},
		{"", ""},
	} {
		got, ok := Nearest(c.word, words)
		if got != c.want || ok != (c.want != "") {
			t.Errorf("Nearest(%q) = %q, %v; want %q", c.word, got, ok, c.want)
		}
	}
}
