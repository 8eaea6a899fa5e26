package intake_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"railwright/internal/demo"
	"railwright/internal/finding"
	"railwright/internal/folder"
	"railwright/internal/intake"
	"railwright/internal/project"
	"railwright/internal/tabular"
)

const uglyFile = "testdata/ugly.xlsx"

// example reads the example project.
func example(t testing.TB) *project.Project {
	t.Helper()
	dir := t.TempDir()
	for _, f := range demo.Files() {
		must(t, os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o644))
	}
	f, err := folder.Read(dir)
	must(t, err)
	return f.Project
}

// uglyCol is one column of an ugly sheet: headings over two rows, and what its author writes.
type uglyCol struct {
	over, head string
	cell       func(s *project.Signal) any
}

// author is one department's way of writing a list.
type author struct {
	kind             func(s *project.Signal) string
	wires            string // "2-wire"
	passive, active  string
	dry, nc, no      string
	yes, ups         string
	fail             map[string]string
	pulse, encoder   string
	relay, decimal   string
	sectionPrefix    string
	degree, rangeSep string
}

var authors = map[string]author{
	"en": {
		kind:  func(s *project.Signal) string { return string(plainKind(s)) },
		wires: "%d-wire", passive: "loop powered", active: "self powered", dry: "volt free contact", nc: "N.C.", no: "N.O.", yes: "Y", ups: "UPS",
		fail:  map[string]string{"0": "de-energised", "1": "energised", "hold": "hold last value"},
		pulse: "pulse", encoder: "incremental encoder", relay: "relay", sectionPrefix: "Area: ", degree: "deg C", rangeSep: " to ",
	},
	"de": {
		kind: func(s *project.Signal) string {
			return map[project.Kind]string{"DI": "DE", "DO": "DA", "AI": "AE", "AO": "AA", "CNT": "Zähleingang", "SER": "seriell"}[plainKind(s)]
		},
		wires: "%d-Leiter", passive: "passiv", active: "aktiv", dry: "potentialfrei", nc: "Öffner", no: "Schließer", yes: "ja", ups: "USV",
		fail:  map[string]string{"0": "stromlos", "1": "bestromt", "hold": "letzter Wert"},
		pulse: "Impuls", encoder: "Drehgeber", relay: "Relais", decimal: ",", sectionPrefix: "Bereich: ", degree: "°C", rangeSep: "..",
	},
	"fr": {
		kind: func(s *project.Signal) string {
			return map[project.Kind]string{"DI": "Entrée TOR", "DO": "Sortie TOR", "AI": "Entrée analogique", "AO": "Sortie analogique", "CNT": "comptage", "SER": "liaison série"}[plainKind(s)]
		},
		wires: "%d fils", passive: "passif", active: "actif", dry: "contact sec", nc: "NF", no: "NO", yes: "oui", ups: "onduleur",
		fail:  map[string]string{"0": "hors tension", "1": "sous tension", "hold": "maintien"},
		pulse: "impulsion", encoder: "codeur", relay: "relais", decimal: ",", sectionPrefix: "Zone: ", degree: "℃", rangeSep: " à ",
	},
}

// plainKind is the kind as lists call it: a thermometer is an analogue input.
func plainKind(s *project.Signal) project.Kind {
	if s.Kind == project.RTD || s.Kind == project.TC {
		return project.AI
	}
	return s.Kind
}

