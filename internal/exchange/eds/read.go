package eds

import (
	"fmt"
	"strings"

	"railwright/internal/exchange/device"
	"railwright/internal/finding"
)

// MaxModules bounds the module types of a modular device (CiA 306: an UNSIGNED16).
const MaxModules = 65535

// view is one object of CiA 401 that carries channels, in the order in which its bytes stand in the process image here.
// Objects of one group show the same channels in other sizes: the first that a device has counts.
type view struct {
	index string // hexadecimal
	kind  string
	image string
	bits  int // of one channel
	each  int // channels in one sub-object
}

// groups are the views by group (CiA 401, object dictionary: digital inputs 6000h to 6120h, outputs 6200h to
// 6320h, analogue inputs 6400h to 6402h, outputs 6410h to 6412h).
var groups = [][]view{
	{{"6000", "DI", "in", 1, 8}, {"6100", "DI", "in", 1, 16}, {"6120", "DI", "in", 1, 32}, {"6020", "DI", "in", 1, 1}},
	{{"6401", "AI", "in", 16, 1}, {"6400", "AI", "in", 8, 1}, {"6402", "AI", "in", 32, 1}},
	{{"6200", "DO", "out", 1, 8}, {"6300", "DO", "out", 1, 16}, {"6320", "DO", "out", 1, 32}, {"6220", "DO", "out", 1, 1}},
	{{"6411", "AO", "out", 16, 1}, {"6410", "AO", "out", 8, 1}, {"6412", "AO", "out", 32, 1}},
}

// Read reads a file; name is printed as the entries' source. The error is about a file that is no EDS.
func Read(name string, data []byte) (*device.Draft, error) {
	s, err := ParseSheet(data)
	if err != nil {
		return nil, fmt.Errorf("read EDS: %w", err)
	}
	if !s.Has("DeviceInfo") || !s.Has("FileInfo") {
		return nil, fmt.Errorf("read EDS: no section FileInfo or no DeviceInfo")
	}
	r := &reader{s: s, d: &device.Draft{Source: name + ", EDS"}}
	r.listed()
	product := first(s.Get("DeviceInfo", "OrderCode"), s.Get("DeviceInfo", "ProductName"), "device")
	c := r.d.Add("coupler", product)
	st := r.d.Add("construction", c.Code+"-station")
	c.Text("title", s.Get("DeviceInfo", "ProductName"))
	c.Text("construction", st.Code)
	c.Text("network", "can-bus")
	st.Text("title", "stations of "+first(s.Get("DeviceInfo", "ProductName"), product))
	r.limits(c)
	if n, ok := s.Number("SupportedModules", "NrOfEntries"); ok && n > 0 {
		return r.d, r.modular(c, st, n)
	}
	r.single(c, st)
	return r.d, nil
}

func first(all ...string) string {
	for _, v := range all {
		if v != "" {
			return v
		}
	}
	return ""
}

type reader struct {
	s *Sheet
	d *device.Draft
}

// listed reports objects that a list names but that the file does not describe.
func (r *reader) listed() {
	for _, list := range []string{"MandatoryObjects", "OptionalObjects", "ManufacturerObjects"} {
		n, _ := r.s.Number(list, "SupportedObjects")
		for i := range min(n, 65536) {
			v, ok := r.s.Number(list, fmt.Sprint(i+1))
			if ok && !r.s.Has(fmt.Sprintf("%04X", v)) {
				r.d.Report("DEV-004", finding.Warning, "", r.s.Line(list), "Ask the device's maker for a whole file.", "%s lists object %04Xh, but the file does not describe it", list, v)
			}
		}
	}
}

// limits are the bytes that the process data objects carry: 8 each (CiA 301).
func (r *reader) limits(c *device.Entry) {
	for _, side := range []struct{ key, to, objects string }{{"NrOfTXPDO", "max_in_bytes", "transmit"}, {"NrOfRXPDO", "max_out_bytes", "receive"}} {
		n, ok := r.s.Number("DeviceInfo", side.key)
		switch {
		case !ok || n > 512:
			r.d.Report("DEV-004", finding.Warning, c.Code, r.s.Line("DeviceInfo"), "Fill in "+side.to+".", "%s is %q; a device has 0 to 512", side.key, clip(r.s.Get("DeviceInfo", side.key)))
		case n == 0:
			c.Int(side.to, 1)
			r.d.Report("DEV-005", finding.Warning, c.Code, r.s.Line("DeviceInfo"), "", "the device has no %s process data objects; the hardware list needs at least one byte, so 1 is written", side.objects)
		default:
			c.Int(side.to, 8*n)
		}
	}
	var rates []string
	for _, kbit := range []string{"10", "20", "50", "125", "250", "500", "800", "1000"} {
		if v, ok := r.s.Number("DeviceInfo", "BaudRate_"+kbit); ok && v == 1 {
			rates = append(rates, kbit)
		}
	}
	r.d.Report("DEV-003", finding.Info, c.Code, r.s.Line("DeviceInfo"), "Compare with the network profile's bit rate, and name another profile if the site uses one.",
		"network profile can-bus is taken; the device runs at %s kbit/s", first(strings.Join(rates, ", "), "no stated rate of"))
}

