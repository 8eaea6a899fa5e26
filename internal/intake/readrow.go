package intake

import (
	"fmt"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// readRow turns one data row into drafts.
func (r *reader) readRow(rec *record, st *tableState) {
	key := rowKey{rec.t.sheet, rec.row}
	fate := &rowFate{}
	r.rows[key] = fate
	r.doneRows = append(r.doneRows, key)
	r.res.Rows++
	if why := rec.leftOut(); why != "" {
		fate.leftOut = true
		r.res.LeftOut++
		r.assume("IMP-027", rec.where(-1), 0.85, "left out: %s", why)
		return
	}
	if why, i, sure := rec.unwired(st); why != "" {
		fate.leftOut = true
		r.res.LeftOut++
		r.assume("IMP-027", rec.where(i), sure, "left out: %s", why)
		return
	}
	rec.swapEnds(st)
	d := r.newDraft(rec.t.sheet, rec.row)
	rec.tag(d, st)
	rec.names(d)
	rec.remarks(d)
	rec.positions(d)
	for _, kd := range rec.expand(d, st) {
		rec.values(kd.d, kd.kind, kd.ev, kd.tr)
		r.keep(kd.d)
	}
}

// readOurs reads a table in canonical columns: every filled row is a signal, every cell is taken as
// it is written, and a column that is there speaks even where its cell is empty.
func (r *reader) readOurs(t *table) {
	s := &r.book.Sheets[t.sheet]
	for row := t.first; row <= t.last; row++ {
		d := r.newDraft(t.sheet, row)
		d.ours = true
		filled, lost := false, false
		for _, c := range t.columns {
			if t.issued && strings.EqualFold(c.heading, "state") {
				lost = strings.HasPrefix(s.Text(row, c.index), "unplaced")
			}
			i, ok := columnNo[string(c.role)]
			if !ok {
				continue
			}
			text := s.Text(row, c.index)
			filled = filled || strings.TrimSpace(text) != ""
			d.put(i, text, int16(c.index+1))
			if c.role == "tag" {
				d.tagCol = c.index
			}
		}
		if !filled {
			continue
		}
		key := rowKey{t.sheet, row}
		r.rows[key] = &rowFate{}
		r.doneRows = append(r.doneRows, key)
		r.res.Rows++
		if lost && d.get("kind") == "" && d.get("place") == "" { // the list that was planned has the row, and its fault
			r.rows[key].leftOut = true
			r.res.LeftOut++
			r.assume("IMP-027", r.at(t.sheet, address(row, max(d.tagCol, 0))), 0.99, "left out: the project's own row is faulty and was issued without its cells")
			continue
		}
		d.base = strings.TrimSpace(d.get("tag"))
		r.keep(d)
	}
}

var (
	wSpare   = phrases("spare, reserve, reserva, spares, spare channel, spare point, spare di, spare do, spare ai, spare ao, frei, reserve kanal, libre, not used, unused, nicht belegt, unbelegt, non utilise, no utilizado, future, future use, kunftig, spare for future, disponible, leer, reserved, reserviert, future spare, installed spare")
	wDeleted = phrases("deleted, delete, del, removed, cancelled, canceled, entfallt, entfallen, geloscht, gestrichen, supprime, supprimee, annule, annulee, eliminado, anulado, borrado, void, not required, withdrawn, suprimido, obsolete, out of scope, n r")
)

// leftOut says why a row is no signal on purpose; "" where it is one.
func (rec *record) leftOut() string {
	tag, ti := rec.get("tag")
	desc := rec.text("description")
	fd := fold(desc)
	if inList(fold(tag), wSpare) || inList(fd, wSpare) || strings.HasPrefix(fd, "spare ") && tag == "" || fd == "" && strings.HasPrefix(fold(tag), "spare") {
		return "spare"
	}
	if tag == "" && desc == "" && inList(fold(rec.text("remarks")), wSpare) {
		return "spare"
	}
	for _, ro := range []role{roleStatus, roleRevision, "hold", "remarks", "description", "tag"} {
		for _, t := range rec.all(ro) {
			f := fold(t)
			if inList(f, wDeleted) || ro != "description" && ro != "tag" && len(f) < 40 && hasAny(f, wDeleted[:3]) && !strings.Contains(f, "not ") {
				return "the row says " + quoted(t)
			}
		}
	}
	if ti >= 0 && rec.s.look(rec.row, rec.t.columns[ti].index).Struck {
		return "the tag is struck through"
	}
	return ""
}

// tag reads the tag: one column, or the parts of several.
func (rec *record) tag(d *draft, st *tableState) {
	tag, i := rec.get("tag")
	if parts := rec.by[roleTagPart]; len(parts) >= 2 && tag == "" {
		var out []string
		for _, p := range parts {
			if t := rec.texts[p]; t != "" && !isDash(t) {
				out = append(out, strings.Trim(t, "- "))
			}
		}
		tag, i = strings.Join(out, "-"), parts[0]
	}
	if i >= 0 {
		d.tagCol = rec.t.columns[i].index
	}
	if sy := rec.text(roleSymbol); tag == "" && sy != "" {
		tag, i = rec.get(roleSymbol)
		d.tagCol = rec.t.columns[i].index
	}
	if id, j := rec.get("id"); j >= 0 && !isPlaceholder(id) {
		d.set("id", nameText(id), rec.t.columns[j].index)
	}
	switch {
	case tag != "":
	case st.tagged:
		tag, i = rec.tagInText(d)
	case st.atEnd:
		tag, i = rec.tagBehindText(d)
	}
	d.base = tag
	if i >= 0 && rec.cellKind(i) == CellDate {
		rec.fault(d, i, "IMP-034", fmt.Sprintf("the tag is the date %s: a spreadsheet has probably turned a tag such as 1-2 into it", tag), "Type the tag again with the cell formatted as text.")
	}
	if i >= 0 && rec.cellKind(i) == CellFault {
		rec.r.warn("IMP-038", rec.where(i), "the tag's cell shows the error "+tag, "Mend the formula, or type the tag.")
	}
	if tag == "" || openTag(tag) {
		d.open = true
		return
	}
	clean := nameText(tag)
	if clean != tag {
		rec.r.assume("IMP-036", rec.where(i), 0.9, "tag %s is written %s: commas and semicolons cannot stand in a name", quoted(tag), quoted(clean))
	}
	col := 0
	if i >= 0 {
		col = rec.t.columns[i].index
	}
	d.set("tag", clean, col)
}

// tagInText takes the tag out of a description that begins with it, in lists without a tag column:
// "PT-101 discharge pressure".
func (rec *record) tagInText(d *draft) (string, int) {
	desc, i := rec.get("description")
	first, rest, ok := strings.Cut(desc, " ")
	first = strings.TrimRight(first, ":,;")
	if i < 0 || !ok || len(first) < 4 || !look(first).tag || strings.ToUpper(first) != first || strings.TrimSpace(rest) == "" {
		return "", -1
	}
	d.tagCol = rec.t.columns[i].index
	rec.say(d, i, "IMP-037", 0.8, "the tag %s is taken from the beginning of the description", first)
	return first, i
}

// tagBehindText takes the tag from the end of a description: "Coolant pressure PT-1".
func (rec *record) tagBehindText(d *draft) (string, int) {
	desc, i := rec.get("description")
	at := strings.LastIndexByte(desc, ' ')
	if i < 0 || at < 0 {
		return "", -1
	}
	tag := strings.Trim(desc[at+1:], "()[]:,;")
	if len(tag) < 3 || !look(tag).tag || strings.ToUpper(tag) != tag {
		return "", -1
	}
	d.tagCol = rec.t.columns[i].index
	rec.say(d, i, "IMP-037", 0.8, "the tag %s is taken from the end of the description", tag)
	return tag, i
}

// openTag reports whether a tag is a placeholder. "0" and "-" are, and anything with a question mark.
func openTag(t string) bool {
	f := strings.ToLower(t)
	return isPlaceholder(t) || f == "0" || f == "x" || strings.Contains(t, "?") || strings.Contains(f, "xxx") || strings.HasPrefix(t, "#") && strings.HasSuffix(t, "!") ||
		strings.HasPrefix(f, "tba") && len(f) < 8 || strings.HasPrefix(f, "tbd") && len(f) < 8 || strings.HasPrefix(f, "tbc") && len(f) < 8
}

// names reads description, place, equipment, device and the like.
func (rec *record) names(d *draft) {
	r := rec.r
	var desc []string
	for _, i := range rec.by["description"] {
		if t := rec.texts[i]; t != "" && !isDash(t) && !contains(desc, t) {
			desc = append(desc, t)
		}
	}
	if len(desc) > 0 {
		_, i := rec.get("description")
		d.set("description", strings.Join(desc, ", "), rec.t.columns[i].index)
	}
	if fn := rec.text(roleFunction); fn != "" && !isPlaceholder(fn) {
		d.fn = fn
	}
	named := func(column string, ro role) {
		t, i := rec.get(ro)
		if i < 0 || isPlaceholder(t) {
			return
		}
		d.fill(column, nameText(t), rec.t.columns[i].index)
	}
	named("device", "device")
	named("equipment", "equipment")
	named("cable", "cable")
	named("segregate", "segregate")
	if d.get("equipment") == "" && rec.ctx.equipment != "" {
		d.set("equipment", rec.ctx.equipment, max(d.tagCol, 0))
	}
	if t, i := rec.get("redundant_with"); i >= 0 && !isPlaceholder(t) && look(t).tag {
		d.set("redundant_with", t, rec.t.columns[i].index)
	} else if i >= 0 && !isPlaceholder(t) && !isNo(t) {
		d.remark("redundancy: " + t)
	}
	r.place(rec, d)
	if lp, i := rec.get(roleLoop); i >= 0 && !isPlaceholder(lp) && lp != d.base && d.get("device") == "" && look(lp).tag {
		d.set("device", nameText(lp), rec.t.columns[i].index)
	}
	rec.classes(d)
}

func contains(list []string, s string) bool {
	for _, l := range list {
		if strings.EqualFold(l, s) {
			return true
		}
	}
	return false
}

func isNo(t string) bool {
	switch strings.ToLower(t) {
	case "no", "n", "nein", "non", "0", "false", "falsch", "none", "keine", "-":
		return true
	}
	return false
}

func isYes(t string) bool {
	switch strings.ToLower(t) {
	case "yes", "y", "ja", "j", "oui", "o", "si", "sí", "s", "true", "wahr", "1":
		return true
	}
	return isMark(t)
}

// classes reads supply class, screen, HART, safe state and safety.
func (rec *record) classes(d *draft) {
	if t, i := rec.get("supply_class"); i >= 0 && !isPlaceholder(t) {
		f := fold(t)
		col := rec.t.columns[i].index
		switch {
		case hasAny(f, wUPS) || isYes(t):
			d.set("supply_class", "ups", col)
		case isNo(t) || hasAny(f, wNormal):
		case strings.HasPrefix(strings.ToLower(t), "safety:"):
			d.set("supply_class", strings.TrimSpace(t), col)
		default:
			d.remark("supply: " + t)
		}
	}
	if t, i := rec.get("screen"); i >= 0 && !isPlaceholder(t) {
		switch {
		case isYes(t) || hasAny(fold(t), wScreened):
			d.set("screen", "yes", rec.t.columns[i].index)
		case isNo(t):
			d.set("screen", "no", rec.t.columns[i].index)
		default:
			d.remark("screen: " + t)
		}
	}
	if t, i := rec.get("hart"); i >= 0 && !isPlaceholder(t) && (isYes(t) || strings.Contains(strings.ToLower(t), "hart")) {
		d.set("hart", "yes", rec.t.columns[i].index)
	}
	if t := rec.text(roleSafety); t != "" && !isPlaceholder(t) && !isNo(t) {
		d.remark("safety: " + t)
	}
}

var (
	wUPS      = phrases("ups, usv, sai, onduleur, battery, batterie, bateria, uninterruptible, gesichert, secured")
	wNormal   = phrases("normal, mains, netz, reseau, red, standard, general")
	wScreened = phrases("screened, shielded, geschirmt, blinde, apantallado, screen, oscr, iscr, is os, individual, overall")
)

// remarks collects what has no column of its own, and holds.
func (rec *record) remarks(d *draft) {
	for _, t := range rec.all("remarks") {
		if isPlaceholder(t) && !isOpen(t) {
			continue
		}
		d.remark(t)
		if f := fold(t); hasAny(f, wHold) || f == "tbc" || f == "tbd" {
			d.hold(t)
		}
	}
	for _, i := range rec.by[roleNote] {
		if t := rec.texts[i]; t != "" && !isPlaceholder(t) && rec.t.columns[i].heading != "" {
			d.remark(rec.t.columns[i].heading + ": " + t)
		}
	}
	if t := rec.text("hold"); t != "" && !isNo(t) && (!isPlaceholder(t) || isOpen(t)) {
		switch {
		case isYes(t) || strings.EqualFold(t, "hold"):
			d.hold("on hold in the list")
		default:
			d.hold(t)
		}
	}
	if t := rec.text(roleStatus); t != "" && !isPlaceholder(t) {
		if f := fold(t); hasAny(f, wHold) {
			d.hold(t)
		} else if !hasAny(f, wPlainStatus) {
			d.remark("status: " + t)
		}
	}
	if t := rec.text(roleRevision); t != "" && !isPlaceholder(t) {
		d.revised = t
		d.remark("rev " + t)
	}
	for _, kept := range []struct {
		ro   role
		name string
	}{{roleOldTag, "old tag"}, {roleBox, "junction box"}, {rolePanel, "panel"}, {roleSetpoint, "setpoint"}, {roleAlarmLL, "alarm low low"}, {roleAlarmHH, "alarm high high"}} {
		if t := rec.text(kept.ro); t != "" && !isPlaceholder(t) && t != d.base {
			d.remark(kept.name + " " + t)
		}
	}
	if sy := rec.text(roleSymbol); sy != "" && sy != d.base && !isPlaceholder(sy) {
		d.remark("symbol " + sy)
	}
	if m := rec.colourMeaning(); m != "" {
		d.remark("colour in the list: " + m)
		if hasAny(fold(m), wHold) {
			d.hold("list's colour says " + m)
		}
	}
}

var (
	wHold        = phrases("hold, on hold, tbc, tbd, tba, to be confirmed, to be defined, to be advised, zu klaren, offen, noch offen, in klarung, a confirmer, a definir, por confirmar, por definir, pendiente, preliminary, vorlaufig, provisoire, preliminar, vendor to confirm, to confirm")
	wPlainStatus = phrases("ok, new, existing, active, issued, approved, neu, bestand, nouveau, existant, nuevo, existente, valid, afc, ifc, live, installed, x")
)

// fault reports an error in a cell and condemns the row.
func (rec *record) fault(d *draft, i int, rule, msg, remedy string) {
	rec.r.res.Findings = append(rec.r.res.Findings, problem(rule, finding.Error, rec.where(i), d.subject(), msg, remedy))
	d.faults = append(d.faults, msg)
}

// doubt reports a warning on a cell.
func (rec *record) doubt(d *draft, i int, rule, msg, remedy string) {
	rec.r.res.Findings = append(rec.r.res.Findings, problem(rule, finding.Warning, rec.where(i), d.subject(), msg, remedy))
}

func (r *reader) warn(rule string, at finding.Where, msg, remedy string) {
	r.res.Findings = append(r.res.Findings, problem(rule, finding.Warning, at, "project", msg, remedy))
}

// say reports an assumption about one row; high confidence is counted together, low is told row by
// row.
func (rec *record) say(d *draft, i int, rule string, sure float64, format string, args ...any) {
	if sure >= 0.85 {
		rec.r.assume(rule, rec.where(i), sure, format, args...)
		return
	}
	rec.r.res.Findings = append(rec.r.res.Findings, info(rule, rec.where(i), d.subject(), sure, fmt.Sprintf(format, args...)))
}

// place finds where the device stands: its column, the section, a junction box or panel, the option.
func (r *reader) place(rec *record, d *draft) {
	use := func(t string, col int) {
		id := r.placeID(t)
		switch {
		case id != "":
			if id != t {
				r.assume("IMP-065", r.at(d.sheet, address(d.row, max(col, 0))), 0.9, "place %s is the project's %s", quoted(t), id)
			}
			d.set("place", id, col)
		default:
			d.set("place", nameText(t), col)
		}
	}
	if t, i := rec.get("place"); i >= 0 && !isPlaceholder(t) && !inList(fold(t), wNoPlace) {
		if _, ok := parseNumber(t, stylePoint); ok && len(t) <= 6 && r.placeID(t) == "" {
			// "Area" over 20: the number alone would say little.
			words := strings.Split(rec.t.columns[i].heading, " / ")
			t = firstWord(words[len(words)-1]) + " " + t
		}
		use(t, rec.t.columns[i].index)
		return
	}
	if rec.ctx.place != "" {
		use(rec.ctx.place, max(d.tagCol, 0))
		return
	}
	order := []role{roleBox, rolePanel}
	if _, i := rec.get(roleBox); i >= 0 && inList(firstOf(fold(rec.t.columns[i].heading)), wTo) {
		order = []role{rolePanel, roleBox}
	}
	for _, ro := range order {
		if t, i := rec.get(ro); i >= 0 && !isPlaceholder(t) {
			use(t, rec.t.columns[i].index)
			sure := 0.85
			if inList(firstOf(fold(rec.t.columns[i].heading)), wTo) {
				sure = 0.6
			}
			rec.r.assume("IMP-037", rec.where(i), sure, "no place is given; the %s stands for it", strings.ReplaceAll(string(ro), "_", " "))
			return
		}
	}
	if r.opt.Place != "" {
		d.set("place", r.opt.Place, max(d.tagCol, 0))
		return
	}
	if st := rec.ctx.station; st != "" {
		use(st, max(d.tagCol, 0))
		rec.r.assume("IMP-037", rec.where(-1), 0.7, "no place is given; the station's name %s stands for it", quoted(st))
	}
}

// wNoPlace are words that say only that a device is not in the panel.
var wNoPlace = phrases("field, feld, terrain, campo, local, site, fld, im feld, vor ort, sur site, en campo, field mounted, plant")

func firstWord(s string) string {
	w, _, _ := strings.Cut(strings.TrimSpace(s), " ")
	return strings.Trim(w, ".:,;")
}

// placeID returns the project's place that a text names, by id or name, or "".
func (r *reader) placeID(text string) string {
	f := fold(text)
	if f == "" {
		return ""
	}
	for _, p := range r.opt.Places {
		if p.ID == text {
			return p.ID
		}
	}
	found := ""
	for _, p := range r.opt.Places {
		if fold(p.ID) == f || fold(p.Name) == f {
			if found != "" && found != p.ID {
				return ""
			}
			found = p.ID
		}
	}
	return found
}

// positions reads rack, slot, channel, address and station.
func (rec *record) positions(d *draft) {
	read := func(ro role) string {
		t, i := rec.get(ro)
		if i < 0 || isPlaceholder(t) && t != "0" {
			return ""
		}
		d.posCol = rec.t.columns[i].index
		return t
	}
	d.rack, d.slot, d.channel, d.address = read(roleRack), read(roleSlot), read(roleChannel), read(roleAddress)
	d.panel = rec.text(rolePanel)
	if d.station = read("station"); d.station == "" {
		d.station = rec.ctx.station
	}
}

// kinded is a draft with what is known about its kind.
type kinded struct {
	d    *draft
	kind project.Kind
	ev   *evidence
	tr   traits
}
