package gsdml

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/exchange/device"
	"railwright/internal/exchange/safexml"
	"railwright/internal/finding"
)

const namespace = "http://www.profibus.com/GSDML/"

// MaxEntries bounds modules and access points of a file.
const MaxEntries = 5000

// Read reads a file; name is printed as the entries' source. The error is about a file that is no GSDML.
func Read(name string, data []byte) (*device.Draft, error) {
	root, err := safexml.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("read GSDML: %w", err)
	}
	if root.Name != "ISO15745Profile" || !strings.HasPrefix(root.Space, namespace) {
		return nil, fmt.Errorf("read GSDML: root element %q of %q; want ISO15745Profile of %s…", root.Name, root.Space, namespace)
	}
	body := root.Child("ProfileBody")
	r := &reader{d: &device.Draft{Source: name + ", GSDML"}, texts: map[string]string{}, app: body.Child("ApplicationProcess"), modules: map[string]*module{}}
	for _, t := range r.app.Path("ExternalTextList", "PrimaryLanguage").All("Text") {
		r.texts[t.Attr["TextId"]] = t.Attr["Value"]
	}
	points := r.app.Child("DeviceAccessPointList").All("DeviceAccessPointItem")
	items := r.app.Child("ModuleList").All("ModuleItem")
	if len(points) == 0 {
		return nil, fmt.Errorf("read GSDML: no DeviceAccessPointItem")
	}
	if len(points)+len(items) > MaxEntries {
		return nil, fmt.Errorf("read GSDML: %w: more than %d modules", safexml.ErrRefused, MaxEntries)
	}
	for _, p := range points {
		r.accessPoint(p)
	}
	for _, m := range items {
		r.module(m)
	}
	if len(r.app.Child("SubmoduleList").All("SubmoduleItem")) > 0 {
		r.d.Report("DEV-009", finding.Warning, "", r.app.Child("SubmoduleList").Line, "Enter them as modules by hand where they are used.", "submodules that plug into modules are not taken over")
	}
	return r.d, nil
}

type reader struct {
	d       *device.Draft
	texts   map[string]string
	app     *safexml.Node
	modules map[string]*module // by ID: where it may stand
}

// module is what access points say of one module.
type module struct {
	constructions []string
	rank          string
}

func (r *reader) text(n *safexml.Node, names ...string) string {
	n = n.Path(names...)
	if v := n.Attr["Value"]; v != "" {
		return v
	}
	return r.texts[n.Attr["TextId"]]
}

// nameOf is the order number where there is one, else the name, else the ID.
func (r *reader) nameOf(n *safexml.Node) string {
	for _, v := range []string{r.text(n, "ModuleInfo", "OrderNumber"), r.text(n, "ModuleInfo", "Name"), n.Attr["ID"]} {
		if strings.TrimSpace(v) != "" {
			return v
		}
	}
	return "module"
}

// accessPoint makes a coupler and its construction.
func (r *reader) accessPoint(p *safexml.Node) {
	title := r.text(p, "ModuleInfo", "Name")
	c := r.d.Add("coupler", r.nameOf(p))
	s := r.d.Add("construction", c.Code+"-station")
	c.Text("title", title)
	c.Text("construction", s.Code)
	s.Text("title", "stations of "+title)

	slots, ok := slotList(p.Attr["PhysicalSlots"])
	own, _ := slotList(p.Attr["FixedInSlots"])
	if len(own) == 0 {
		own = []int{0}
	}
	if !ok {
		r.d.Report("DEV-004", finding.Warning, c.Code, p.Line, "Fill in max_slots.", "PhysicalSlots is %q, which is no list of slots", p.Attr["PhysicalSlots"])
	}
	free := slices.DeleteFunc(slices.Clone(slots), func(n int) bool { return slices.Contains(own, n) })
	if len(free) > 0 {
		c.Int("max_slots", len(free))
		s.Int("max_slots", len(free))
	}
	r.limits(p, c, len(free))
	r.medium(p, c)
	r.d.Report("DEV-003", finding.Info, c.Code, p.Line, "", "one cycle of the controller takes %s ms or more (MinDeviceInterval); set the network's update time accordingly", interval(p.Attr["MinDeviceInterval"]))
	r.useable(p, c, s, free)
}

