package tabular

// startsFormula reports whether spreadsheets may run a text that begins like this.
func startsFormula(c byte) bool {
	return c == '=' || c == '+' || c == '-' || c == '@' || c == '\t' || c == '\r'
}

// afterApostrophes returns the offset of the first byte that is no apostrophe, and whether a
// formula may begin there.
func afterApostrophes[T string | []byte](t T) (int, bool) {
	i := 0
	for i < len(t) && t[i] == '\'' {
		i++
	}
	return i, i < len(t) && startsFormula(t[i])
}

// apostrophe returns the text as CSV may hold it; see the package comment for the rule.
func apostrophe(t string) string {
	i, danger := afterApostrophes(t)
	if !danger || i == 0 && plainNumber(t) {
		return t
	}
	return "'" + t
}

// undoApostrophe takes off what apostrophe put on.
func undoApostrophe(t []byte) []byte {
	if i, danger := afterApostrophes(t); danger && i > 0 {
		return t[1:]
	}
	return t
}

// undoFormulaText reads ="007", which some programs write to keep zeros, as 007.
func undoFormulaText(t []byte) []byte {
	if n := len(t); n >= 4 && t[0] == '=' && t[1] == '"' && t[n-1] == '"' {
		in := t[2 : n-1]
		for _, c := range in {
			if c == '"' {
				return t
			}
		}
		return in
	}
	return t
}

// plainNumber reports whether t is a sign, digits, and at most one point and exponent.
func plainNumber(t string) bool {
	i := 0
	if i < len(t) && (t[i] == '-' || t[i] == '+') {
		i++
	}
	digits := func() int {
		from := i
		for i < len(t) && t[i] >= '0' && t[i] <= '9' {
			i++
		}
		return i - from
	}
	if digits() == 0 {
		return false
	}
	if i < len(t) && t[i] == '.' {
		if i++; digits() == 0 {
			return false
		}
	}
	if i < len(t) && (t[i] == 'e' || t[i] == 'E') {
		if i++; i < len(t) && (t[i] == '-' || t[i] == '+') {
			i++
		}
		if digits() == 0 {
			return false
		}
	}
	return i == len(t)
}
