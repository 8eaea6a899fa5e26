package plcopen

import (
	"fmt"
	"strings"

	"railwright/internal/exchange/iec"
	"railwright/internal/exchange/safexml"
)

// Namespace of the format.
const Namespace = "http://www.plcopen.org/xml/tc6_0201"

const xhtml = "http://www.w3.org/1999/xhtml"

// Write prints the unit; created is an XML date and time such as 1970-01-01T00:00:00Z.
func Write(u *iec.Unit, created string) []byte {
	w := &safexml.Writer{}
	w.Open("project", safexml.A("xmlns", Namespace, "xmlns:xhtml", xhtml)...)
	w.Empty("fileHeader", safexml.A("companyName", "railwright", "productName", "railwright", "productVersion", version(u.Head.Tool), "creationDateTime", created,
		"contentDescription", "input "+u.Head.Input)...)
	w.Open("contentHeader", safexml.Attr{Name: "name", Value: name(u.Head)}, safexml.Attr{Name: "version", Value: u.Head.Revision})
	coordinates(w)
	w.Close()
	types(w, u)
	instances(w, u)
	w.Close()
	return w.Bytes()
}

func version(tool string) string {
	if v := strings.TrimPrefix(tool, "railwright "); v != "" {
		return v
	}
	return "dev"
}

func name(h iec.Head) string {
	if h.Controller == "" {
		return h.Project
	}
	return h.Project + ", " + h.Controller
}

// coordinates are needed by the schema though the file draws nothing.
func coordinates(w *safexml.Writer) {
	w.Open("coordinateInfo")
	for _, language := range []string{"fbd", "ld", "sfc"} {
		w.Open(language)
		w.Empty("scaling", safexml.A("x", "1", "y", "1")...)
		w.Close()
	}
	w.Close()
}

func types(w *safexml.Writer, u *iec.Unit) {
	w.Open("types")
	w.Empty("dataTypes")
	w.Open("pous")
	for _, f := range u.Functions {
		w.Open("pou", safexml.A("name", f.Name, "pouType", "function")...)
		w.Open("interface")
		w.Open("returnType")
		w.Empty(f.Result)
		w.Close()
		variables(w, "inputVars", f.Inputs)
		variables(w, "localVars", f.Locals)
		w.Close()
		statements(w, f.Body)
		text(w, "documentation", f.Note)
		w.Close()
	}
	w.Open("pou", safexml.A("name", iec.ProgramName, "pouType", "program")...)
	w.Open("interface")
	variables(w, "externalVars", u.Externals())
	variables(w, "localVars", u.Locals())
	w.Close()
	statements(w, u.Statements())
	w.Close()
	w.Close()
	w.Close()
}

func statements(w *safexml.Writer, lines []string) {
	w.Open("body")
	text(w, "ST", strings.Join(lines, "\n"))
	w.Close()
}

// text writes formatted text: one paragraph.
func text(w *safexml.Writer, element, content string) {
	w.Open(element)
	w.Text("xhtml:p", content)
	w.Close()
}

func variables(w *safexml.Writer, section string, all []iec.Variable) {
	if len(all) == 0 {
		return
	}
	w.Open(section)
	for _, v := range all {
		attrs := safexml.A("name", v.Name)
		global := section == "globalVars"
		if global {
			attrs = safexml.A("name", v.Name, "address", v.Address)
		}
		w.Open("variable", attrs...)
		w.Open("type")
		w.Empty(v.Type)
		w.Close()
		if global && v.Initial != "" {
			w.Open("initialValue")
			w.Empty("simpleValue", safexml.A("value", v.Initial)...)
			w.Close()
		}
		if global {
			text(w, "documentation", iec.Documentation(v))
		}
		w.Close()
	}
	w.Close()
}

func instances(w *safexml.Writer, u *iec.Unit) {
	w.Open("instances")
	w.Open("configurations")
	w.Open("configuration", safexml.A("name", iec.ConfigurationName)...)
	w.Open("resource", safexml.A("name", iec.ResourceName)...)
	w.Open("task", safexml.A("name", iec.TaskName, "interval", fmt.Sprintf("T#%dms", u.Head.IntervalMS), "priority", "1")...)
	w.Empty("pouInstance", safexml.A("name", iec.InstanceName, "typeName", iec.ProgramName)...)
	w.Close()
	w.Close()
	variables(w, "globalVars", u.Located)
	variables(w, "globalVars", u.Values)
	w.Close()
	w.Close()
	w.Close()
}