// form writes the electrical side of a signal as one text.
func (a author) form(s *project.Signal) string {
	var p []string
	switch s.Form {
	case "4-20ma":
		p = append(p, "4-20 mA")
	case "0-20ma":
		p = append(p, "0...20mA")
	case "0-10v":
		p = append(p, "0-10 V")
	case "10v-bipolar":
		p = append(p, "±10 V")
	case "resistance":
		p = append(p, strings.Replace(s.Sensor, "Pt", "PT ", 1))
	case "millivolt":
		p = append(p, "TC type "+s.Sensor)
	case "contact":
		p = append(p, a.dry)
	case "pulse-24v":
		p = append(p, a.pulse)
	case "pulse-namur":
		p = append(p, a.pulse+" NAMUR")
	case "encoder-24v":
		p = append(p, a.encoder)
	case "encoder-rs422":
		p = append(p, a.encoder+" RS422")
	case "relay":
		p = append(p, a.relay)
	case "2-wire":
		p = append(p, "2-wire proximity")
	case "24v":
		v := "24"
		if s.Voltage.Set {
			v = column("voltage_v")(s)
		}
		p = append(p, v+" V DC")
	case "120vac", "230vac":
		p = append(p, strings.TrimSuffix(s.Form, "vac")+" VAC")
	case "rs485":
		p = append(p, "RS-485 Modbus RTU")
	case "rs232", "rs422":
		p = append(p, strings.ToUpper(s.Form))
	default:
		p = append(p, strings.ToUpper(s.Form))
	}
	if s.Wires > 0 {
		p = append(p, fmt.Sprintf(a.wires, s.Wires))
	}
	switch s.Active {
	case "passive":
		p = append(p, a.passive)
	case "active":
		p = append(p, a.active)
	}
	switch s.Contact {
	case "NC":
		p = append(p, a.nc)
	case "NO":
		p = append(p, a.no)
	}
	return strings.Join(p, ", ")
}

// number writes a number as the author's keyboard does.
func (a author) number(s string) string {
	if a.decimal != "" {
		return strings.Replace(s, ".", a.decimal, 1)
	}
	return s
}

func column(name string) func(s *project.Signal) string {
	c := project.ColumnNamed(name)
	return c.Format
}

// in writes a canonical number in another unit of the same quantity.
func in(name string, factor float64) func(s *project.Signal) any {
	f := column(name)
	return func(s *project.Signal) any {
		v := f(s)
		if v == "" {
			return nil
		}
		var x float64
		fmt.Sscan(v, &x)
		return math.Round(x*factor*1e9) / 1e9
	}
}

func (a author) unit(s *project.Signal) string {
	switch s.Unit {
	case "degC":
		return a.degree
	case "m3/h":
		return "m³/hr"
	case "kg/h":
		return "kg/hr"
	case "":
		if !s.Kind.Analogue() {
			return "-"
		}
	}
	return s.Unit
}

// commonCols are the columns that all authors have, under headings of their own.
func (a author) commonCols(h map[string]string) []uglyCol {
	text := func(name string) func(s *project.Signal) any {
		f := column(name)
		return func(s *project.Signal) any { return f(s) }
	}
	num := func(name string) func(s *project.Signal) any {
		f := column(name)
		return func(s *project.Signal) any { return a.number(f(s)) }
	}
	return []uglyCol{
		{"", h["device"], text("device")},
		{"", h["equipment"], text("equipment")},
		{"", h["current"], in("current_ma", 0.001)},
		{"", h["inrush"], in("inrush_ma", 0.001)},
		{"", h["voltage"], text("voltage_v")},
		{"", h["minv"], num("min_voltage_v")},
		{"", h["load"], text("load_ohm")},
		{"", h["leak"], num("leakage_ma")},
		{"", h["freq"], in("frequency_hz", 0.001)},
		{"", h["resp"], in("response_ms", 0.001)},
		{"", h["fail"], func(s *project.Signal) any {
			if w := a.fail[s.SafeState]; w != "" && (s.Kind == project.DO || s.SafeState == "hold") {
				return w
			}
			return s.SafeState
		}},
		{"", h["class"], func(s *project.Signal) any {
			switch s.SupplyClass {
			case "ups":
				return a.ups
			case "normal":
				return ""
			}
			return s.SupplyClass
		}},
		{"", h["segregate"], text("segregate")},
		{"", h["redundant"], text("redundant_with")},
		{"", "HART", func(s *project.Signal) any {
			if s.HART {
				return a.yes
			}
			return ""
		}},
		{"", h["ex"], func(s *project.Signal) any {
			if s.ExLevel == "" {
				return ""
			}
			return fmt.Sprintf("Ex %s %s, zone %s", s.ExLevel, s.ExGas, s.ExZone)
		}},
		{"Ex", "Ui [V]", text("ui_v")},
		{"Ex", "Ii [mA]", text("ii_ma")},
		{"Ex", "Pi [W]", in("pi_mw", 0.001)},
		{"Ex", "Ci [nF]", num("ci_nf")},
		{"Ex", "Li [µH]", in("li_mh", 1000)},
		{"", h["hold"], text("hold")},
		{"", h["remarks"], text("remarks")},
	}
}

