package addressing

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

func TestLocated(t *testing.T) {
	// Source: IEC 61131-3 located variables (prefix I/Q; X, B, W, D); that the number counts bytes on
	// some controllers and words on others is common practice.
	for _, c := range []struct {
		area          byte
		at, bit, bits int
		byteWant      string
		wordWant      string
	}{
		{'I', 4, 3, 1, "%IX4.3", "%IX2.3"},
		{'Q', 5, 7, 1, "%QX5.7", "%QX2.15"},
		{'I', 4, 0, 16, "%IW4", "%IW2"},
		{'Q', 8, 0, 32, "%QD8", "%QD2"},
		{'I', 6, 0, 8, "%IB6", "%IB6"},
	} {
		if got := Located(c.area, c.at, c.bit, c.bits, "byte"); got != c.byteWant {
			t.Errorf("byte %d bits %d: %s, want %s", c.at, c.bits, got, c.byteWant)
		}
		if got := Located(c.area, c.at, c.bit, c.bits, "word"); got != c.wordWant {
			t.Errorf("word %d bits %d: %s, want %s", c.at, c.bits, got, c.wordWant)
		}
	}
}

func testList() *hardware.List {
	l := &hardware.List{
		Couplers: []hardware.Coupler{{Code: "c", HeaderIn: 1, HeaderOut: 2}},
		Modules: []hardware.Module{
			{Code: "ai4", In: 8, Channels: []hardware.ChannelSet{{Kind: project.AI, Count: 4, Bits: 16, Image: "in"}}},
			{Code: "cnt", In: 8, Out: 2, Channels: []hardware.ChannelSet{{Kind: project.CNT, Count: 2, Bits: 32, Image: "in"}}},
			{Code: "di8", In: 1, Channels: []hardware.ChannelSet{{Kind: project.DI, Count: 8, Bits: 1, Image: "in"}}},
			{Code: "do8", Out: 1, Channels: []hardware.ChannelSet{{Kind: project.DO, Count: 8, Bits: 1, Image: "out"}}},
		},
	}
	l.Sort()
	return l
}

// Law: bytes of stations, slots and channels never overlap; fixed first bytes are kept.
func TestBytesNeverOverlap(t *testing.T) {
	list := testList()
	codes := []string{"ai4", "cnt", "di8", "do8"}
	rapid.Check(t, func(t *rapid.T) {
		basis := project.AddressBasis{
			Convention: rapid.SampledFrom([]string{"byte", "word"}).Draw(t, "convention"),
			FirstIn:    rapid.IntRange(0, 9).Draw(t, "in"), FirstOut: rapid.IntRange(0, 9).Draw(t, "out"),
			Align: rapid.SampledFrom([]int{1, 2, 4, 8}).Draw(t, "align"), Reserve: rapid.Int64Range(0, 500).Draw(t, "reserve"),
		}
		kept := Kept{In: map[string]int{}, Out: map[string]int{}}
		var stations []*design.Station
		for i := range rapid.IntRange(1, 5).Draw(t, "stations") {
			s := &design.Station{ID: fmt.Sprintf("S%d", i), Coupler: "c"}
			for j := range rapid.IntRange(0, 6).Draw(t, "slots") {
				m, _ := list.Module(rapid.SampledFrom(codes).Draw(t, "module"))
				s.Slots = append(s.Slots, design.Slot{Slot: j + 1, Module: m.Code, Channels: make([]design.Channel, m.Channels[0].Count)})
			}
			if i == 1 && rapid.Bool().Draw(t, "fixed") {
				kept.In[s.ID] = rapid.IntRange(0, 40).Draw(t, "at")
			}
			stations = append(stations, s)
		}
		if found := Assign(stations, list, basis, kept); len(found) != 0 {
			t.Fatal(found)
		}
		in, out, address := map[int]string{}, map[int]string{}, map[string]bool{}
		take := func(m map[int]string, from, n int, who string) {
			for b := from; b < from+n; b++ {
				if m[b] != "" {
					t.Fatalf("byte %d belongs to %s and %s", b, m[b], who)
				}
				m[b] = who
			}
		}
		for _, s := range stations {
			if at, ok := kept.In[s.ID]; ok && s.FirstInByte != at {
				t.Fatalf("%s begins at %d, fixed at %d", s.ID, s.FirstInByte, at)
			}
			for _, sl := range s.Slots {
				who := fmt.Sprint(s.ID, "/", sl.Slot)
				take(in, sl.InputByte, sl.InputBytes, who)
				take(out, sl.OutputByte, sl.OutputBytes, who)
				if sl.InputBytes > 0 && (sl.InputByte < s.FirstInByte || sl.InputByte+sl.InputBytes > s.FirstInByte+s.InputBytes) {
					t.Fatalf("%s outside its station", who)
				}
				for _, c := range sl.Channels {
					if address[c.Address] {
						t.Fatalf("address %s twice", c.Address)
					}
					address[c.Address] = true
				}
			}
		}
	})
}

func TestFixedStationsThatOverlapAreFound(t *testing.T) {
	list := testList()
	mk := func(id string) *design.Station {
		return &design.Station{ID: id, Coupler: "c", Slots: []design.Slot{{Slot: 1, Module: "ai4", Channels: make([]design.Channel, 4)}}}
	}
	found := Assign([]*design.Station{mk("A"), mk("B")}, list, project.AddressBasis{Align: 1}, Kept{In: map[string]int{"A": 10, "B": 12}})
	if len(found) != 1 || found[0].Rule != "ADR-001" || found[0].Subject != "station:B" {
		t.Fatalf("%v", found)
	}
}