// count returns how many sub-objects carry channels: CompactSubObj, the default of sub-index 0, or those described.
func (r *reader) count(index string) int {
	if !r.s.Has(index) {
		return 0
	}
	if n, ok := r.s.Number(index, "CompactSubObj"); ok && n > 0 {
		return min(n, 254)
	}
	if n, ok := r.s.Number(index+"sub0", "DefaultValue"); ok && n > 0 {
		return min(n, 254)
	}
	if t, ok := r.s.Number(index, "ObjectType"); ok && t == 7 { // VAR
		return 1
	}
	n := 0
	for n < 254 && r.s.Has(fmt.Sprintf("%ssub%X", index, n+1)) {
		n++
	}
	return n
}

// single makes the one module of a device that is all there is: a block with fixed channels.
func (r *reader) single(c, st *device.Entry) {
	st.Text("opening", "each")
	st.Int("max_slots", 1)
	st.Int("max_groups", 1)
	c.Int("max_slots", 1)
	m := r.d.Add("module", c.Code+"-io")
	m.Text("title", r.s.Get("DeviceInfo", "ProductName"))
	m.List("constructions", []string{st.Code})
	m.Values["own_infeed"] = "true"
	bytes := map[string]int{}
	for _, g := range groups {
		for _, v := range g {
			if n := r.count(v.index); n > 0 {
				r.channels(m, v, n*v.each, bytes, r.s.Line(v.index))
				break
			}
		}
	}
	r.sizes(m, bytes)
	if len(m.Channels) == 0 {
		r.d.Report("DEV-006", finding.Warning, m.Code, 0, "Enter its channels by hand.", "the device has no object of the generic I/O profile (CiA 401) with channels")
	}
	r.d.Report("DEV-003", finding.Info, m.Code, 0, "Correct offset_byte if the device's process data objects are mapped in another order.",
		"bytes are laid out as the profile maps them by default: digital first, then analogue")
}

// channels adds one channel set behind the bytes so far.
func (r *reader) channels(m *device.Entry, v view, channels int, bytes map[string]int, line int) {
	size := (channels*v.bits + 7) / 8
	if channels > 256 {
		r.d.Report("DEV-006", finding.Warning, m.Code, line, "Split it by hand.", "object %sh has %d channels; a channel set has at most 256", v.index, channels)
		channels = 256
	}
	c := m.Channel(channels)
	c.Text("kind", v.kind)
	c.Int("bits", v.bits)
	c.Text("image", v.image)
	if bytes[v.image] > 0 {
		c.Int("offset_byte", bytes[v.image])
	}
	bytes[v.image] += size
	if v.bits > 1 {
		r.d.Report("DEV-003", finding.Info, m.Code, line, "Correct kind where the module is for thermometers or pulses.", "channels of object %sh are taken for %s", v.index, v.kind)
	}
}

func (r *reader) sizes(m *device.Entry, bytes map[string]int) {
	for _, image := range []string{"in", "out"} {
		if bytes[image] > 0 {
			m.Int(image+"_bytes", bytes[image])
		}
	}
}

// modular makes a module of each module type that the file lists (CiA 306, modular devices).
func (r *reader) modular(c, st *device.Entry, n int) error {
	if n > MaxModules {
		return fmt.Errorf("read EDS: %w: %d module types", ErrRefused, n)
	}
	for i := 1; i <= n; i++ {
		info := fmt.Sprintf("M%dModuleInfo", i)
		if !r.s.Has(info) {
			r.d.Report("DEV-004", finding.Warning, "", r.s.Line("SupportedModules"), "Ask the device's maker for a whole file.", "module %d of %d is listed but not described", i, n)
			if i > len(r.s.Sections) {
				return nil // a count out of the air: once is enough
			}
			continue
		}
		r.moduleType(i, info, st)
	}
	r.d.Report("DEV-008", finding.Info, st.Code, 0, "Fill in max_slots of coupler and construction.", "such files state no slots: how many modules a station takes is in the manual")
	return nil
}

func (r *reader) moduleType(i int, info string, st *device.Entry) {
	name := first(r.s.Get(info, "OrderCode"), r.s.Get(info, "ProductName"), fmt.Sprintf("module-%d", i))
	bytes := map[string]int{}
	m := r.d.Add("module", name)
	m.Text("title", r.s.Get(info, "ProductName"))
	m.List("constructions", []string{st.Code})
	for _, g := range groups {
		for _, v := range g {
			ext := fmt.Sprintf("M%dSubExt%s", i, v.index)
			subs, bits, ok := extension(r.s.Get(ext, "Count"))
			if !ok {
				if r.s.Has(ext) {
					r.d.Report("DEV-004", finding.Warning, m.Code, r.s.Line(ext), "Enter the channels by hand.", "Count of %s is %q, which is no number", ext, clip(r.s.Get(ext, "Count")))
				}
				continue
			}
			if n := subs*v.each + bits; n > 0 {
				r.channels(m, v, n, bytes, r.s.Line(ext))
				break
			}
		}
	}
	r.sizes(m, bytes)
	if len(m.Channels) == 0 {
		r.d.Entries = r.d.Entries[:len(r.d.Entries)-1]
		r.d.Report("DEV-007", finding.Info, "", r.s.Line(info), "If it is an infeed module, enter it with infeed = true.", "module %s extends no channel object of CiA 401; it is left out", clip(name))
	}
}

// extension reads Count: sub-objects that the module adds, and after a semicolon the bits of one that several modules share.
func extension(v string) (subs, bits int, ok bool) {
	a, b, both := strings.Cut(v, ";")
	subs, ok = number(strings.TrimSpace(a))
	if ok && both {
		bits, ok = number(strings.TrimSpace(b))
	}
	return subs, bits, ok && subs <= 254 && bits <= 64
}
