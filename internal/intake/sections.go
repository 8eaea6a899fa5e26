package intake

import (
	"fmt"
	"regexp"
	"strings"
)

// above reads what stands over the heading: Markdown headings and titles such as "Station +A1".
func (r *reader) above(s *Sheet, t *table) section {
	var ctx section
	if t.top < 0 {
		return ctx
	}
	near, first := true, ""
	var firstRow int
	for row := t.top - 1; row >= 0 && row > t.top-6; row-- {
		text, _, n := single(s, row)
		if n == 0 {
			continue
		}
		if n > 1 {
			break
		}
		if near && r.titled(s, t) && r.applySection(&ctx, text, row, t.sheet, 0.7, false) {
			return ctx
		}
		if r.applySection(&ctx, text, row, t.sheet, 0.6, true) {
			return ctx
		}
		if near && namesEquipment(text) && r.applySection(&ctx, text, row, t.sheet, 0.55, false) {
			return ctx
		}
		if near && !isTitle(text) {
			first, firstRow = text, row
		}
		near = false
	}
	if first != "" {
		r.note("IMP-007", t.sheet, address(firstRow, 0), 0.7, fmt.Sprintf("title %s above the headings is not used", quoted(first)))
	}
	return ctx
}

// isTitle reports whether a text is the title of a document and no name that the rows below could have.
func isTitle(text string) bool {
	f := fold(text)
	return hasAny(f, titleWords) || strings.Contains(f, "list") || strings.Contains(f, "liste") || reNote.MatchString(text) || len(text) > 60
}

// titled reports whether the headings are repeated further down below a lonely text each time: then
// the text over the first of them is a section as well.
func (r *reader) titled(s *Sheet, t *table) bool {
	for row := t.first + 1; row <= t.last && row < t.first+2000; row++ {
		if s.Width(row) == 0 || !r.repeats(s, t, row) {
			continue
		}
		for above := row - 1; above > t.bottom; above-- {
			text, _, n := single(s, above)
			if n > 0 {
				return n == 1 && !reTotal.MatchString(text) && !reNote.MatchString(text)
			}
		}
	}
	return false
}

// namesEquipment reports whether a text over the headings is the name of a piece of equipment and no
// title of a document.
func namesEquipment(text string) bool {
	f := fold(text)
	return len(text) <= 48 && strings.Count(f, " ") <= 5 && hasAny(f, equipmentWords) && !isTitle(text)
}

// lonely decides what a row with one text is.
func (r *reader) lonely(s *Sheet, t *table, st *tableState, row, col int, text string) string {
	if reTotal.MatchString(text) {
		return "total"
	}
	if isPlaceholder(text) {
		return "note"
	}
	if inList(fold(text), wSpare) {
		return "spare"
	}
	var in *column
	for i := range t.columns {
		if t.columns[i].index == col {
			in = &t.columns[i]
		}
	}
	look := s.look(row, col)
	wide := mergedWide(s, row, col)
	strong := wide || look.Bold
	if in != nil && in.role == "tag" && looksTag(text) && !strong && !r.headsGroup(s, t, row, col, text) && !sectionWord(text) {
		return "" // a data row that lacks everything else
	}
	if (reNote.MatchString(text) && !sectionWord(text)) || len(text) > 100 {
		return "note"
	}
	if in != nil && in.role != "" && !strong && !sectionWord(text) {
		if _, isCount := in.role.count(); isCount {
			return "note"
		}
		switch in.role {
		case "kind", "form", roleRange, "unit", roleNature, roleDirection, "remarks", "hold", roleRevision, roleChannel, roleSlot, roleAddress:
			return "note"
		}
	}
	sure := 0.6
	if strong || sectionWord(text) {
		sure = 0.8
	}
	r.applySection(&st.ctx, text, row, t.sheet, sure, false)
	return "section"
}

// headsGroup reports whether the rows below belong to a tag that stands alone: their tags begin with
// it or are empty.
func (r *reader) headsGroup(s *Sheet, t *table, row, col int, text string) bool {
	for next := row + 1; next <= min(t.last, row+2); next++ {
		below := s.cell(next, col)
		_, _, n := single(s, next)
		if n < 2 {
			continue
		}
		return below == "" || strings.HasPrefix(below, text) && len(below) > len(text)
	}
	return false
}

