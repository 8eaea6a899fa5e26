package packing_test

import (
	"testing"

	"railwright/internal/hardware"
	"railwright/internal/packing"
)

func TestBuiltinStationsArePacked(t *testing.T) {
	for _, c := range hardware.Builtin().Constructions {
		for seed := range uint64(3) {
			signals := mixed(seed, 50)
			place := builtinPlace(t, c.Code, signals, nil)
			for i := range signals {
				if why := place.Env.Why(i); why != "" {
					t.Errorf("%s: %s", c.Code, why)
				}
			}
			st, refusal := packing.Complete(packing.Order{Place: place, Signals: all(50)})
			if refusal != nil {
				t.Errorf("%s %d: %+v", c.Code, seed, refusal)
				continue
			}
			t.Logf("%s %d: %s bound %s proven %v steps %d slots %d groups %d", c.Code, seed, st.Cost.Total, st.Bound, st.Proven, st.Steps, len(st.Slots), len(st.Groups))
			if seed == 0 {
				for i, s := range st.Slots {
					t.Log(i+1, s.Module.Code, s.Infeed, s.Group, len(s.Used))
				}
				for _, g := range st.Groups {
					t.Log(g.Key, g.InfeedSlot, g.First, g.Last, g.Load, g.Limit, g.Protection.Code, g.Reason)
				}
			}
		}
	}
}
