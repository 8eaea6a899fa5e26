package modification

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/words"
)

// do adds the acts as steps, joining those that a person does in one go: the cores of one cable at one
// signal, the channels of one module, all addresses of a load, all labels.
func (b *builder) do(unit string, acts []act) {
	for len(acts) > 0 {
		key := b.goesWith(acts[0])
		n := 1
		for n < len(acts) && b.goesWith(acts[n]) == key {
			n++
		}
		b.add(b.step(acts[:n]), unit)
		acts = acts[n:]
	}
}

// goesWith is equal for neighbouring acts that make one step.
func (b *builder) goesWith(a act) string {
	id := idOf(a.change.Key)
	switch a.kind {
	case Unland, Land:
		w := b.wires[id]
		return string(a.kind) + w.Cable + "/" + w.Signal + "/" + head(id)
	case Set:
		return string(a.kind) + id[:strings.LastIndex(id, "/")]
	case Load, Mark:
		return string(a.kind)
	case Install, Remove, Exchange:
		return string(a.kind) + b.stationOfThing(a)
	}
	return string(a.kind) + a.change.Key
}

func head(id string) string { h, _, _ := strings.Cut(id, "/"); return h }

func (b *builder) stationOfThing(a act) string {
	id := idOf(a.change.Key)
	switch kindOf(a.change.Key) {
	case station, enclosure, coupler, endPiece, node:
		return id
	case slot, channel:
		return head(id)
	case box, cable, address, label:
		return ""
	case wire:
		for _, fact := range []string{a.change.After, a.change.Before} {
			if _, to := ends(fact); strings.HasPrefix(to, "station:") {
				return head(idOf(to))
			}
		}
		return ""
	}
	return b.site.stationOf(kindOf(a.change.Key), id)
}

// step makes one step of acts that go together.
func (b *builder) step(acts []act) Step {
	s := Step{Kind: acts[0].kind, Station: b.stationOfThing(acts[0])}
	for _, a := range acts {
		s.Changes = append(s.Changes, a.change)
		s.Signals = append(s.Signals, b.concerns(a)...)
	}
	slices.SortFunc(s.Signals, natural)
	s.Signals = slices.Compact(s.Signals)
	s.Text, s.Back = b.text(acts)
	s.Cautions = cautions(acts)
	return s
}

// concerns returns the signals whose connection an act touches.
func (b *builder) concerns(a act) []string {
	id := idOf(a.change.Key)
	switch kindOf(a.change.Key) {
	case wire:
		if w := b.wires[id].Signal; w != "" {
			return []string{w}
		}
	case address, label:
		return []string{id}
	case channel:
		fact := a.change.After
		if fact == "" {
			fact = a.change.Before
		}
		return []string{signalOf(fact)}
	}
	return nil
}

// text words acts that go together, and their way back.
func (b *builder) text(acts []act) (do, back string) {
	c := acts[0].change
	id := idOf(c.Key)
	switch acts[0].kind {
	case Unland:
		return words.Text("modification.unland", b.cores(acts, before)), words.Text("modification.back_land")
	case Land:
		return words.Text("modification.land", b.cores(acts, after)), words.Text("modification.back_unland")
	case Fit:
		return words.Text("modification.fit", c.After, slotName(id)), words.Text("modification.back_take_out", slotName(id))
	case TakeOut:
		return words.Text("modification.take_out", c.Before, slotName(id)), words.Text("modification.back_fit", c.Before, slotName(id))
	case Pull:
		return words.Text("modification.pull", b.cableText(b.in.New, id)), words.Text("modification.back_pull", id)
	case Withdraw:
		return words.Text("modification.withdraw", b.cableText(b.in.Old, id)), words.Text("modification.back_withdraw", id)
	case Set:
		return words.Text("modification.set", b.settings(acts)), words.Text("modification.back_set")
	case Load:
		return words.Text("modification.load", b.loads(acts)), words.Text("modification.back_load")
	case Mark:
		return words.Text("modification.mark", b.labels(acts)), words.Text("modification.back_mark")
	case Install:
		return words.Text("modification.install", things(acts, after)), words.Text("modification.back_remove")
	case Remove:
		return words.Text("modification.remove", things(acts, before)), words.Text("modification.back_install")
	}
	return words.Text("modification.exchange", changed(acts)), words.Text("modification.back_exchange")
}

