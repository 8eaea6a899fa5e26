package words

var germanExplain = map[string]string{
	"explain.on": "Spannung am Eingang, Schalter zu", "explain.off": "Strom für 0, der neben dem Leckstrom bleibt", "explain.device": "niedrigste Spannung am Gerät",
	"explain.coupled": "Spannung, die die offene Leitung am Eingang lässt", "explain.transmitter": "Spannung für den Messumformer bei 22 mA", "explain.hart_r": "Widerstand der Schleife",
	"explain.hart_rc": "Zeitkonstante der Schleife, höchstens 65 us für HART", "explain.error": "Anteil des Signals, der unterwegs verloren geht", "explain.load": "Last",
	"explain.load_signal": "Widerstand, den der Ausgang treibt", "explain.load_group": "Last der Gruppe, alles zugleich ein", "explain.load_supply": "Last der Speisung",
	"explain.lead_error": "Fehler der Temperatur durch die Leitung", "explain.lead": "Leitungswiderstand, der zählt", "explain.cold_junction": "Fehler der Temperatur durch die Vergleichsstelle",
	"explain.f_max": "höchste Frequenz, die die Leitung durchlässt", "explain.rise": "Zeit, in der die Leitung auf 1 lädt", "explain.fall": "Zeit, in der die Leitung auf 0 entlädt",
	"explain.exi_c": "Kapazität des eigensicheren Kreises", "explain.exi_l": "Induktivität des eigensicheren Kreises", "explain.resolution": "ein Rohschritt in der Einheit des Signals",
	"explain.module_error": "Fehler des Moduls bei seiner Temperatur, in der Einheit des Signals", "explain.reaction": "Reaktionszeit im schlechtesten Fall",
	"explain.voltage": "niedrigste Spannung an der Einspeisung", "explain.current": "Strom der Zuleitung", "explain.unit_input": "Eingangsstrom der Netzgeräte bei voller Leistung",
	"explain.at_load": "Spannung am Ende der Zuleitung", "explain.drop_percent": "Spannungsfall der Zuleitung", "explain.ampacity": "zulässiger Strom der Leiter, wie verlegt (Iz)",
	"explain.ambient_factor": "Faktor für die Luft um die Leiter", "explain.i2": "Strom, der in der festgelegten Zeit sicher auslöst (I2)", "explain.i2_max": "größter I2, den die Leiter tragen",
	"explain.trip": "Strom, der sicher sofort auslöst", "explain.holds": "Strom, bis zu dem das Gerät kurz hält", "explain.inrush": "Einschaltstrom der Netzgeräte zusammen",
	"explain.fault_min": "kleinster Fehlerstrom", "explain.fault_max": "größter Fehlerstrom", "explain.loop_before": "Fehlerschleife bis zur Station",
	"explain.fault_end": "kleinster Fehlerstrom am fernen Ende des Feldkabels", "explain.fault_loop": "Fehlerschleife bis zur Einspeisung der Gruppe",
	"explain.feeder_end": "niedrigste Spannung am Ende der Zuleitung", "explain.survives": "kleinster Leiter, der den Fehler übersteht",
	"explain.glands": "Platz der Verschraubungen", "explain.gland_share": "belegter Anteil der Flanschplatte", "explain.life": "Lebensdauer des Kontakts",
	"explain.least_load": "Widerstand für den kleinsten Strom des Schalters", "explain.leak": "Strom durch die Last bei gesperrtem Ausgang",
	"explain.length": "Länge des Busses von Ende zu Ende",
	"explain.logic":  "Logikstrom der Module", "explain.logic_at_supply": "Logikstrom aus Sicht der Versorgung", "explain.input_bytes": "Bytes zur Steuerung", "explain.output_bytes": "Bytes von der Steuerung",
	"explain.rail": "Länge auf der Schiene", "explain.heat": "Verluste im Gehäuse, alle Lasten ein", "explain.surface": "wirksame Oberfläche des Gehäuses",
	"explain.inside_max": "Luft innen bei höchster Umgebungstemperatur", "explain.inside_limit": "was die Teile innen in dieser Höhe erlauben", "explain.sun": "Wärme durch die Sonne",
	"explain.front": "besonnte Fläche", "explain.heat_in_sun": "Verluste und Sonne", "explain.inside_in_sun": "Luft innen in der Sonne", "explain.inside_min": "Luft innen bei niedrigster Umgebungstemperatur, Module in Ruhe",
	"explain.dry": "Innentemperatur, die die Luft trocken genug hält", "explain.heater": "nötige Heizung", "explain.input_load": "Last der Strecke zur Steuerung", "explain.output_load": "Last der Strecke von der Steuerung",
	"explain.need": "Strom, den die Netzgeräte geben müssen", "explain.output": "Strom eines Netzgeräts bei der Umgebung des Ortes", "explain.units": "Geräte", "explain.power": "Leistung an die Lasten",
	"explain.loss": "Verluste der Netzgeräte", "explain.short": "Strom der Netzgeräte in einen Kurzschluss", "explain.hold_up": "Zeit ohne Netz, die überbrückt wird", "explain.output_inside": "Strom eines Netzgeräts in der Luft innen",
	"explain.route": "Weg entlang der Trassen", "explain.laid": "Länge, wie verlegt", "explain.ordered": "Länge zu kaufen", "explain.loop": "Widerstand beider Adern, warm", "explain.r20": "größter Widerstand einer Ader bei 20 °C, bei einem Querschnitt ohne Tabelle", "explain.hot": "Widerstand einer Ader, warm",
	"explain.cold": "Widerstand einer Ader, kalt", "explain.at_temperature": "Widerstand einer Ader bei ihrer Temperatur", "explain.low": "niedrigste Netzspannung", "explain.high": "höchste Netzspannung",
	"explain.bytes": "Bytes aller Stationen", "explain.cycle": "Zyklus des Busses", "explain.input_bits": "Bits der Telegramme der Station zur Steuerung", "explain.output_bits": "Bits der Telegramme zur Station", "explain.bits": "Bits aller Telegramme je Aktualisierung", "explain.kept": "Aktualisierungszeit, die das Netzwerk einhält", "explain.bus_load": "Last des Busses",
	"explain.input_resistance": "Widerstand des Eingangs bei 0", "explain.steps": "Rohwerte, die die Auflösung unterscheidet", "explain.k_outdoors": "Wärmedurchgang der Wand im Wind", "explain.48": "niedrigste Spannung der 48-V-Geräte",
	"explain.cost": "Kosten einer Klasse von Teilen oder Arbeit", "explain.total": "Kosten des Entwurfs", "explain.constant": "Kosten, die keine Wahl der Orte ändert", "explain.objective": "was die Suche klein gemacht hat",
	"explain.gap": "wie weit der Entwurf vom besten sein kann",
}

