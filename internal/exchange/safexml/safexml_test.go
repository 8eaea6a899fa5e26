package safexml

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Files that are attacks and not data are refused before they cost anything. Source: the XML attacks that
// OWASP lists (external entity, entity expansion, oversized and deeply nested documents).
func TestAttacksAreRefused(t *testing.T) {
	laughs := `<!DOCTYPE l [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">]><l>&c;</l>`
	var wide strings.Builder
	wide.WriteString("<a")
	for i := range MaxAttributes + 1 {
		fmt.Fprintf(&wide, ` a%d=""`, i)
	}
	wide.WriteString("/>")
	for name, doc := range map[string]string{
		"external entity": `<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/passwd">]><a>&x;</a>`,
		"external dtd":    `<!DOCTYPE a SYSTEM "http://127.0.0.1/a.dtd"><a/>`,
		"billion laughs":  laughs,
		"deep":            strings.Repeat("<a>", MaxDepth+1) + strings.Repeat("</a>", MaxDepth+1),
		"wide":            wide.String(),
		"many":            "<a>" + strings.Repeat("<b/>", MaxElements) + "</a>",
		"huge":            "<a>" + strings.Repeat(" ", MaxBytes) + "</a>",
		"charset":         `<?xml version="1.0" encoding="utf-7"?><a/>`,
	} {
		if _, err := Parse([]byte(doc)); !errors.Is(err, ErrRefused) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, doc := range map[string]string{"empty": "", "two roots": "<a/><b/>", "open": "<a>", "entity": "<a>&x;</a>"} {
		if _, err := Parse([]byte(doc)); err == nil {
			t.Errorf("%s was read", name)
		}
	}
}

func TestCharacterSetsAndLines(t *testing.T) {
	n, err := Parse([]byte("<?xml version=\"1.0\" encoding=\"iso-8859-1\"?>\n<a>\n<b v=\"\xfc\">\xe4</b></a>"))
	if err != nil {
		t.Fatal(err)
	}
	if b := n.Child("b"); b.Text != "ä" || b.Attr["v"] != "ü" || b.Line != 3 {
		t.Fatalf("%+v", b)
	}
}

// Law: what Writer writes, Parse reads back.
func TestRoundTrip(t *testing.T) {
	text := rapid.StringOf(rapid.SampledFrom([]rune("a<>&\"'\n\t é漢]]>")))
	rapid.Check(t, func(t *rapid.T) {
		v, c := text.Draw(t, "attribute"), text.Draw(t, "text")
		w := &Writer{}
		w.Open("a", A("v", v)...)
		w.Text("b", c)
		w.Empty("c")
		w.Close()
		n, err := Parse(w.Bytes())
		if err != nil {
			t.Fatalf("%v\n%s", err, w.Bytes())
		}
		if n.Attr["v"] != v || n.Child("b").Text != c || len(n.Children) != 2 {
			t.Fatalf("%q %q: %s", v, c, w.Bytes())
		}
	})
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(`<?xml version="1.0"?><a b="c">d<e/></a>`))
	f.Add([]byte(`<!DOCTYPE a [<!ENTITY x "y">]><a>&x;</a>`))
	f.Fuzz(func(t *testing.T, data []byte) {
		n, err := Parse(data)
		if err == nil && n.Name == "" {
			t.Fatal("a root without name")
		}
	})
}
