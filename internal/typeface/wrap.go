package typeface

import "strings"

// Wrap breaks a text into lines no wider than widthMM: at spaces and line ends, after hyphens, slashes and
// commas, and inside a word only where the word alone is too wide. It always returns at least one line.
func Wrap(s Style, text string, sizeMM, widthMM float64) []string {
	var lines []string
	for _, paragraph := range strings.Split(text, "\n") {
		lines = append(lines, wrapLine(s, paragraph, sizeMM, widthMM)...)
	}
	return lines
}

func wrapLine(s Style, text string, sizeMM, widthMM float64) []string {
	if fits(s, text, sizeMM, widthMM) {
		return []string{strings.TrimRight(text, " ")}
	}
	var lines []string
	line := ""
	for _, piece := range Pieces(text) {
		if fits(s, line+piece, sizeMM, widthMM) {
			line += piece
			continue
		}
		if strings.TrimSpace(line) != "" {
			lines = append(lines, strings.TrimRight(line, " "))
		}
		line = strings.TrimLeft(piece, " ")
		for !fits(s, line, sizeMM, widthMM) {
			n := cut(s, line, sizeMM, widthMM)
			lines = append(lines, line[:n])
			line = line[n:]
		}
	}
	return append(lines, strings.TrimRight(line, " "))
}

// Pieces splits a text after each place where Wrap may end a line.
func Pieces(text string) []string {
	var out []string
	from := 0
	for i := range len(text) {
		switch text[i] {
		case ' ', '-', '/', ',', '_':
			out = append(out, text[from:i+1])
			from = i + 1
		}
	}
	if from < len(text) {
		out = append(out, text[from:])
	}
	return out
}

func fits(s Style, line string, sizeMM, widthMM float64) bool {
	return Width(s, strings.TrimRight(line, " "), sizeMM) <= widthMM
}

// cut returns how many bytes of a word fit, at least its first sign.
func cut(s Style, word string, sizeMM, widthMM float64) int {
	last := 0
	for i, r := range word {
		end := i + len(string(r))
		if last > 0 && !fits(s, word[:end], sizeMM, widthMM) {
			break
		}
		last = end
	}
	return last
}

// Clip shortens a text to widthMM, with "…" where something was left out. Use it only where the whole
// text stands elsewhere on the sheet.
func Clip(s Style, text string, sizeMM, widthMM float64) string {
	if Width(s, text, sizeMM) <= widthMM {
		return text
	}
	runes := []rune(text)
	for n := len(runes) - 1; n > 0; n-- {
		if short := string(runes[:n]) + "…"; Width(s, short, sizeMM) <= widthMM {
			return short
		}
	}
	return ""
}

// Shrink returns the largest size, from sizeMM down to leastMM, at which the text fits widthMM on one
// line, and whether it does.
func Shrink(s Style, text string, sizeMM, leastMM, widthMM float64) (float64, bool) {
	w := Width(s, text, sizeMM)
	if w <= widthMM {
		return sizeMM, true
	}
	size := sizeMM * widthMM / w * 0.999
	if size < leastMM {
		return leastMM, false
	}
	return size, true
}
