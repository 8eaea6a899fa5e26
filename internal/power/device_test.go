package power

import (
	"math"
	"testing"

	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// Source of the edges: IEC 60898-2 (DC: B 7, C 15 times the rating), IEC 60898-1 (AC: B 5), electronic 1.5
// (common practice). Supplies that limit their current: own arithmetic.
func TestDevice(t *testing.T) {
	l := &hardware.List{Protections: []hardware.Protection{
		{Code: "b2", Type: "B", DC: true, AC: true, Rating: 2_000_000, Breaking: 6000, Price: 10},
		{Code: "c6", Type: "C", DC: true, AC: true, Rating: 6_000_000, Breaking: 6000, Price: 10},
		{Code: "e6", Type: "electronic", DC: true, Rating: 6_000_000, Breaking: 20, Price: 40},
		{Code: "b6-10k", Type: "B", AC: true, Rating: 6_000_000, Breaking: 10_000, Price: 50},
	}}
	l.Sort()
	amp := func(v float64) q.Microamps { return q.ToMicroamps(q.Current(v)) }
	b16 := &hardware.Protection{Code: "b16", Type: "B", AC: true, Rating: 16_000_000}
	for _, c := range []struct {
		name string
		b    Behind
		want string
	}{
		{"1 A: b2 trips from 14 A on", Behind{DC: true, Load: amp(1), Least: amp(15)}, "b2"},
		{"1 A behind 13 A: b2 does not, e6 from 9 A on", Behind{DC: true, Load: amp(1), Least: amp(13)}, "e6"},
		{"5 A behind 90 A: c6 trips", Behind{DC: true, Load: amp(5), Least: amp(90)}, "c6"},
		{"5 A behind 89 A", Behind{DC: true, Load: amp(5), Least: amp(89)}, "e6"},
		{"nothing trips: the cheapest rated", Behind{DC: true, Load: amp(5), Least: amp(8)}, "c6"},
		{"e6 breaks 20 A only: the breaking capacity is left out before the tripping", Behind{DC: true, Load: amp(5), Least: amp(30), Most: amp(30)}, "e6"},
		{"a bus of 4 A", Behind{DC: true, Load: amp(1), Bus: amp(4), Least: amp(13)}, "b2"},
		{"mains, 8 kA: only one breaks it", Behind{Load: amp(1), Least: amp(1000), Most: amp(8000)}, "b6-10k"},
		{"mains behind B16 (holds 48 A): b2 trips from 10 A on, 40 A at most", Behind{Load: amp(1), Least: amp(30), Most: amp(40), Feeder: b16}, "b2"},
		{"the same at 60 A: nothing is selective", Behind{Load: amp(1), Least: amp(30), Most: amp(60), Feeder: b16}, "b2"},
	} {
		d, ok := Device(l, c.b, anything)
		if !ok || d.Code != c.want {
			t.Errorf("%s: %v, want %s", c.name, d, c.want)
		}
	}
	if _, ok := Device(l, Behind{DC: true, Load: amp(7)}, anything); ok {
		t.Error("a device beyond the list")
	}
}

// Own arithmetic: 20.4 V / 0.3 ohm = 68 A.
func TestShort(t *testing.T) {
	for _, c := range []struct {
		u     q.Voltage
		loop  float64
		limit q.Microamps
		want  q.Microamps
	}{
		{20.4, 0.3, 0, 68_000_000}, {20.4, 0.3, 15_000_000, 15_000_000}, {20.4, 0, 15_000_000, 15_000_000}, {20.4, 0, 0, math.MaxInt64},
	} {
		if got := Short(c.u, c.loop, c.limit); got != c.want {
			t.Errorf("%v V behind %v ohm, limit %v: %v, want %v", c.u, c.loop, c.limit, got, c.want)
		}
	}
}

// IEC 60204-1 table 6, B1: 1.5 mm2 13.5 A, 2.5 mm2 18.3 A; table D.1: 0.91 at 45 degC; 0.6 for five circuits
// (IEC 60364-5-52): 7.37 A and 9.99 A. An electronic device of 8 A surely trips at 12 A: 1.45 x 7.37 = 10.7 A,
// 1.45 x 9.99 = 14.5 A.
func TestInfeed(t *testing.T) {
	d := &hardware.Protection{Type: "electronic", DC: true, Rating: 8_000_000}
	if got := Infeed(d, true, 1.5, 45, 5); got != 2.5 {
		t.Errorf("%v mm2", got)
	}
	if got := Infeed(d, true, 4, 45, 5); got != 4 {
		t.Errorf("%v mm2, the basis says 4", got)
	}
	if got := Infeed(d, true, 1.5, 65, 5); got != 1.5 {
		t.Errorf("%v mm2 where the table ends", got)
	}
	small := &hardware.Protection{Type: "electronic", DC: true, Rating: 2_000_000}
	if got := Infeed(small, true, 1.5, 45, 5); got != 1.5 {
		t.Errorf("%v mm2 behind 2 A", got)
	}
}
