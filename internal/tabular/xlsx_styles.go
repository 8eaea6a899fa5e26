package tabular

import (
	"fmt"
	"math"
	"path"
	"strconv"
	"strings"
)

// font is what a font element says.
type font struct {
	colour               string
	bold, italic, struck bool
}

// styleReader collects the style part: number formats, fonts, fills and the cell styles that
// combine them.
type styleReader struct {
	x       *xlsxReader
	theme   []string
	codes   map[int]string
	fonts   []font
	fills   []string
	section string // of the part: "fonts", "fills", "cellXfs", ...
	solid   bool
}

const maxStyles = 65_000

func (x *xlsxReader) readStyles(part string, rels map[string]relation) error {
	r := &styleReader{x: x, codes: map[int]string{}}
	for _, rel := range rels {
		if path.Base(rel.kind) == "theme" {
			if err := r.readTheme(rel.target); err != nil {
				return err
			}
		}
	}
	return x.each(part, r.start)
}

// themeOrder is the order in which cells number the theme's colours; light and dark are swapped
// against their order in the part.
//
// Source: ECMA-376 part 1, 18.8.3 (color, attribute theme) and 20.1.6.2 (clrScheme).
var themeOrder = []string{"lt1", "dk1", "lt2", "dk2", "accent1", "accent2", "accent3", "accent4", "accent5", "accent6", "hlink", "folHlink"}

func (r *styleReader) readTheme(part string) error {
	colours := map[string]string{}
	slot := ""
	err := r.x.each(part, func(s *xmlScanner) error {
		name := string(s.name)
		for _, o := range themeOrder {
			if name == o {
				slot = o
			}
		}
		switch name {
		case "srgbClr":
			if slot != "" && colours[slot] == "" {
				colours[slot] = strings.ToUpper(s.attrString("val"))
			}
		case "sysClr":
			if slot != "" && colours[slot] == "" {
				colours[slot] = strings.ToUpper(s.attrString("lastClr"))
			}
		case "fontScheme":
			slot = ""
		}
		return nil
	})
	for _, o := range themeOrder {
		r.theme = append(r.theme, colours[o])
	}
	return err
}

func (r *styleReader) start(s *xmlScanner) error {
	switch name := string(s.name); name {
	case "numFmts", "fonts", "fills", "borders", "cellStyleXfs", "cellXfs", "cellStyles", "dxfs", "tableStyles", "colors":
		r.section = name
	case "numFmt":
		if r.section == "numFmts" {
			r.codes[s.attrInt("numFmtId", -1)] = s.attrString("formatCode")
		}
	case "font":
		if r.section == "fonts" {
			r.fonts = append(r.fonts, font{})
		}
	case "fill":
		if r.section == "fills" {
			r.fills = append(r.fills, "")
		}
	case "xf":
		if r.section == "cellXfs" {
			return r.cellStyle(s)
		}
	default:
		r.detail(name, s)
	}
	return nil
}

// detail reads the elements inside a font or fill.
func (r *styleReader) detail(name string, s *xmlScanner) {
	if r.section == "fonts" && len(r.fonts) > 0 {
		f := &r.fonts[len(r.fonts)-1]
		v, given := s.attr("val")
		on := !given || string(v) != "0" && string(v) != "false"
		switch name {
		case "b":
			f.bold = on
		case "i":
			f.italic = on
		case "strike":
			f.struck = on
		case "color":
			f.colour = r.colour(s)
		}
	}
	if r.section == "fills" && len(r.fills) > 0 {
		switch name {
		case "patternFill":
			p := s.attrString("patternType")
			r.solid = p != "" && p != "none" && p != "gray125"
		case "fgColor":
			if r.solid {
				r.fills[len(r.fills)-1] = r.colour(s)
			}
		}
	}
}

func (r *styleReader) cellStyle(s *xmlScanner) error {
	if len(r.x.looks) >= maxStyles {
		return fmt.Errorf("more than %d cell styles", maxStyles)
	}
	id := s.attrInt("numFmtId", 0)
	f := builtinFormat(id)
	if code, ok := r.codes[id]; ok {
		f = parseFormat(code)
	}
	var l Look
	if n := s.attrInt("fontId", 0); n >= 0 && n < len(r.fonts) {
		ft := r.fonts[n]
		l.Bold, l.Italic, l.Struck = ft.bold, ft.italic, ft.struck
		if l.Font = ft.colour; l.Font == "000000" {
			l.Font = ""
		}
	}
	if n := s.attrInt("fillId", 0); n >= 0 && n < len(r.fills) {
		if l.Fill = r.fills[n]; l.Fill == "FFFFFF" {
			l.Fill = ""
		}
	}
	r.x.formats = append(r.x.formats, f)
	r.x.looks = append(r.x.looks, r.x.look(l))
	return nil
}

// colour resolves a colour element to "RRGGBB"; "" is automatic.
func (r *styleReader) colour(s *xmlScanner) string {
	c := ""
	if rgb, ok := s.attr("rgb"); ok {
		c = strings.ToUpper(string(rgb))
		if len(c) == 8 {
			c = c[2:]
		}
	} else if n := s.attrInt("theme", -1); n >= 0 && n < len(r.theme) {
		c = r.theme[n]
	} else if n := s.attrInt("indexed", -1); n >= 0 && n < 64 {
		c = indexedColours[n%len(indexedColours)]
	}
	if len(c) != 6 {
		return ""
	}
	tint, err := strconv.ParseFloat(s.attrString("tint"), 64)
	if err != nil || tint == 0 {
		return c
	}
	return tinted(c, tint)
}

// tinted lightens (tint > 0) or darkens a colour. The standard does it on the lightness; doing it on
// each of red, green and blue gives the same colour to the eye, which is all a remark needs.
func tinted(c string, tint float64) string {
	v, err := strconv.ParseUint(c, 16, 32)
	if err != nil {
		return ""
	}
	mix := func(shift uint) uint64 {
		ch := float64(v >> shift & 255)
		if tint < 0 {
			ch *= 1 + tint
		} else {
			ch += (255 - ch) * tint
		}
		return uint64(math.Round(math.Min(255, math.Max(0, ch)))) << shift
	}
	return fmt.Sprintf("%06X", mix(16)|mix(8)|mix(0))
}

// indexedColours is the default palette, of which 0-7 repeat as 8-15.
//
// Source: ECMA-376 part 1, 18.8.27 (indexedColors).
var indexedColours = []string{
	"000000", "FFFFFF", "FF0000", "00FF00", "0000FF", "FFFF00", "FF00FF", "00FFFF",
	"000000", "FFFFFF", "FF0000", "00FF00", "0000FF", "FFFF00", "FF00FF", "00FFFF",
	"800000", "008000", "000080", "808000", "800080", "008080", "C0C0C0", "808080",
	"9999FF", "993366", "FFFFCC", "CCFFFF", "660066", "FF8080", "0066CC", "CCCCFF",
	"000080", "FF00FF", "FFFF00", "00FFFF", "800080", "800000", "008080", "0000FF",
	"00CCFF", "CCFFFF", "CCFFCC", "FFFF99", "99CCFF", "FF99CC", "CC99FF", "FFCC99",
	"3366FF", "33CCCC", "99CC00", "FFCC00", "FF9900", "FF6600", "666699", "969696",
	"003366", "339966", "003300", "333300", "993300", "993366", "333399", "333333",
}
