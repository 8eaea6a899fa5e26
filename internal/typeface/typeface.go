package typeface

import (
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Style is one of the fonts.
type Style string

// The styles: text, emphasis, and equal widths for tags, terminals and addresses.
const (
	Regular  Style = "regular"
	Bold     Style = "bold"
	Mono     Style = "mono"
	MonoBold Style = "mono bold"
)

// Styles lists every style in its order of declaration.
var Styles = []Style{Regular, Bold, Mono, MonoBold}

// Heights of the fonts as parts of the size, from their own tables.
const (
	Ascent    = 0.94 // from the base line to the top of accented capitals
	CapHeight = 0.72 // from the base line to the top of H
	XHeight   = 0.53
	Descent   = 0.21 // from the base line down to the end of g
)

// Data returns the font file (TrueType).
func Data(s Style) []byte {
	switch s {
	case Bold:
		return gobold.TTF
	case Mono:
		return gomono.TTF
	case MonoBold:
		return gomonobold.TTF
	}
	return goregular.TTF
}

// Width returns the width of a text in mm at the size in mm. A sign that the font lacks counts as one em.
func Width(s Style, text string, sizeMM float64) float64 {
	m := metricsOf(s)
	var units int
	for _, r := range text {
		units += m.advance(r)
	}
	return float64(units) / float64(m.unitsPerEm) * sizeMM
}

// Has reports whether every style has the sign.
func Has(r rune) bool {
	if r >= ' ' && r <= '~' {
		return true // a test holds the fonts to it
	}
	for _, s := range Styles {
		if _, ok := metricsOf(s).width(r); !ok {
			return false
		}
	}
	return true
}

// Missing returns the signs of the text that some style lacks, each once, in their order.
func Missing(text string) []rune {
	var out []rune
	for _, r := range text {
		if !Has(r) && !strings.ContainsRune(string(out), r) {
			out = append(out, r)
		}
	}
	return out
}

// metrics are the advances of one font, looked up once per sign.
type metrics struct {
	font       *sfnt.Font
	unitsPerEm int
	mu         sync.Mutex
	buffer     sfnt.Buffer
	ascii      [128]int     // advance, 0 = not there
	other      map[rune]int // advance, -1 = not there
}

var loaded = sync.OnceValue(func() map[Style]*metrics {
	all := map[Style]*metrics{}
	for _, s := range Styles {
		all[s] = load(s)
	}
	return all
})

func metricsOf(s Style) *metrics {
	if m := loaded()[s]; m != nil {
		return m
	}
	return loaded()[Regular]
}

func load(s Style) *metrics {
	f, err := sfnt.Parse(Data(s))
	if err != nil {
		panic("typeface: embedded font " + string(s) + ": " + err.Error())
	}
	m := &metrics{font: f, unitsPerEm: int(f.UnitsPerEm()), other: map[rune]int{}}
	for r := rune(32); r < 127; r++ {
		m.ascii[r] = max(m.lookUp(r), 0)
	}
	return m
}

func (m *metrics) advance(r rune) int {
	if w, ok := m.width(r); ok {
		return w
	}
	return m.unitsPerEm
}

func (m *metrics) width(r rune) (int, bool) {
	if r >= 32 && r < 127 {
		return m.ascii[r], true
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	w, seen := m.other[r]
	if !seen {
		w = m.lookUp(r)
		m.other[r] = w
	}
	return w, w >= 0
}

// lookUp asks the font; -1 where it has no glyph.
func (m *metrics) lookUp(r rune) int {
	g, err := m.font.GlyphIndex(&m.buffer, r)
	if err != nil || g == 0 {
		return -1
	}
	// At one pixel per unit the advance is the font's own number.
	w, err := m.font.GlyphAdvance(&m.buffer, g, fixed.I(m.unitsPerEm), font.HintingNone)
	if err != nil {
		return -1
	}
	return w.Round()
}