// planted is a fault put into a row, and where it must be found.
type planted struct {
	tag, sheet, cell, rule string
	gone                   bool // the row gives no signal
	info                   bool // an assumption that must be told
}

// uglyBook writes the example as three departments and a package supplier would, each on sheets of
// its own, with faults planted.
func uglyBook(t testing.TB, p *project.Project) ([]byte, []planted) {
	x := excelize.NewFile()
	defer x.Close()
	u := &uglyWriter{t: t, x: x, places: map[string]string{}}
	for _, pl := range p.Places {
		u.places[pl.ID] = pl.Name
	}
	u.cover()
	var en, de, fr, pack []*project.Signal
	for i := range p.Signals {
		s := &p.Signals[i]
		switch s.Place {
		case "RWP":
			pack = append(pack, s)
		case "SCR", "INT", "BST", "GEN", "LAB", "CR":
			en = append(en, s)
		case "DOS", "DOX", "SLU", "CRF":
			fr = append(fr, s)
		default:
			de = append(de, s)
		}
	}
	u.english(en)
	u.german(de)
	u.french(fr)
	u.supplier(pack)
	var b bytes.Buffer
	must(t, x.Write(&b))
	return b.Bytes(), u.planted
}

type uglyWriter struct {
	t       testing.TB
	x       *excelize.File
	sheet   string
	row     int
	places  map[string]string
	planted []planted
}

func (u *uglyWriter) put(row, col int, v any) {
	if v != nil && v != "" {
		must(u.t, u.x.SetCellValue(u.sheet, tabular.Address(row, col), v))
	}
}

func (u *uglyWriter) begin(name string) {
	u.sheet, u.row = name, 0
	if name == "Cover" {
		must(u.t, u.x.SetSheetName("Sheet1", name))
		return
	}
	_, err := u.x.NewSheet(name)
	must(u.t, err)
}

func (u *uglyWriter) cover() {
	u.begin("Cover")
	u.put(1, 1, "SIGNAL LISTS OF ALL DEPARTMENTS")
	u.put(3, 1, "Legend")
	u.put(4, 2, "value to be checked against the data sheet")
	paint(u.t, u.x, "Cover", "B5", "B5", "FFFF00", nil)
}

// heads writes the headings in one or two rows, with merged groups.
func (u *uglyWriter) heads(cols []uglyCol, from int, two bool) {
	for i, c := range cols {
		if !two {
			u.put(u.row, from+i, strings.TrimSpace(c.over+" "+c.head))
			continue
		}
		if c.over != "" && (i == 0 || cols[i-1].over != c.over) {
			u.put(u.row, from+i, c.over)
			last := i
			for last+1 < len(cols) && cols[last+1].over == c.over {
				last++
			}
			if last > i {
				must(u.t, u.x.MergeCell(u.sheet, tabular.Address(u.row, from+i), tabular.Address(u.row, from+last)))
			}
		}
		u.put(u.row+1, from+i, c.head)
	}
	if u.row++; two {
		u.row++
	}
}

// line writes one signal; mutate may spoil cells by column number.
func (u *uglyWriter) line(cols []uglyCol, from int, s *project.Signal, spoil map[int]any) {
	for i, c := range cols {
		v := c.cell(s)
		if w, ok := spoil[i]; ok {
			v = w
		}
		u.put(u.row, from+i, v)
	}
	u.row++
}

func (u *uglyWriter) plant(rule, tag string, col int, gone bool) {
	u.planted = append(u.planted, planted{tag: tag, sheet: u.sheet, cell: tabular.Address(u.row, col), rule: rule, gone: gone})
}

