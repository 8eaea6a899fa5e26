package checker

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
)

// required holds the keys of the contract by the kind of object that must have them.
var required = map[string]string{
	"":                        "format input stations cables wires junction_boxes supplies feeders protections network unplaced cost parts home_run siting findings formulas calculations",
	"input":                   "sha256 previous_sha256 seed steps hardware_sha256 tool complete",
	"stations":                "id name place construction coupler rail_mm logic_current_ma logic_limit_ma input_bytes output_bytes heat_w end_piece enclosure slots supply_groups",
	"stations.slots":          "slot module base infeed supply_group input_byte input_bytes output_byte output_bytes channels",
	"stations.slots.channels": "channel signal signal_id address terminals",
	"stations.supply_groups":  "id group infeed_at first_slot last_slot load_ma limit_ma class reason protection infeed_mm2 voltage_min_v",
	"cables":                  "id name from to use type cores area_mm2 length_m route signals",
	"wires":                   "id cable core from to area_mm2",
	"junction_boxes":          "id name place terminals",
	"network":                 "segments addresses registers",
	"unplaced":                "signal why proof",
	"cost":                    "total constant installed parts currency",
	"parts":                   "code count spare price for",
	"home_run":                "cable_m terminations cost",
	"siting":                  "objective lower_bound gap certificate curve",
	"findings":                "rule severity subject message figures remedy source calculation",
	"findings.remedy":         "text change",
	"formulas.*":              "text inputs source",
	"calculations.*":          "formula inputs result",
	"calculations.*.inputs.*": "value unit from",
	"calculations.*.result":   "value unit",
	"supplies":                "id station class type load_ma limit_ma",
	"feeders":                 "id from station cable protection",
	"protections":             "id type protects",
	"network.segments":        "cable from to length_m",
	"network.addresses":       "station address",
	"siting.curve":            "stations objective",
}

// byName are the objects whose keys are names, not fields.
var byName = map[string]bool{"formulas": true, "calculations": true, "calculations.*.inputs": true, "siting.certificate": true, "cost.parts": true}

// shape checks keys, order and uniqueness on the text itself.
func (r *run) shape(text []byte) {
	same(r, "FORM", "design", "format", r.d.Format, "railwright-design/1")
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.UseNumber()
	r.walk(dec, "")
	if _, err := dec.Token(); err != io.EOF {
		r.bad("FORM", "design", "nothing behind the closing brace", "more text")
	}
	r.order()
	for _, c := range r.d.Calculations {
		r.finite("calculations", c.Result.Value)
	}
}

func (r *run) walk(dec *json.Decoder, path string) {
	t, err := dec.Token()
	if err != nil {
		return
	}
	switch t {
	case json.Delim('{'):
		r.walkObject(dec, path)
	case json.Delim('['):
		for dec.More() {
			r.walk(dec, path)
		}
		_, _ = dec.Token()
	}
}

func (r *run) walkObject(dec *json.Decoder, path string) {
	var keys []string
	for dec.More() {
		t, err := dec.Token()
		if err != nil {
			return
		}
		key := fmt.Sprint(t)
		keys = append(keys, key)
		next := key
		if byName[path] {
			next = "*"
		}
		r.walk(dec, strings.TrimPrefix(path+"."+next, "."))
	}
	_, _ = dec.Token()
	if byName[path] && !slices.IsSorted(keys) {
		r.bad("FORM", path, "names in order", "names not sorted")
	}
	sorted := slices.Sorted(slices.Values(keys))
	for i := 1; i < len(sorted); i++ {
		if sorted[i] == sorted[i-1] {
			r.bad("FORM", path, "each key once", "key %q twice", sorted[i])
		}
	}
	for _, want := range strings.Fields(required[path]) {
		if _, found := slices.BinarySearch(sorted, want); !found {
			r.bad("FORM", path, "key "+want, "missing")
		}
	}
}

func (r *run) finite(what string, v float64) {
	if v-v != 0 {
		r.bad("FORM", what, "a finite number", "%v", v)
	}
}

// order checks that the lists stand in order of id and that no id comes twice.
func (r *run) order() {
	d := &r.d
	r.ascending("stations", ids(d.Stations, func(s docStation) string { return s.ID }))
	r.ascending("cables", ids(d.Cables, func(c docCable) string { return c.ID }))
	r.ascending("wires", ids(d.Wires, func(w docWire) string { return w.ID }))
	r.ascending("supplies", ids(d.Supplies, func(s docSupply) string { return s.ID }))
	r.ascending("feeders", ids(d.Feeders, func(f docFeeder) string { return f.ID }))
	r.ascending("protections", ids(d.Protections, func(p docProtection) string { return p.ID }))
	groups := map[string]bool{}
	for _, s := range d.Stations {
		for _, g := range s.Groups {
			if groups[g.ID] {
				r.bad("FORM", "group:"+g.ID, "each group id once", "id twice")
			}
			groups[g.ID] = true
		}
	}
}

func ids[T any](list []T, id func(T) string) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = id(x)
	}
	return out
}

func (r *run) ascending(what string, list []string) {
	for i, id := range list {
		if id == "" {
			r.bad("FORM", what, "an id", "entry %d without id", i+1)
		}
	}
	seen := map[string]bool{}
	for _, id := range list {
		if seen[id] {
			r.bad("FORM", what, "each id once", "id %q twice", id)
		}
		seen[id] = true
	}
	if !slices.IsSorted(list) && !slices.IsSortedFunc(list, natural) {
		r.bad("FORM", what, "sorted by id", "not sorted")
	}
}

// natural compares ids with runs of digits as numbers: "x/9" before "x/10".
func natural(a, b string) int {
	for a != "" && b != "" {
		da, db := digits(a), digits(b)
		if da > 0 && db > 0 {
			na, nb := strings.TrimLeft(a[:da], "0"), strings.TrimLeft(b[:db], "0")
			if c := cmp.Or(cmp.Compare(len(na), len(nb)), cmp.Compare(na, nb)); c != 0 {
				return c
			}
			a, b = a[da:], b[db:]
			continue
		}
		if a[0] != b[0] {
			return cmp.Compare(a[0], b[0])
		}
		a, b = a[1:], b[1:]
	}
	return cmp.Compare(len(a), len(b))
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
