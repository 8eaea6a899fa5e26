package safexml

import (
	"bytes"
	"encoding/xml"
	"strings"
)

// Writer writes one document with two spaces a level. Its zero value is ready; Bytes ends it.
type Writer struct {
	b    bytes.Buffer
	open []string
}

// Attr is one attribute.
type Attr struct{ Name, Value string }

// A makes attributes of names and values in turn; a pair whose value is "" is left out.
func A(pairs ...string) []Attr {
	var out []Attr
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			out = append(out, Attr{pairs[i], pairs[i+1]})
		}
	}
	return out
}

func (w *Writer) tag(name string, attrs []Attr, end string) {
	if w.b.Len() == 0 {
		w.b.WriteString("<?xml version=\"1.0\" encoding=\"utf-8\"?>\n")
	}
	w.b.WriteString(strings.Repeat("  ", len(w.open)))
	w.b.WriteString("<" + name)
	for _, a := range attrs {
		w.b.WriteString(" " + a.Name + `="` + escape(a.Value) + `"`)
	}
	w.b.WriteString(end)
}

// Open begins an element that holds others.
func (w *Writer) Open(name string, attrs ...Attr) {
	w.tag(name, attrs, ">\n")
	w.open = append(w.open, name)
}

// Close ends the element that was opened last.
func (w *Writer) Close() {
	name := w.open[len(w.open)-1]
	w.open = w.open[:len(w.open)-1]
	w.b.WriteString(strings.Repeat("  ", len(w.open)) + "</" + name + ">\n")
}

// Empty writes an element without content.
func (w *Writer) Empty(name string, attrs ...Attr) { w.tag(name, attrs, "/>\n") }

// Text writes an element that holds text only; line ends stay.
func (w *Writer) Text(name, text string, attrs ...Attr) {
	w.tag(name, attrs, ">")
	w.b.WriteString(strings.ReplaceAll(escape(text), "&#xA;", "\n") + "</" + name + ">\n")
}

// Bytes returns the document. All elements must be closed.
func (w *Writer) Bytes() []byte {
	if len(w.open) > 0 {
		panic("safexml: " + w.open[len(w.open)-1] + " is not closed")
	}
	return w.b.Bytes()
}

// escape writes text for content and attributes; characters that XML 1.0 cannot hold become U+FFFD.
func escape(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a bytes.Buffer never fails
	return b.String()
}