func (u *uglyWriter) english(list []*project.Signal) {
	a := authors["en"]
	cols := append([]uglyCol{
		{"", "Item", func(s *project.Signal) any { return u.row }},
		{"Instrument", "Tag No.", func(s *project.Signal) any { return s.Tag }},
		{"Instrument", "Service", func(s *project.Signal) any { return s.Description }},
		{"I/O", "Type", func(s *project.Signal) any { return a.kind(s) }},
		{"I/O", "Signal level", func(s *project.Signal) any { return a.form(s) }},
		{"Range", "From", in("range_low", 1)},
		{"Range", "To", func(s *project.Signal) any {
			if s.RangeHigh.Set && s.RangeHigh.Value >= 1000 && s.RangeHigh.Value < 10_000 {
				return fmt.Sprintf("%d,%03d", int(s.RangeHigh.Value)/1000, int(s.RangeHigh.Value)%1000)
			}
			return in("range_high", 1)(s)
		}},
		{"Range", "EU", func(s *project.Signal) any { return a.unit(s) }},
		{"Alarms", "Lo", in("alarm_low", 1)},
		{"Alarms", "Hi", func(s *project.Signal) any {
			if s.Kind == project.AI && s.RangeHigh.Set && !s.AlarmHigh.Set {
				return 2147483647
			}
			return in("alarm_high", 1)(s)
		}},
	}, a.commonCols(map[string]string{
		"device": "Field device", "equipment": "Equipment", "current": "Load current (A)", "inrush": "Inrush (A)", "voltage": "Rated voltage", "minv": "Min. supply voltage", "load": "Burden (ohm)",
		"leak": "Leakage current (mA)", "freq": "Max. frequency (kHz)", "resp": "Response time (s)", "fail": "Fail state", "class": "Power class", "segregate": "Segregation", "redundant": "Redundant with", "ex": "Hazardous area",
		"hold": "On hold", "remarks": "Remarks / notes",
	})...)
	const from = 1 // the first column is empty
	u.begin("Process IO")
	u.row = 1
	u.put(u.row, from, "RIVER WORKS - I/O SCHEDULE, PROCESS DEPARTMENT")
	u.row += 2
	u.heads(cols, from, true)
	spoiled := 0
	place := ""
	skip := false
	for n, s := range list {
		if skip {
			skip = false
			continue
		}
		if s.Place != place {
			place = s.Place
			u.put(u.row, from, a.sectionPrefix+u.places[place])
			must(u.t, u.x.MergeCell(u.sheet, tabular.Address(u.row, from), tabular.Address(u.row, from+len(cols)-1)))
			u.row++
		}
		if n > 0 && n%45 == 0 { // the heading again on every printed page
			u.heads(cols, from, true)
		}
		spoil := map[int]any{}
		switch {
		case spoiled == 0 && s.Kind == project.DO && s.Current.Set:
			spoil[12] = "O.25"
			u.plant("LST-002", s.Tag, from+12, true)
			spoiled++
		case spoiled == 1 && s.Kind == project.AI && s.AlarmHigh.Set:
			spoil[9] = "HI_LIMIT"
			u.plant("IMP-028", s.Tag, from+9, false)
			spoiled++
		case spoiled == 2 && s.Kind == project.AI && s.RangeHigh.Set && !s.AlarmHigh.Set:
			spoil[6] = "1O0"
			u.plant("LST-002", s.Tag, from+6, true)
			spoiled++
		case spoiled == 3 && s.Kind == project.AI && s.Form == "4-20ma" && s.ExLevel == "":
			spoil[3] = "DI"
			u.plant("IMP-022", s.Tag, from+3, false)
			spoiled++
		}
		if s.Hold != "" {
			paint(u.t, u.x, u.sheet, tabular.Address(u.row, from+1), tabular.Address(u.row, from+2), "FFFF00", nil)
		}
		if n+1 < len(list) && pairOf(s, list[n+1]) {
			spoil[1] = strings.Replace(s.Tag, "ZSO", "ZSO/C", 1)
			spoil[2] = s.Description + " / closed"
			u.line(cols, from, s, spoil)
			skip = true
			continue
		}
		u.line(cols, from, s, spoil)
	}
	u.put(u.row, from, "Total")
	u.put(u.row, from+3, len(list))
}

// pairOf reports two rows that an author would write as one: open and closed of one valve.
func pairOf(a, b *project.Signal) bool {
	if !strings.Contains(a.Tag, "-ZSO-") || strings.Replace(a.Tag, "ZSO", "ZSC", 1) != b.Tag || !strings.HasSuffix(a.Description, " open") {
		return false
	}
	x, y := *a, *b
	x.ID, x.Tag, x.Description, x.At = y.ID, y.Tag, y.Description, y.At
	return strings.TrimSuffix(a.Description, "open")+"closed" == b.Description && signalLine(&x) == signalLine(&y)
}

