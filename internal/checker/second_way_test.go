package checker

import (
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// The least line, ring and tree against every order and every choice of parents.
func TestLeastNetworkAgainstExhaustiveSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "stations")
		d := make([][]int64, n+1)
		for i := range d {
			d[i] = make([]int64, n+1)
			for j := range i {
				d[i][j] = rapid.Int64Range(1, 50).Draw(t, "length")
				d[j][i] = d[i][j]
			}
		}
		line, ring := int64(never), int64(never)
		var walk func(at int, left map[int]bool, length int64)
		walk = func(at int, left map[int]bool, length int64) {
			if len(left) == 0 {
				line, ring = min(line, length), min(ring, length+d[at][0])
			}
			for k := 1; k <= n; k++ {
				if left[k] {
					delete(left, k)
					walk(k, left, length+d[at][k])
					left[k] = true
				}
			}
		}
		left := map[int]bool{}
		for k := 1; k <= n; k++ {
			left[k] = true
		}
		walk(0, left, 0)
		if got := path(d, false); got != line {
			t.Fatalf("line %d, want %d", got, line)
		}
		if got := path(d, true); got != ring {
			t.Fatalf("ring %d, want %d", got, ring)
		}
		if got, want := tree(d), everyTree(d); got != want {
			t.Fatalf("tree %d, want %d", got, want)
		}
	})
}

// everyTree gives each node but the first a parent in every possible way and keeps those that hang together.
func everyTree(d [][]int64) int64 {
	n, best := len(d), int64(never)
	parent := make([]int, n)
	var try func(k int, sum int64)
	try = func(k int, sum int64) {
		if k == n {
			for i := range parent {
				for steps := 0; i != 0; steps++ {
					if steps > n {
						return
					}
					i = parent[i]
				}
			}
			best = min(best, sum)
			return
		}
		for p := range n {
			if p != k {
				parent[k] = p
				try(k+1, sum+d[k][p])
			}
		}
	}
	try(1, 0)
	return best
}

func TestSplitAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total := rapid.Int64Range(-1e9, 1e9).Draw(t, "total")
		weights := rapid.SliceOfN(rapid.Int64Range(1, 4e6), 1, 5).Draw(t, "weights")
		sum, all := int64(0), int64(0)
		for _, w := range weights {
			all += w
		}
		for j, s := range split(total, weights) {
			sum += s
			if exact := float64(total) * float64(weights[j]) / float64(all); float64(s) < exact-1 || float64(s) > exact+1 {
				t.Fatalf("share %d of %v", s, exact)
			}
		}
		if sum != total {
			t.Fatalf("shares add up to %d, not %d", sum, total)
		}
	})
}

// Own arithmetic from section 1: 65.00 an hour; 180 s are 3.25; 1 s is 0.01805..., that is 0.018.
func TestLabourPrice(t *testing.T) {
	p := fixtureProject()
	r := &run{p: p}
	if got := r.labour("termination"); got != 32_500 {
		t.Errorf("180 s at 65.00: %d", got)
	}
	p.Basis.Prices.Termination = 1
	if got := r.labour("termination"); got != 180 {
		t.Errorf("1 s at 65.00: %d", got)
	}
	p.Basis.Prices.Rate, p.Basis.Prices.Termination = 36*q.MoneyUnit, 0
	p.Basis.Prices.Rate, p.Basis.Prices.Termination = 18_000, 1 // 1.80 an hour: 0.0005 a second, half up
	if got := r.labour("termination"); got != 10 {
		t.Errorf("half up: %d", got)
	}
}

// Printed labels: own reading of the templates.
func TestLabel(t *testing.T) {
	set := &hardware.ChannelSet{First: 11, Step: 2}
	for text, want := range map[string]string{"{n}": "13", "a{i+1}": "a2", "{2i+1}.{n}": "3.13", "{8-i}": "7", "{12}": "12", "{10-2i}": "8", "{i}": "1", "M": "M", "{?}": "{?}", "{n": "{n"} {
		if got := label(hardware.Terminal{Label: text}, set, 1); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestResolvePaths(t *testing.T) {
	p, hw := fixtureProject(), fixtureHardware()
	for path, want := range map[string]float64{
		"basis.cable.waste": 70, "basis.allow_device_m": 2000, "basis.max_cable.AI": 500_000, "place.P1.local_m": 6000,
		"basis.default_current.DO 24v": 0.25, "power.supply_min_v": 23.5, "basis.prices.labour_per_h": 650_000, "basis.prices.station_h": 28_800,
		"basis.spare_percent.DI": 100, "basis.current_ma.DO 24v": 0.25, "basis.supply.infeed_length_m": 2000, "basis.reserve_percent.enclosure": 200, "route.R2.length_m": 30_050,
	} {
		leaves := resolve(reflect.ValueOf(*p), strings.Split(path, "."))
		if len(leaves) == 0 {
			t.Errorf("%s leads nowhere", path)
			continue
		}
		if x, _, _ := leafNumber(leaves[0]); x != want {
			t.Errorf("%s = %v, want %v", path, x, want)
		}
	}
	for _, path := range []string{"basis.nothing", "place.P9.local_m", "", "basis.cable.waste.more"} {
		for _, leaf := range resolve(reflect.ValueOf(*p), strings.Split(path, ".")) {
			if _, known, _ := leafNumber(leaf); known {
				t.Errorf("%q leads to %v", path, leaf)
			}
		}
	}
	if got := resolve(reflect.ValueOf(hw.Modules[1]), []string{"DI", "input_ma"}); len(got) != 1 || got[0].Int() != 3000 {
		t.Errorf("di4 DI input: %v", got)
	}
}

// FuzzCheck: whatever the text, Check reports and does not panic.
func FuzzCheck(f *testing.F) {
	f.Add(valid(f, "two-stations-byte.json"))
	f.Add([]byte(`{"format":"railwright-design/1","stations":[{"id":"a","slots":[{}],"supply_groups":[{}]}],"wires":[{"id":"w","from":"station:a/1/x"}]}`))
	f.Add([]byte(`{"stations":[{"construction":"rail-a","coupler":"cpl-a","slots":[{"module":"di4","channels":[{"signal_id":"S01"}]}]}]}`))
	f.Add([]byte(`null`))
	p, hw := fixtureProject(), fixtureHardware()
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 1<<20 {
			return
		}
		Check(p, hw, text, Options{})
	})
}
