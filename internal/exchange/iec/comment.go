package iec

import (
	"fmt"
	"strconv"
	"strings"
)

// Comment is what stands in a variable's comment: the tag as the list has it, then the notes, with bars between.
func Comment(v Variable) string { return joined(v, escape) }

// Documentation is the same for formats that hold any character.
func Documentation(v Variable) string { return joined(v, mark) }

func joined(v Variable, written func(string) string) string {
	var parts []string
	if v.Tag != "" {
		parts = append(parts, written(v.Tag))
	}
	for _, n := range v.Notes {
		parts = append(parts, written(n))
	}
	return strings.Join(parts, " | ")
}

// TagOf returns the tag that a comment or documentation keeps.
func TagOf(comment string) string {
	tag, _, _ := strings.Cut(comment, " | ")
	return Unescape(strings.TrimSpace(tag))
}

// mark writes only what would split the parts of a documentation or vanish in it.
func mark(text string) string {
	var b strings.Builder
	for i, r := range text {
		if r < 0x20 || r == 0x7f || r == '|' || r == '<' && strings.HasPrefix(text[i:], "<U+") {
			fmt.Fprintf(&b, "<U+%04X>", r)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// Comments of the file are plain ASCII on one line, since compilers differ in what else they take and in whether
// comments nest. escape writes every other character, and those that would end or begin a comment or
// split its parts, as <U+00FC>, so that the reader gets the text back.
func escape(text string) string {
	var b strings.Builder
	var last rune
	for i, r := range text {
		switch {
		case r < 0x20, r > 0x7e, r == '|',
			r == '*' && (last == '(' || strings.HasPrefix(text[i+1:], ")") || i == 0 || i == len(text)-1),
			r == '<' && strings.HasPrefix(text[i:], "<U+"):
			fmt.Fprintf(&b, "<U+%04X>", r)
		default:
			b.WriteRune(r)
		}
		last = r
	}
	return b.String()
}

// Unescape undoes what comments write for characters that they cannot hold.
func Unescape(text string) string {
	var b strings.Builder
	for {
		i := strings.Index(text, "<U+")
		if i < 0 {
			b.WriteString(text)
			return b.String()
		}
		b.WriteString(text[:i])
		end := strings.IndexByte(text[i:], '>')
		if end < 0 {
			b.WriteString(text[i:])
			return b.String()
		}
		n, err := strconv.ParseUint(text[i+3:i+end], 16, 32)
		if err != nil || n > 0x10ffff {
			b.WriteString(text[i : i+3])
			text = text[i+3:]
			continue
		}
		b.WriteRune(rune(n))
		text = text[i+end+1:]
	}
}
