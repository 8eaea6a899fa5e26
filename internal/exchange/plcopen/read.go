package plcopen

import (
	"fmt"
	"strings"

	"railwright/internal/exchange/safexml"
)

// Variable is one global variable of a file.
type Variable struct {
	Name, Address, Type, Initial string
	Documentation                string // "" = none
}

// Read returns the global variables of all configurations and resources, in order of the file. It refuses
// what is no PLCopen XML of version 2.01, and everything that safexml refuses.
func Read(data []byte) ([]Variable, error) {
	root, err := safexml.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("read PLCopen XML: %w", err)
	}
	if root.Name != "project" || root.Space != Namespace {
		return nil, fmt.Errorf("read PLCopen XML: root element %q of %q; want project of %s", root.Name, root.Space, Namespace)
	}
	var out []Variable
	for _, c := range root.Path("instances", "configurations").All("configuration") {
		lists := c.All("globalVars")
		for _, r := range c.All("resource") {
			lists = append(lists, r.All("globalVars")...)
		}
		for _, l := range lists {
			for _, n := range l.All("variable") {
				v, err := variable(n)
				if err != nil {
					return nil, err
				}
				out = append(out, v)
			}
		}
	}
	return out, nil
}

func variable(n *safexml.Node) (Variable, error) {
	v := Variable{Name: n.Attr["name"], Address: n.Attr["address"], Initial: n.Path("initialValue", "simpleValue").Attr["value"]}
	kinds := n.Child("type").Children
	if v.Name == "" || len(kinds) != 1 {
		return v, fmt.Errorf("read PLCopen XML: line %d: a variable without name or with no type", n.Line)
	}
	v.Type = kinds[0].Name
	v.Documentation = strings.TrimSpace(n.Child("documentation").Deep())
	return v, nil
}

// Bodies returns the Structured Text of each program organization unit by its name.
func Bodies(data []byte) (map[string]string, error) {
	root, err := safexml.Parse(data)
	if err != nil {
		return nil, err
	}
	out := map[string]string{}
	for _, p := range root.Path("types", "pous").All("pou") {
		out[p.Attr["name"]] = strings.TrimSpace(p.Path("body", "ST").Deep())
	}
	return out, nil
}