var (
	placeWords     = phrases("pumping station, pump station, lift station, booster station, compressor station, metering station, filling station, loading station, treatment station, power station, substation, transformer station, pumpstation, trafostation, station de, estacion de, area, zone, building, room, hall, house, location, place, bereich, gebaude, halle, raum, ort, standort, batiment, local, salle, secteur, area de, edificio, sala, zona, planta, site, level, floor, basement, etage, geschoss, keller, sous sol, roof, dach, toiture, plant room, technikraum, heizzentrale, chaufferie, sala de")
	equipmentWords = phrases("skid, package, unit, pump, pumps, equipment, system, anlage, pumpe, pumpen, equipement, pompe, pompes, equipo, bomba, bombas, ahu, rlt, rlt anlage, cta, uta, boiler, kessel, chaudiere, caldera, tank, behalter, reservoir, deposito, filter, filtre, filtro, compressor, kompressor, compresseur, compresor, conveyor, motor, valve, dosing, dosieranlage, dosage, dosificacion, blower, fan, ventilator, mixer, agitator, ruhrwerk, heat exchanger, warmetauscher, chiller, kaltemaschine, line, train, screen, rechen, generator, crane")
	equipmentHeads = phrases("equipment, system, unit, package, skid, machine, anlage, anlagenteil, gewerk, maschine, equipement, systeme, equipo, sistema, maquina")
	stationWords   = phrases("station, rio, remote io, remote i/o, panel, cabinet, schrank, schaltschrank, armoire, coffret, armario, cuadro, rack, node, plc, sps, ddc, outstation, unterstation, isp, station deportee, estacion, automate, lcp, mcc, et, e/a station, knoten, ilot")
	stationPlaces  = placeWords[:16]
	reDesignation  = regexp.MustCompile(`^[+=][A-Z0-9][A-Z0-9.+=\-]*$`)
	reSectionHead  = regexp.MustCompile(`(?i)^(?:section|abschnitt|chapter|kapitel|group|gruppe|groupe|grupo|teil|part|partie|parte)\s*[:\-]?\s*`)
)

// sectionWord reports whether a text names a place, a piece of equipment or a station.
func sectionWord(text string) bool {
	f := fold(text)
	if _, ok := kindOfGroup(text); ok || inList(f, wInputs) || inList(f, wOutputs) {
		return true
	}
	return hasAny(f, placeWords) || hasAny(f, equipmentWords) || hasAny(f, stationWords) || reDesignation.MatchString(text)
}

