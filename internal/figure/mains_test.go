package figure

import (
	"testing"

	q "railwright/internal/quantity"
)

// IEC 60038: 230 V +-10 % is 207 to 253 V, 120 V is 108 to 132 V.
func TestMains(t *testing.T) {
	for _, c := range []struct {
		kind    string
		feeder  q.Voltage
		nominal q.Voltage
		suits   bool
	}{
		{"230vac", 230, 230, true},
		{"230vac", 220, 220, true},
		{"230vac", 253, 253, true},
		{"230vac", 254, 230, false},
		{"230vac", 120, 230, false},
		{"120vac", 120, 120, true},
		{"120vac", 110, 110, true},
		{"120vac", 230, 120, false},
		{"120vac", 107, 120, false},
	} {
		if u, ok := Mains(c.kind, c.feeder); u != c.nominal || ok != c.suits {
			t.Errorf("%s on %v V: %v, %v; want %v, %v", c.kind, c.feeder, u, ok, c.nominal, c.suits)
		}
	}
}
