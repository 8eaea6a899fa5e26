package caex

import (
	"fmt"
	"strings"

	"railwright/internal/exchange/safexml"
)

// Read returns the plant of a file that Write made (also one that another program has saved since). It
// refuses what is no CAEX 3.0, links whose sides are missing, and everything that safexml refuses.
func Read(data []byte) (*Plant, error) {
	root, err := safexml.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("read CAEX: %w", err)
	}
	if root.Name != "CAEXFile" || root.Space != Namespace || root.Attr["SchemaVersion"] != "3.0" {
		return nil, fmt.Errorf("read CAEX: root element %q of %q, schema version %q; want CAEXFile of %s, 3.0", root.Name, root.Space, root.Attr["SchemaVersion"], Namespace)
	}
	h := root.Child("InstanceHierarchy")
	p := &Plant{Name: h.Attr["Name"], Revision: h.Child("Version").Text, Tool: root.Child("SourceDocumentInformation").Attr["OriginVersion"]}
	r := reader{paths: map[string]string{}}
	plant := h.Child("InternalElement")
	for _, a := range plant.All("Attribute") {
		if a.Attr["Name"] == "controller" {
			p.Controller = a.Child("Value").Text
		}
	}
	for _, part := range plant.All("InternalElement") {
		for _, n := range part.All("InternalElement") {
			o, err := r.object(n)
			switch {
			case err != nil:
				return nil, err
			case o.Role == "Signal":
				p.Signals = append(p.Signals, o)
			case o.Role == "Station":
				p.Stations = append(p.Stations, o)
			}
		}
	}
	for _, l := range plant.All("InternalLink") {
		a, okA := r.paths[l.Attr["RefPartnerSideA"]]
		b, okB := r.paths[l.Attr["RefPartnerSideB"]]
		if !okA || !okB {
			return nil, fmt.Errorf("read CAEX: line %d: link %q has no object at one of its sides", l.Line, l.Attr["Name"])
		}
		p.Links = append(p.Links, Link{Signal: a, Channel: b})
	}
	return p, nil
}

type reader struct{ paths map[string]string } // of interfaces, by ID

func (r *reader) object(n *safexml.Node) (Object, error) {
	o := Object{Path: n.Child("SourceObjectInformation").Attr["SourceObjID"], Name: n.Attr["Name"], Text: n.Child("Description").Text}
	_, o.Role, _ = strings.Cut(n.Child("RoleRequirements").Attr["RefBaseRoleClassPath"], "/")
	if o.Path == "" || n.Attr["ID"] == "" {
		return o, fmt.Errorf("read CAEX: line %d: object %q has no ID or no source id", n.Line, o.Name)
	}
	for _, a := range n.All("Attribute") {
		o.Attributes = append(o.Attributes, Attribute{a.Attr["Name"], a.Attr["AttributeDataType"], a.Attr["Unit"], a.Child("Value").Text})
	}
	if i := n.Child("ExternalInterface"); i.Attr["ID"] != "" {
		o.Interface = i.Attr["Name"]
		if _, twice := r.paths[i.Attr["ID"]]; twice {
			return o, fmt.Errorf("read CAEX: line %d: ID %s is given twice", i.Line, i.Attr["ID"])
		}
		r.paths[i.Attr["ID"]] = o.Path
	}
	for _, c := range n.All("InternalElement") {
		inside, err := r.object(c)
		if err != nil {
			return o, err
		}
		o.Inside = append(o.Inside, inside)
	}
	return o, nil
}
