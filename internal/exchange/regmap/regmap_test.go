package regmap

import (
	"testing"

	"railwright/internal/design"
	"railwright/internal/exchange"
)

func TestFaults(t *testing.T) {
	at := func(id, table string, number, words int) exchange.Point {
		return exchange.Point{ID: id, Tag: id, Station: "S1", Register: &design.Register{Table: table, Number: number, Words: words}}
	}
	_, found := Build([]exchange.Point{at("a", "input register", 0, 2), at("b", "input register", 1, 1), at("c", "coil", 1, 0), at("d", "holding register", 65535, 2), at("e", "table", 0, 1)}, "", "", 0, false)
	if len(found) != 3 {
		t.Fatal(found)
	}
	for i, id := range []string{"e", "b", "d"} {
		if found[i].Subject != "signal:"+id || found[i].Rule != "EXC-008" {
			t.Errorf("%v", found[i])
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"format":"railwright-modbus-map/1","stations":[{"registers":[{"table":"coil"}]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		if m, err := Read(data); err == nil {
			m.CSV()
			m.Markdown()
		}
	})
}
