package caex

import (
	"crypto/sha256"
	"fmt"

	"railwright/internal/exchange/safexml"
)

// Namespace of CAEX 3.0.
const Namespace = "http://www.dke.de/CAEX"

// Paths of the classes that objects refer to.
const (
	roleLib       = "RailwrightRoleClassLib"
	interfaceLib  = "RailwrightInterfaceClassLib"
	connection    = interfaceLib + "/SignalConnection"
	baseRole      = "AutomationMLBaseRoleClassLib/AutomationMLBaseRole"
	baseInterface = "AutomationMLInterfaceClassLib/AutomationMLBaseInterface"
)

// idOf makes a UUID (RFC 9562, version 8: own bits) of a path inside a plant.
func idOf(plant, path string) string {
	h := sha256.Sum256([]byte("railwright caex\x00" + plant + "\x00" + path))
	h[6] = h[6]&0x0f | 0x80
	h[8] = h[8]&0x3f | 0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", h[0:4], h[4:6], h[6:8], h[8:10], h[10:16])
}

// Write prints the plant; file is the file's name, written an XML date and time.
func Write(p *Plant, file, written string) []byte {
	w := &writer{plant: p.Name}
	w.Open("CAEXFile", safexml.A("xmlns", Namespace, "SchemaVersion", "3.0", "FileName", file)...)
	w.Text("SuperiorStandardVersion", "AutomationML 2.10")
	w.Empty("SourceDocumentInformation", safexml.Attr{Name: "OriginName", Value: "railwright"}, safexml.Attr{Name: "OriginID", Value: "railwright"},
		safexml.Attr{Name: "OriginVersion", Value: p.Tool}, safexml.Attr{Name: "LastWritingDateTime", Value: written}, safexml.Attr{Name: "OriginProjectTitle", Value: p.Name})
	w.hierarchy(p)
	w.interfaces()
	w.roles()
	w.Close()
	return w.Bytes()
}

type writer struct {
	safexml.Writer
	plant string
}

// named is the Name of an object, which the schema wants even where it is empty.
func named(name string, more ...string) []safexml.Attr {
	return append([]safexml.Attr{{Name: "Name", Value: name}}, safexml.A(more...)...)
}

func (w *writer) hierarchy(p *Plant) {
	w.Open("InstanceHierarchy", named(p.Name)...)
	if p.Revision != "" {
		w.Text("Version", p.Revision)
	}
	w.Open("InternalElement", named("Plant", "ID", idOf(p.Name, "plant"))...)
	if p.Controller != "" {
		w.attribute(Attribute{"controller", "xs:string", "", p.Controller})
	}
	for _, part := range []struct {
		name, path string
		inside     []Object
	}{{"Stations", "stations", p.Stations}, {"Signals", "signals", p.Signals}} {
		w.Open("InternalElement", named(part.name, "ID", idOf(p.Name, part.path))...)
		for _, o := range part.inside {
			w.object(o)
		}
		w.Empty("RoleRequirements", safexml.A("RefBaseRoleClassPath", baseRole+"/Structure")...)
		w.Close()
	}
	for i, l := range p.Links {
		w.Empty("InternalLink", named(fmt.Sprintf("link %d", i+1), "RefPartnerSideA", idOf(p.Name, l.Signal+"#"), "RefPartnerSideB", idOf(p.Name, l.Channel+"#"))...)
	}
	w.Empty("RoleRequirements", safexml.A("RefBaseRoleClassPath", baseRole+"/Structure")...)
	w.Close()
	w.Close()
}

func (w *writer) object(o Object) {
	w.Open("InternalElement", named(o.Name, "ID", idOf(w.plant, o.Path))...)
	if o.Text != "" {
		w.Text("Description", o.Text)
	}
	w.Text("SourceObjectInformation", "", safexml.A("OriginID", "railwright", "SourceObjID", o.Path)...)
	for _, a := range o.Attributes {
		w.attribute(a)
	}
	if o.Interface != "" {
		w.Empty("ExternalInterface", named(o.Interface, "ID", idOf(w.plant, o.Path+"#"), "RefBaseClassPath", connection)...)
	}
	for _, inside := range o.Inside {
		w.object(inside)
	}
	w.Empty("RoleRequirements", safexml.A("RefBaseRoleClassPath", roleLib+"/"+o.Role)...)
	w.Close()
}

func (w *writer) attribute(a Attribute) {
	w.Open("Attribute", named(a.Name, "AttributeDataType", a.Type, "Unit", a.Unit)...)
	w.Text("Value", a.Value)
	w.Close()
}

// interfaces are the standard classes up to the one that ours is made from (IEC 62714-1), and ours.
func (w *writer) interfaces() {
	w.Open("InterfaceClassLib", named("AutomationMLInterfaceClassLib")...)
	w.Open("InterfaceClass", named("AutomationMLBaseInterface")...)
	w.Open("InterfaceClass", named("Communication", "RefBaseClassPath", baseInterface)...)
	w.Empty("InterfaceClass", named("SignalInterface", "RefBaseClassPath", baseInterface+"/Communication")...)
	w.Close()
	w.Close()
	w.Close()
	w.Open("InterfaceClassLib", named(interfaceLib)...)
	w.Open("InterfaceClass", named("SignalConnection", "RefBaseClassPath", baseInterface+"/Communication/SignalInterface")...)
	w.Text("Description", "joins a signal and the channel that serves it")
	w.Close()
	w.Close()
}

// roles are the standard classes that ours are made from, and ours.
func (w *writer) roles() {
	w.Open("RoleClassLib", named("AutomationMLBaseRoleClassLib")...)
	w.Open("RoleClass", named("AutomationMLBaseRole")...)
	w.Empty("RoleClass", named("Resource", "RefBaseClassPath", baseRole)...)
	w.Empty("RoleClass", named("Structure", "RefBaseClassPath", baseRole)...)
	w.Close()
	w.Close()
	w.Open("RoleClassLib", named(roleLib)...)
	for _, r := range [][2]string{
		{"Station", "remote I/O station on one rail"},
		{"Module", "module in a slot of a station"},
		{"Channel", "place of one signal on a module"},
		{"Signal", "one row of the signal list"},
	} {
		w.Open("RoleClass", named(r[0], "RefBaseClassPath", baseRole+"/Resource")...)
		w.Text("Description", r[1])
		w.Close()
	}
	w.Close()
}
