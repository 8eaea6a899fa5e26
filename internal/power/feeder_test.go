package power

import (
	"testing"

	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

type ways map[string]int64

func (w ways) LengthMM(p string) (int64, bool) { l, ok := w[p]; return l, ok }
func (w ways) Path(p string) ([]string, bool)  { return []string{"r-" + p}, true }

func anything(string) bool { return true }

func TestNearestTakesTheShorterWay(t *testing.T) {
	basis := project.DefaultBasis()
	cable := &hardware.Cable{Code: "p3", Price: 20_000}
	boards := []Board{{"b", ways{"x": 90_000}}, {"a", ways{"x": 120_000}}}
	f, ok := Nearest(boards, "x", 0, cable, basis)
	// own arithmetic: 90 m + 2 x 2 m = 94 m laid, 94 x 1.07 = 100.58 -> 100.6 m ordered
	if !ok || f.From != "b" || f.Laid != 94_000 || f.Ordered != 100_600 {
		t.Fatalf("%+v %v", f, ok)
	}
	// 100.6 m x 2.00 + 94 m x 60 s at 65/h (1.083 a metre) + 2 ends of 16.25 + 6 terminations of 3.25
	want := q.ToMoney(100.6*2 + 94*1.083 + 2*16.25 + 6*3.25)
	if f.Cost != want {
		t.Fatalf("cost %s, want %s", f.Cost, want)
	}
	if _, ok := Nearest(boards, "nowhere", 0, cable, basis); ok {
		t.Fatal("a place without a way was fed")
	}
}

func TestInputCurrent(t *testing.T) {
	// own arithmetic: 10 A x 24 V / (0.9 x 230 V) = 1.159420... A
	u := &hardware.SupplyUnit{Output: 10_000_000, Voltage: 24, Efficiency: 900}
	if got := InputCurrent(u, 230); got != 1_159_421 {
		t.Fatalf("%d uA", got)
	}
}

func TestProtectionIsTheCheapestThatCarriesIt(t *testing.T) {
	l := &hardware.List{Protections: []hardware.Protection{
		{Code: "ac10", AC: true, Rating: 10_000_000, Price: 30},
		{Code: "ac6", AC: true, Rating: 6_000_000, Price: 30},
		{Code: "dc6", DC: true, Rating: 6_000_000, Price: 1},
	}}
	l.Sort()
	for current, want := range map[q.Microamps]string{0: "ac6", 6_000_000: "ac6", 6_000_001: "ac10"} {
		if d, ok := Protection(l, current, anything); !ok || d.Code != want {
			t.Errorf("%s: %v, want %s", current, d, want)
		}
	}
	if _, ok := Protection(l, 11_000_000, anything); ok {
		t.Error("a device beyond the list")
	}
}