// limits are the lengths of the process image. The file counts the status bytes of every submodule in
// (one each way), so as many as there are slots are taken off: the list then promises no more than there is.
func (r *reader) limits(p *safexml.Node, c *device.Entry, slots int) {
	io := p.Child("IOConfigData")
	for _, side := range []struct{ attr, key string }{{"MaxInputLength", "max_in_bytes"}, {"MaxOutputLength", "max_out_bytes"}} {
		most, ok := whole(io.Attr[side.attr])
		if !ok {
			r.d.Report("DEV-004", finding.Warning, c.Code, io.Line, "Fill in "+side.key+".", "%s is %q, which is no length", side.attr, io.Attr[side.attr])
			continue
		}
		c.Int(side.key, max(most-slots-1, 1))
	}
	r.d.Report("DEV-005", finding.Info, c.Code, io.Line, "Raise max_in_bytes and max_out_bytes if fewer slots are used.",
		"limits of the process image are %s in and %s out with status bytes; one byte a slot is taken off", io.Attr["MaxInputLength"], io.Attr["MaxOutputLength"])
}

// medium names the built-in network profile by the ports' media (IEEE 802.3 MAU types: 16 is 100BASE-TX, 18 is 100BASE-FX, both full duplex).
func (r *reader) medium(p *safexml.Node, c *device.Entry) {
	profile := ""
	for _, port := range p.Child("SystemDefinedSubmoduleList").All("PortSubmoduleItem") {
		types := port.Attr["MAUTypes"] + " " + port.Attr["MAUType"]
		for _, item := range port.Path("MAUTypeList").All("MAUTypeItem") {
			types += " " + item.Attr["Value"]
		}
		for _, t := range strings.FieldsFunc(types, func(r rune) bool { return r == ' ' || r == ';' || r == ',' }) {
			switch t {
			case "16", "30", "100BASETXFD":
				profile = "ethernet-copper"
			case "18", "100BASEFXFD":
				if profile == "" {
					profile = "ethernet-fibre"
				}
			}
		}
	}
	if profile != "" {
		c.Text("network", profile)
		r.d.Report("DEV-003", finding.Info, c.Code, p.Line, "Name another profile if the site uses one.", "network profile %s is taken from the ports' media", profile)
	}
}

// useable notes where each module may stand, and gives ranks where slots are not free to all.
func (r *reader) useable(p *safexml.Node, c, s *device.Entry, free []int) {
	type ref struct {
		id      string
		allowed []int
		line    int
	}
	var refs []ref
	for _, m := range p.Child("UseableModules").All("ModuleItemRef") {
		id := m.Attr["ModuleItemTarget"]
		fixed, _ := slotList(m.Attr["FixedInSlots"])
		allowed, ok := slotList(m.Attr["AllowedInSlots"])
		if !ok && m.Attr["AllowedInSlots"] == "" {
			allowed = free
		}
		if len(fixed) > 0 {
			allowed = fixed
			r.d.Report("DEV-008", finding.Warning, c.Code, m.Line, "Fix it there by a choice in the project.", "module %s is built into slots %s", id, spell(fixed))
		}
		refs = append(refs, ref{id, allowed, m.Line})
		if r.modules[id] == nil {
			r.modules[id] = &module{}
		}
		r.modules[id].constructions = append(r.modules[id].constructions, s.Code)
	}
	limited := func(x ref) bool { return len(x.allowed) > 0 && len(x.allowed) < len(free) }
	if !slices.ContainsFunc(refs, limited) {
		return
	}
	// Ranks run from left to right by the first slot that is allowed, then by the last.
	slices.SortStableFunc(refs, func(a, b ref) int { return slices.Compare(ends(a.allowed), ends(b.allowed)) })
	var order []string
	for _, x := range refs {
		rank := "slots " + spell(x.allowed)
		if !slices.Contains(order, rank) {
			order = append(order, rank)
		}
		if m := r.modules[x.id]; m.rank == "" {
			m.rank = rank
		} else if m.rank != rank {
			r.d.Report("DEV-008", finding.Warning, s.Code, x.line, "Give the two couplers modules of their own.", "module %s has other slots in %s than elsewhere; its first rule is kept", x.id, s.Code)
		}
		if limited(x) {
			r.d.Report("DEV-008", finding.Warning, s.Code, x.line, "Check the slots of the finished station.",
				"module %s is allowed in slots %s only; the hardware list keeps the order from left to right, not the numbers", x.id, spell(x.allowed))
		}
	}
	s.List("order", order)
}

func ends(slots []int) []int {
	if len(slots) == 0 {
		return nil
	}
	return []int{slots[0], slots[len(slots)-1]}
}
