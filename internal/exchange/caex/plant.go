package caex

import (
	"strconv"

	"railwright/internal/design"
	"railwright/internal/exchange"
)

// Plant is what a file holds.
type Plant struct {
	Name, Revision, Controller, Tool string
	Stations                         []Object // role Station, with modules and channels inside
	Signals                          []Object // role Signal
	Links                            []Link   // by signal
}

// Object is one InternalElement. Path is unique in the plant and gives the ID.
type Object struct {
	Path, Name string
	Role       string // "Station", "Module", "Channel", "Signal"
	Text       string // description
	Attributes []Attribute
	Interface  string // name of its interface; "" = none
	Inside     []Object
}

// Attribute is a named value; Type is an XML Schema type ("xs:string", "xs:double", "xs:integer", "xs:boolean").
type Attribute struct{ Name, Type, Unit, Value string }

// Link joins the interfaces of two objects, given by their paths.
type Link struct{ Signal, Channel string }

// Build makes the plant of a design with the channels of points.
func Build(d *design.Design, points []exchange.Point) *Plant {
	p := &Plant{Name: d.Project.Name, Revision: d.Project.Revision, Controller: d.Project.Controller, Tool: d.Input.Tool}
	channels := map[string][]exchange.Point{}
	for _, c := range points {
		channels[slotPath(c.Station, c.Slot)] = append(channels[slotPath(c.Station, c.Slot)], c)
		if c.Spare || c.Back {
			continue
		}
		s := signal(c)
		p.Signals = append(p.Signals, s)
		p.Links = append(p.Links, Link{Signal: s.Path, Channel: channelPath(c)})
	}
	for _, st := range d.Stations {
		p.Stations = append(p.Stations, station(d, st, channels))
	}
	return p
}

func slotPath(station string, slot int) string {
	return "station/" + station + "/" + strconv.Itoa(slot)
}

func channelPath(c exchange.Point) string {
	return slotPath(c.Station, c.Slot) + "/" + strconv.Itoa(c.Channel)
}

// list collects attributes and leaves empty texts out.
type list []Attribute

func (l *list) text(name, v string) {
	if v != "" {
		*l = append(*l, Attribute{name, "xs:string", "", v})
	}
}

func (l *list) whole(name, unit string, v int) {
	*l = append(*l, Attribute{name, "xs:integer", unit, strconv.Itoa(v)})
}

func (l *list) number(name, unit string, v float64) {
	*l = append(*l, Attribute{name, "xs:double", unit, strconv.FormatFloat(v, 'f', -1, 64)})
}

func station(d *design.Design, st design.Station, channels map[string][]exchange.Point) Object {
	var a list
	a.text("place", st.Place)
	a.text("construction", st.Construction)
	a.text("coupler", st.Coupler)
	a.text("enclosure", st.Enclosure)
	a.whole("rail", "mm", int(st.RailMM))
	a.whole("first_input_byte", "", st.FirstInByte)
	a.whole("input_bytes", "", st.InputBytes)
	a.whole("first_output_byte", "", st.FirstOutByte)
	a.whole("output_bytes", "", st.OutputBytes)
	for _, n := range d.Network.Addresses {
		if n.Station == st.ID {
			a.text("network_name", n.Name)
			a.text("network_address", n.Address)
		}
	}
	o := Object{Path: "station/" + st.ID, Name: st.ID, Role: "Station", Text: st.Name, Attributes: a}
	for _, s := range st.Slots {
		o.Inside = append(o.Inside, module(st.ID, s, channels[slotPath(st.ID, s.Slot)]))
	}
	return o
}

func module(station string, s design.Slot, channels []exchange.Point) Object {
	var a list
	a.whole("slot", "", s.Slot)
	a.text("module", s.Module)
	a.text("base", s.Base)
	a = append(a, Attribute{"infeed", "xs:boolean", "", strconv.FormatBool(s.Infeed)})
	a.text("supply_group", s.SupplyGroup)
	a.whole("input_byte", "", s.InputByte)
	a.whole("input_bytes", "", s.InputBytes)
	a.whole("output_byte", "", s.OutputByte)
	a.whole("output_bytes", "", s.OutputBytes)
	o := Object{Path: slotPath(station, s.Slot), Name: "slot " + strconv.Itoa(s.Slot), Role: "Module", Attributes: a}
	for _, c := range channels {
		if !c.Back {
			o.Inside = append(o.Inside, channel(c))
		}
	}
	return o
}

func channel(c exchange.Point) Object {
	var a list
	a.text("kind", string(c.Kind))
	a.text("address", c.Address)
	a.text("type", c.Type)
	a.text("terminals", c.Terminals)
	return Object{Path: channelPath(c), Name: "channel " + strconv.Itoa(c.Channel), Role: "Channel", Attributes: a, Interface: "signal"}
}

func signal(c exchange.Point) Object {
	var a list
	a.text("id", c.ID)
	a.text("kind", string(c.Kind))
	a.text("form", c.Form)
	a.text("contact", c.Contact)
	a.text("place", c.Place)
	a.text("device", c.Device)
	a.text("equipment", c.Equipment)
	a.text("safe_state", c.SafeState)
	a.text("hold", c.Hold)
	if c.Scale.Known {
		a.number("value_low", c.Unit, c.Scale.Low)
		a.number("value_high", c.Unit, c.Scale.High)
		a.whole("raw_low", "", int(c.Scale.RawLow))
		a.whole("raw_high", "", int(c.Scale.RawHigh))
	}
	return Object{Path: "signal/" + c.ID, Name: c.Tag, Role: "Signal", Text: c.Description, Attributes: a, Interface: "channel"}
}
