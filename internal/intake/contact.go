package intake

// contactCell reads a cell of a column of normal positions. Unlike free text such a cell may say
// "NA" (French normalement... Spanish normalmente abierto), "open", "0" or a word alone.
func contactCell(t string) (string, bool) {
	if c, ok := contactWord(t); ok {
		return c, true
	}
	switch fold(t) {
	case "no", "n o", "open", "offen", "make", "ouvert", "abierto", "na", "n a", "a", "schliesser", "schl", "s", "1s", "arbeitskontakt", "form a", "nor open":
		return "NO", true
	case "nc", "n c", "closed", "close", "geschlossen", "zu", "break", "ferme", "cerrado", "nf", "n f", "offner", "oe", "o", "1o", "ruhekontakt", "form b", "nor closed", "failsafe", "fail safe":
		return "NC", true
	case "no nc", "nc no", "co", "spdt", "wechsler", "change over", "changeover", "inverseur", "conmutado", "form c":
		return "", true // both: the contact can be wired either way
	}
	return "", false
}