// applySection takes over what a section row or a title says. only says that a text without a known
// word changes nothing.
func (r *reader) applySection(ctx *section, text string, row, sheet int, sure float64, only bool) bool {
	text = strings.Trim(reSectionHead.ReplaceAllString(text, ""), " :#*=-–—_")
	if text == "" || len(text) > 120 || isPlaceholder(text) {
		return false
	}
	f := fold(text)
	first := firstOf(f)
	if inList(f, wInputs) || inList(f, wOutputs) {
		only = false
	}
	if _, ok := kindOfGroup(text); ok && only && len(f) < 40 && !strings.Contains(f, "list") {
		only = false
	}
	if only && !labelled(text) && (strings.Contains(f, "list") || hasAny(f, titleWords) || r.placeID(text) == "" && !reDesignation.MatchString(text) && !hasAny(first, placeWords) && (!hasAny(first, stationWords) || hasAny(f, stationPlaces))) {
		return false
	}
	if head, rest, ok := strings.Cut(text, ":"); ok && strings.TrimSpace(rest) != "" && !hasAny(fold(head), stationWords) {
		// "Area: filter hall": the name alone; the word before it says what it names.
		if rest = strings.TrimSpace(rest); r.placeID(rest) != "" || hasAny(fold(head), placeWords) {
			ctx.place, ctx.equipment, ctx.text, ctx.row = nameText(rest), "", text, row
			if r.placeID(rest) != "" {
				ctx.place = rest
			}
			r.assume("IMP-008", r.at(sheet, address(row, 0)), sure, "section %s gives the place of the rows below", quoted(text))
			return true
		}
	}
	if head, rest, ok := strings.Cut(text, ":"); ok && strings.TrimSpace(rest) != "" && inList(fold(head), equipmentHeads) {
		ctx.equipment, ctx.text, ctx.row = nameText(strings.TrimSpace(rest)), text, row
		r.assume("IMP-008", r.at(sheet, address(row, 0)), sure, "section %s gives the equipment of the rows below", quoted(text))
		return true
	}
	if inList(f, wInputs) || inList(f, wOutputs) {
		if ctx.dir, ctx.kind = "in", ""; inList(f, wOutputs) {
			ctx.dir = "out"
		}
		r.assume("IMP-008", r.at(sheet, address(row, 0)), sure, "section %s gives the direction of the rows below", quoted(text))
		return true
	}
	if k, ok := kindOfGroup(text); ok {
		ctx.dir = ""
		ctx.kind, ctx.text, ctx.row = k, text, row
		if ctx.form = r.cachedTraits(text).form; ctx.form != "" {
			r.assume("IMP-008", r.at(sheet, address(row, 0)), sure, "section %s gives the form %s of rows below that state none", quoted(text), ctx.form)
		}
		r.assume("IMP-008", r.at(sheet, address(row, 0)), sure, "section %s gives the kind %s of rows below that state none", quoted(text), k)
		return true
	}
	value := nameText(text)
	say := func(what string) {
		r.assume("IMP-008", r.at(sheet, address(row, 0)), sure, "section %s gives the %s of the rows below", quoted(text), what)
	}
	switch {
	case r.placeID(text) != "":
		ctx.place, ctx.equipment = text, ""
		say("place")
	case reDesignation.MatchString(text) && text[0] == '+', hasAny(f, stationWords) && !hasAny(first, equipmentWords) && !hasAny(f, stationPlaces):
		ctx.station = stripWord(value)
		if name, inside, ok := strings.Cut(ctx.station, "("); ok && strings.TrimSpace(name) != "" {
			ctx.station, inside = strings.TrimSpace(name), strings.TrimSuffix(strings.TrimSpace(inside), ")")
			if inside != "" {
				ctx.place, ctx.equipment, ctx.atStation = nameText(inside), "", true
				say("place")
			}
		} else if ctx.atStation {
			ctx.place, ctx.atStation = "", false
		}
		say("station")
	case hasAny(first, placeWords) || hasAny(f, placeWords) && !hasAny(f, equipmentWords):
		ctx.place, ctx.equipment = value, ""
		say("place")
	case hasAny(f, equipmentWords):
		ctx.equipment = value
		say("equipment")
	case only:
		return false
	default:
		ctx.equipment = value
		say("equipment")
	}
	ctx.text, ctx.row = text, row
	return true
}

var (
	wInputs  = phrases("inputs, input, eingange, entrees, entradas, plc inputs, inputs list")
	wOutputs = phrases("outputs, output, ausgange, sorties, salidas, plc outputs, outputs list")
)

var titleWords = phrases("list, liste, lista, schedule, index, register, project, projekt, projet, proyecto, document, revision, requirements, points, i/o, i/o list, signalliste, signal list, rev")

func firstOf(f string) string {
	w, _, _ := strings.Cut(f, " ")
	return w
}

// stripWord takes a leading word such as "Station" off a name: "Station +A1" is +A1.
func stripWord(name string) string {
	w, rest, ok := strings.Cut(name, " ")
	rest = strings.Trim(rest, " :-–")
	if ok && rest != "" && len(rest) <= 20 && hasAny(fold(w), stationWords) && strings.ContainsAny(rest, "0123456789+") {
		return rest
	}
	return name
}

// labelled reports whether a text says itself what it names: "System: cooling water".
func labelled(text string) bool {
	head, rest, ok := strings.Cut(text, ":")
	return ok && strings.TrimSpace(rest) != "" && inList(fold(head), equipmentHeads)
}