func (u *uglyWriter) german(list []*project.Signal) {
	a := authors["de"]
	text := func(f func(s *project.Signal) string) func(s *project.Signal) any {
		return func(s *project.Signal) any { return f(s) }
	}
	cols := append([]uglyCol{
		{"", "Lfd. Nr.", func(s *project.Signal) any { return u.row }},
		{"", "Einbauort", func(s *project.Signal) any { return u.places[s.Place] }},
		{"", "Kennzeichen", text(func(s *project.Signal) string { return s.Tag })},
		{"", "Benennung", text(func(s *project.Signal) string { return s.Description })},
		{"", "Signalart", text(a.kind)},
		{"", "Anschlußart", text(a.form)},
		{"", "Meßbereich", func(s *project.Signal) any {
			if !s.RangeHigh.Set {
				return ""
			}
			return a.number(column("range_low")(s)) + a.rangeSep + a.number(column("range_high")(s)) + " " + a.unit(s)
		}},
		{"", "Grenzwert unten", func(s *project.Signal) any { return a.number(column("alarm_low")(s)) }},
		{"", "Grenzwert oben", func(s *project.Signal) any { return a.number(column("alarm_high")(s)) }},
	}, a.commonCols(map[string]string{
		"device": "Gerät", "equipment": "Anlagenteil", "current": "Stromaufnahme [A]", "inrush": "Einschaltstrom [A]", "voltage": "Nennspannung", "minv": "Mindestspannung", "load": "Bürde (Ohm)", "leak": "Leckstrom mA",
		"freq": "max. Frequenz [kHz]", "resp": "Reaktionszeit [s]", "fail": "Sicherheitsstellung", "class": "USV", "segregate": "Trennung", "redundant": "Redundant zu", "ex": "Ex-Schutz", "hold": "Klärung", "remarks": "Bemerkung",
	})...)
	u.begin("EMSR Liste")
	u.put(0, 0, "EMSR-Stellenliste")
	u.put(1, 0, "Stand: Vorabzug")
	u.row = 3
	u.heads(cols, 0, false)
	spoiled := 0
	for n, s := range list {
		if n == len(list)-40 { // the rest on a second sheet without headings
			defer func(rest []*project.Signal) {
				u.begin("EMSR Liste (2)")
				for _, s := range rest {
					u.line(cols, 0, s, nil)
				}
			}(list[n : len(list)-1])
			list = append(list[:n:n], list[len(list)-1])
		}
		if n >= len(list) {
			break
		}
		s = list[n]
		spoil := map[int]any{}
		switch {
		case spoiled == 0 && s.Kind == project.TC:
			spoil[5] = "Thermoelement"
			u.plant("LST-012", s.Tag, 5, true)
			spoiled++
		case spoiled <= 1 && s.Kind == project.AI && s.AlarmHigh.Set && s.Form == "4-20ma":
			spoil[8] = "99999,5"
			u.plant("LST-015", s.Tag, 8, true)
			spoiled = 2
		case spoiled == 2 && s.Kind == project.DI && s.Form == "contact":
			spoil[4] = "??"
			spoil[5] = ""
			spoil[3] = "noch unbekannt"
			spoil[2] = "HLP-NEU-1"
			spoil[9], spoil[10] = "", ""
			u.plant("IMP-021", s.Tag, 4, true)
			spoiled++
		}
		u.line(cols, 0, s, spoil)
	}
	// A copy of a row with another description: a double.
	last := *list[len(list)-1]
	u.plant("LST-030", last.Tag, 2, true)
	u.line(cols, 0, &last, map[int]any{3: "anderes Signal"})
	u.planted = append(u.planted, planted{tag: last.Tag, sheet: u.sheet, cell: tabular.Address(u.row-2, 2), rule: "LST-030", gone: true})
}