// germanHeads are the names of the columns of schedules. Machines read the English ones.
var germanHeads = map[string]string{
	"item": "Angabe", "value": "Wert", "id": "Id", "signal_id": "Signal-Id", "tag": "Kennzeichen", "name": "Name", "description": "Beschreibung", "kind": "Art", "form": "Form", "place": "Ort",
	"device": "Gerät", "equipment": "Anlagenteil", "range_low": "Bereich von", "range_high": "Bereich bis", "unit": "Einheit", "alarm_low": "Alarm tief", "alarm_high": "Alarm hoch",
	"contact": "Kontakt", "active": "aktiv", "wires": "Leiter", "sensor": "Fühler", "safe_state": "sicherer Zustand", "supply_class": "Versorgungsklasse", "hold": "offen", "remarks": "Bemerkungen",
	"station": "Station", "station_id": "Stations-Id", "slot": "Platz", "slots": "Plätze", "module": "Modul", "modules": "Module", "base": "Sockel", "channel": "Kanal", "channels": "Kanäle", "address": "Adresse",
	"terminal": "Klemme", "terminals": "Klemmen", "function": "Funktion", "supply_group": "Versorgungsgruppe", "group": "Gruppe", "cable": "Kabel", "cable_id": "Kabel-Id", "core": "Ader", "cores": "Adern",
	"mark": "Marke", "area_mm2": "Querschnitt, mm²", "ferrule_colour": "Hülsenfarbe", "ferrule": "Hülse", "strip_mm": "abisolieren, mm", "far_point": "Gegenstelle", "from": "von", "to": "nach",
	"from_point": "von", "to_point": "nach", "length_m": "Länge, m", "order_m": "bestellen, m", "route": "Weg", "signals": "Signale", "use": "Verwendung", "type": "Typ", "spare_cores": "Reserveadern",
	"gland": "Verschraubung", "drum": "Trommel", "cut": "Schnitt", "cuts": "Schnitte", "pull_order": "Zugfolge", "pull": "Zug", "order": "Folge", "way": "Weg", "hub": "Knoten", "far_end": "fernes Ende",
	"bend_mm": "Biegeradius, mm", "title": "Bezeichnung", "drum_m": "Trommel, m", "made_to_length": "nach Maß", "used_m": "benutzt, m", "left_m": "Rest, m", "mass_kg": "Masse, kg", "from_m": "von, m", "to_m": "bis, m",
	"cut_m": "Schnitt, m", "laid_m": "verlegt, m", "code": "Code", "class": "Klasse", "count": "Zahl", "spare": "Reserve", "price": "Preis", "sum": "Summe", "total": "Summe", "for": "für", "task": "Arbeit",
	"load_ma": "Last, mA", "limit_ma": "Grenze, mA", "need_ma": "Bedarf, mA", "protection": "Schutzgerät", "protects": "schützt", "rating_a": "Nennstrom, A", "load_a": "Last, A", "feeder": "Zuleitung",
	"voltage_v": "Spannung, V", "current_a": "Strom, A", "drop_v": "Spannungsfall, V", "coupler": "Koppler", "profile": "Profil", "node": "Knoten", "update_ms": "Aktualisierung, ms", "input_bytes": "Eingangsbytes",
	"output_bytes": "Ausgangsbytes", "first_input_byte": "erstes Eingangsbyte", "first_output_byte": "erstes Ausgangsbyte", "rule": "Regel", "severity": "Schwere", "subject": "Gegenstand", "where": "wo",
	"message": "Meldung", "figures": "Zahlen", "remedy": "Abhilfe", "source": "Quelle", "calculation": "Rechnung", "why": "warum", "proof": "Beweis", "of": "von", "change": "Änderung", "column": "Spalte",
	"before": "vorher", "now": "jetzt", "row_revision": "Zeilenrevision", "modbus_table": "Modbus-Tabelle", "modbus_number": "Modbus-Nummer", "filter_ms": "Filter, ms", "wire_break": "Drahtbruch", "raw_low": "roh von",
	"raw_high": "roh bis", "hart": "HART", "at": "an", "infeed": "Einspeisung", "reason": "Grund", "construction": "Bauweise", "enclosure": "Gehäuse", "rail_mm": "Schiene, mm", "heat_w": "Wärme, W", "end_piece": "Endstück",
}

// Head returns the name of a schedule's column in the language; "" where it has none.
func (l Language) Head(name string) string {
	if l == German {
		return germanHeads[name]
	}
	return ""
}
