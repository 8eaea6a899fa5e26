package dxf

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Bytes returns the sheet as one DXF file.
func Bytes(s *scene.Sheet) []byte {
	w := &writer{height: s.Height}
	w.b.Grow(1 << 15)
	names := layerNames(s)
	w.pair(999, "railwright, millimetres")
	w.head(s)
	w.tables(names)
	w.pair(0, "SECTION").pair(2, "ENTITIES")
	for l := range s.Layers {
		w.layer = names[l]
		for i := range s.Layers[l].Items {
			w.item(&s.Layers[l].Items[i])
		}
	}
	w.pair(0, "ENDSEC").pair(0, "EOF")
	return w.b.Bytes()
}

type writer struct {
	b      bytes.Buffer
	height float64
	layer  string
}

func (w *writer) pair(code int, value string) *writer {
	w.b.WriteString(strconv.Itoa(code))
	w.b.WriteByte('\n')
	w.b.WriteString(value)
	w.b.WriteByte('\n')
	return w
}

func (w *writer) num(code int, v float64) *writer {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	s = strings.TrimRight(s, "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	if s == "-0.0" {
		s = "0.0"
	}
	return w.pair(code, s)
}

func (w *writer) count(code, n int) *writer { return w.pair(code, strconv.Itoa(n)) }

// point writes x and y of a point under the group codes x and x+10; z is 0.
func (w *writer) point(x int, p scene.Point) *writer {
	return w.num(x, p.X).num(x+10, w.height-p.Y).num(x+20, 0)
}

func (w *writer) head(s *scene.Sheet) {
	w.pair(0, "SECTION").pair(2, "HEADER")
	w.pair(9, "$ACADVER").pair(1, "AC1009")
	w.pair(9, "$EXTMIN").num(10, 0).num(20, 0).num(30, 0)
	w.pair(9, "$EXTMAX").num(10, s.Width).num(20, s.Height).num(30, 0)
	w.pair(9, "$LIMMIN").num(10, 0).num(20, 0)
	w.pair(9, "$LIMMAX").num(10, s.Width).num(20, s.Height)
	w.pair(9, "$LTSCALE").num(40, 1)
	w.pair(0, "ENDSEC")
}

// application is the name under which extended data stand.
const application = "RAILWRIGHT"

func (w *writer) tables(layers []string) {
	w.pair(0, "SECTION").pair(2, "TABLES")
	w.table("LTYPE", 5)
	for _, t := range []struct {
		name, picture string
		dash          scene.Dash
	}{
		{"CONTINUOUS", "whole line", scene.Whole},
		{"DASHED", "__ __ __", scene.Dashed},
		{"DOTTED", ". . . .", scene.Dotted},
		{"CHAIN", "____ . ____ .", scene.Chain},
		{"FINE", "_ _ _ _ _", scene.Fine},
	} {
		w.pair(0, "LTYPE").pair(2, t.name).count(70, 0).pair(3, t.picture).count(72, 65)
		lengths, total := t.dash.Lengths(), 0.0
		for _, l := range lengths {
			total += l
		}
		w.count(73, len(lengths)).num(40, total)
		for i, l := range lengths {
			if i%2 == 1 {
				l = -l
			}
			w.num(49, l)
		}
	}
	w.pair(0, "ENDTAB")
	w.table("LAYER", len(layers)+1)
	for _, name := range append([]string{"0"}, layers...) {
		w.pair(0, "LAYER").pair(2, name).count(70, 0).count(62, 7).pair(6, "CONTINUOUS")
	}
	w.pair(0, "ENDTAB")
	w.table("STYLE", len(typeface.Styles))
	for _, s := range typeface.Styles {
		w.pair(0, "STYLE").pair(2, styleName(s)).count(70, 0).num(40, 0).num(41, 1).num(50, 0).count(71, 0).num(42, 2.5).pair(3, "txt").pair(4, "")
	}
	w.pair(0, "ENDTAB")
	w.table("APPID", 1).pair(0, "APPID").pair(2, application).count(70, 0).pair(0, "ENDTAB")
	w.pair(0, "ENDSEC")
}

func (w *writer) table(name string, n int) *writer {
	return w.pair(0, "TABLE").pair(2, name).count(70, n)
}

func styleName(s typeface.Style) string {
	if s == "" {
		s = typeface.Regular
	}
	return strings.ToUpper(strings.ReplaceAll(string(s), " ", "_"))
}

// layerNames gives each layer a name of the signs that release 12 allows, none twice.
func layerNames(s *scene.Sheet) []string {
	used := map[string]bool{"0": true}
	out := make([]string, len(s.Layers))
	for i, l := range s.Layers {
		name := strings.Map(func(r rune) rune {
			switch {
			case r >= 'a' && r <= 'z':
				return r - 'a' + 'A'
			case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
				return r
			}
			return '_'
		}, l.Name)
		if len(name) > 24 || name == "" {
			name = fmt.Sprintf("LAYER_%d", i+1)
		}
		for used[name] {
			name = fmt.Sprintf("%s_%d", name, i+1)
		}
		used[name] = true
		out[i] = name
	}
	return out
}

// encode writes a string in 7-bit signs: others as \U+XXXX, and what would begin a control code doubled.
func encode(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '^':
			b.WriteString("^ ")
		case r == '%':
			b.WriteString("%%%")
		case r < ' ' || r == 0x7f || r == utf8.RuneError:
			b.WriteByte(' ')
		case r > '~':
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