func (u *uglyWriter) french(list []*project.Signal) {
	a := authors["fr"]
	text := func(f func(s *project.Signal) string) func(s *project.Signal) any {
		return func(s *project.Signal) any { return f(s) }
	}
	cols := append([]uglyCol{
		{"", "Repère", text(func(s *project.Signal) string { return s.Tag })},
		{"", "Libellé", text(func(s *project.Signal) string { return s.Description })},
		{"", "Type de signal", text(a.kind)},
		{"", "Nature du signal électrique", text(a.form)},
		{"", "Plage", func(s *project.Signal) any {
			if !s.RangeHigh.Set {
				return "N/A"
			}
			return a.number(column("range_low")(s)) + a.rangeSep + a.number(column("range_high")(s))
		}},
		{"", "Unité", text(a.unit)},
		{"", "Seuil bas", func(s *project.Signal) any { return a.number(column("alarm_low")(s)) }},
		{"", "Seuil haut", func(s *project.Signal) any { return a.number(column("alarm_high")(s)) }},
	}, a.commonCols(map[string]string{
		"device": "Appareil", "equipment": "Équipement", "current": "Courant (A)", "inrush": "Courant d'appel (A)", "voltage": "Tension", "minv": "Tension minimale", "load": "Résistance de charge", "leak": "Courant de fuite (mA)",
		"freq": "Fréquence max (kHz)", "resp": "Temps de réponse (s)", "fail": "Position de repli", "class": "Onduleur", "segregate": "Ségrégation", "redundant": "Redondant avec", "ex": "Mode de protection", "hold": "À confirmer", "remarks": "Observations",
	})...)
	u.begin("Lot 3 indice A")
	u.heads(cols, 0, false)
	for i, s := range list[:len(list)*2/3] {
		u.line(cols, 0, s, map[int]any{1: fmt.Sprintf("ancien libellé %d", i)})
	}
	u.begin("Lot 3 indice B")
	u.put(0, 0, "LISTE DES ENTRÉES / SORTIES - LOT 3")
	u.row = 2
	u.heads(cols, 0, false)
	place := ""
	for _, s := range list {
		if s.Place != place {
			place = s.Place
			u.put(u.row, 0, a.sectionPrefix+u.places[place])
			u.row++
		}
		u.line(cols, 0, s, nil)
	}
	u.put(u.row, 1, "RÉSERVE")
	u.put(u.row, 2, "Entrée TOR")
	u.row++
	u.put(u.row, 0, "Sous-total")
	u.put(u.row, 2, len(list))
}

// supplier writes a package in the way of one who fills in a form: marks per kind, dittos for the
// place and the equipment, limits as converter counts, and a tag that the spreadsheet took for a date.
func (u *uglyWriter) supplier(list []*project.Signal) {
	a := authors["en"]
	marks := map[project.Kind]string{project.DI: "x", project.DO: "X", project.AI: "1", project.AO: "✓", project.CNT: "x", project.SER: "x"}
	mark := func(k project.Kind) func(s *project.Signal) any {
		return func(s *project.Signal) any {
			if plainKind(s) == k {
				return marks[k]
			}
			return ""
		}
	}
	above := map[string]string{}
	ditto := func(name string, f func(s *project.Signal) string) func(s *project.Signal) any {
		return func(s *project.Signal) any {
			v := f(s)
			if v != "" && v == above[name] {
				return "\""
			}
			above[name] = v
			return v
		}
	}
	cols := append([]uglyCol{
		{"", "Location", ditto("place", func(s *project.Signal) string { return u.places[s.Place] })},
		{"", "Tag", func(s *project.Signal) any { return s.Tag }},
		{"", "Function description", func(s *project.Signal) any { return s.Description }},
		{"Signals", "DI", mark(project.DI)},
		{"Signals", "DO", mark(project.DO)},
		{"Signals", "AI", mark(project.AI)},
		{"Signals", "AO", mark(project.AO)},
		{"Signals", "Pulse", mark(project.CNT)},
		{"Signals", "Serial", mark(project.SER)},
		{"", "Signal details", func(s *project.Signal) any { return a.form(s) }},
		{"", "Scale min", in("range_low", 1)},
		{"", "Scale max", in("range_high", 1)},
		{"", "Unit", func(s *project.Signal) any { return a.unit(s) }},
		{"", "Alarm low", in("alarm_low", 1)},
		{"", "Alarm high", in("alarm_high", 1)},
	}, a.commonCols(map[string]string{
		"device": "Device", "equipment": "Equipment", "current": "Current (A)", "inrush": "Inrush current (A)", "voltage": "Voltage", "minv": "Minimum voltage", "load": "Load (ohm)",
		"leak": "Leakage (mA)", "freq": "Frequency (kHz)", "resp": "Response (s)", "fail": "Fail position", "class": "Supply class", "segregate": "Segregation", "redundant": "Redundant with", "ex": "Ex", "hold": "Hold", "remarks": "Comments",
	})...)
	u.begin("Pump package")
	u.put(0, 0, "RAW WATER PUMP PACKAGE - SIGNALS TO CUSTOMER")
	u.row = 2
	u.heads(cols, 0, true)
	counts, date := false, false
	for _, s := range list {
		spoil := map[int]any{}
		switch {
		case !counts && s.Kind == project.AI && s.Form == "4-20ma" && s.RangeHigh.Set && !s.AlarmHigh.Set && !s.AlarmLow.Set:
			counts = true
			spoil[10], spoil[11] = 0, 27648
			u.planted = append(u.planted, planted{tag: s.Tag, sheet: u.sheet, cell: tabular.Address(u.row, 10), rule: "IMP-029", info: true})
		case !date && counts && s.Kind == project.DI:
			date = true
			spoil[1] = time.Date(2026, 1, 2, 0, 0, 0, 0, time.UTC)
			u.plant("IMP-034", s.Tag, 1, true)
		}
		u.line(cols, 0, s, spoil)
	}
	if !counts || !date {
		u.t.Fatal("nothing to plant")
	}
	u.put(u.row, 1, "Total")
	for i, k := range []project.Kind{project.DI, project.DO, project.AI, project.AO} {
		n := 0
		for _, s := range list {
			if plainKind(s) == k {
				n++
			}
		}
		u.put(u.row, 3+i, n)
	}
}