func before(c Change) string { return c.Before }
func after(c Change) string  { return c.After }

// cableText words a cable: "W-1 (signal-2x0.75) from device LS-102 to station P1-S1, along A--B".
func (b *builder) cableText(d *design.Design, id string) string {
	i := slices.IndexFunc(d.Cables, func(c design.Cable) bool { return c.ID == id })
	if i < 0 {
		return id
	}
	c := &d.Cables[i]
	text := words.Text("modification.cable", id, c.Type, endName(c.From), endName(c.To))
	if len(c.Route) > 0 {
		text += words.Text("modification.along", strings.Join(c.Route, ", "))
	}
	return text
}

// slotName makes "slot 9 of P1-S1" of "P1-S1/9".
func slotName(id string) string {
	st, n, _ := strings.Cut(id, "/")
	return words.Text("modification.slot_name", n, st)
}

// cores words wires with their ends: "W-1 core 3 (signal+) on P1-S1 slot 9 terminal a4".
func (b *builder) cores(acts []act, side func(Change) string) string {
	var parts []string
	for _, a := range acts {
		id := idOf(a.change.Key)
		w := b.wires[id]
		from, to := ends(side(a.change))
		name := id
		if w.Cable != "" {
			name = words.Text("modification.core", w.Cable, w.Core)
		}
		parts = append(parts, words.Text("modification.between", name, endName(from), endName(to)))
	}
	return strings.Join(parts, "; ")
}

// endName words an end of a wire: "P1-S1 slot 9 terminal a4", "device PT-101 signal+".
func endName(end string) string {
	kind, rest, _ := strings.Cut(end, ":")
	parts := strings.Split(rest, "/")
	switch {
	case kind == "station" && len(parts) == 3:
		return words.Text("modification.terminal", parts[0], parts[1], parts[2])
	case kind == "device" && len(parts) > 1:
		return words.Text("modification.device_end", parts[0], parts[len(parts)-1])
	}
	return strings.ReplaceAll(kind, "_", " ") + " " + strings.Join(parts, " ")
}

func (b *builder) settings(acts []act) string {
	var parts []string
	for _, a := range acts {
		p := strings.Split(idOf(a.change.Key), "/")
		name := words.Text("modification.channel_name", p[0], p[1], p[2])
		if a.change.After == "" {
			parts = append(parts, words.Text("modification.set_free", name))
			continue
		}
		sig, as, _ := strings.Cut(strings.TrimPrefix(a.change.After, "signal:"), " as ")
		parts = append(parts, words.Text("modification.set_to", name, b.tag(sig), as))
	}
	return strings.Join(parts, "; ")
}

func (b *builder) loads(acts []act) string {
	var parts []string
	for _, a := range acts {
		id := idOf(a.change.Key)
		name := b.tag(id)
		if kindOf(a.change.Key) == node {
			name = id
		}
		switch {
		case a.change.After == "":
			parts = append(parts, words.Text("modification.load_gone", name, a.change.Before))
		case a.change.Before == "":
			parts = append(parts, words.Text("modification.load_new", name, a.change.After))
		default:
			parts = append(parts, words.Text("modification.load_changed", name, a.change.Before, a.change.After))
		}
	}
	return strings.Join(parts, "; ")
}

func (b *builder) labels(acts []act) string {
	var parts []string
	for _, a := range acts {
		c := a.change
		switch {
		case c.After == "":
			parts = append(parts, words.Text("modification.label_off", c.Before))
		case c.Before == "":
			parts = append(parts, words.Text("modification.label_new", c.After))
		default:
			parts = append(parts, words.Text("modification.label_changed", c.Before, c.After))
		}
	}
	return strings.Join(parts, "; ")
}

func things(acts []act, side func(Change) string) string {
	var parts []string
	for _, a := range acts {
		parts = append(parts, thingName(a.change.Key)+" ("+side(a.change)+")")
	}
	return strings.Join(parts, "; ")
}

func changed(acts []act) string {
	var parts []string
	for _, a := range acts {
		parts = append(parts, words.Text("modification.instead", thingName(a.change.Key), a.change.Before, a.change.After))
	}
	return strings.Join(parts, "; ")
}

func thingName(key string) string {
	return fmt.Sprintf("%s %s", strings.ReplaceAll(kindOf(key), "_", " "), idOf(key))
}