// The ugly list gives the example's signals but for its planted faults, each of which is found in
// its cell.
func TestUglyList(t *testing.T) {
	p := example(t)
	data, faults := uglyBook(t, p)
	if *update {
		must(t, os.WriteFile(uglyFile, data, 0o644))
	}
	kept, err := os.ReadFile(uglyFile)
	must(t, err)
	for name, d := range map[string][]byte{"made now": data, uglyFile: kept} {
		r := read(t, "ugly.xlsx", d, intake.Options{Places: p.Places})
		checkUgly(t, name, p, r, faults)
	}
}

func checkUgly(t *testing.T, name string, p *project.Project, r *intake.Result, faults []planted) {
	t.Helper()
	spoiled := map[string]bool{}
	for _, f := range faults {
		spoiled[f.tag] = true
		if !slices.ContainsFunc(r.Findings, func(x finding.Finding) bool {
			return x.Rule == f.rule && (x.Severity == "info") == f.info && x.Where != nil && x.Where.Sheet == f.sheet && x.Where.Cell == f.cell
		}) {
			t.Errorf("%s: %s of %s at %s!%s is not found", name, f.rule, f.tag, f.sheet, f.cell)
		}
	}
	got := map[string]string{}
	for i := range r.Signals {
		got[r.Signals[i].Tag] = signalLine(&r.Signals[i])
	}
	for _, f := range faults {
		if _, there := got[f.tag]; there == f.gone {
			t.Errorf("%s: %s: signal there %v", name, f.tag, there)
		}
	}
	wrong := 0
	for i := range p.Signals {
		s := p.Signals[i]
		if spoiled[s.Tag] {
			continue
		}
		s.ID = s.Tag
		want := signalLine(&s)
		g := strings.ReplaceAll(got[s.Tag], "colour in the list: value to be checked against the data sheet", "")
		g = strings.TrimSuffix(strings.TrimSpace(g), "| remarks=")
		if strings.TrimSpace(g) != want {
			if wrong++; wrong <= 12 {
				t.Errorf("%s: got  %s\nwant %s", name, g, want)
			}
		}
	}
	for _, f := range r.Findings {
		if f.Severity == "error" && !slices.ContainsFunc(faults, func(x planted) bool { return f.Where != nil && x.cell == f.Where.Cell && x.sheet == f.Where.Sheet }) {
			t.Errorf("%s: unplanted: %s", name, f)
		}
	}
	t.Logf("%s: %d signals, %d differ, %d rejected", name, len(r.Signals), wrong, len(r.Rejected))
}
