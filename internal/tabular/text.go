package tabular

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// readText reads a file that is text: Markdown tables or CSV.
func readText(name string, data []byte, opt Options) (*Book, error) {
	text, enc, err := decodeText(data)
	if err != nil {
		return nil, &Error{Kind: ErrDamaged, File: name, What: err.Error(), Remedy: "save it again as CSV in UTF-8"}
	}
	if i := bytes.IndexByte(text, 0); i >= 0 {
		line := 1 + bytes.Count(text[:i], []byte("\n"))
		return nil, &Error{
			Kind: ErrFormat, File: name, What: fmt.Sprintf("line %d holds a zero byte, so this is not a text file", line),
			Remedy: "give the list as .xlsx, .ods or .csv",
		}
	}
	if i := control(text); i >= 0 {
		line := 1 + bytes.Count(text[:i], []byte("\n"))
		return nil, &Error{
			Kind: ErrFormat, File: name, What: fmt.Sprintf("line %d is not text (byte 0x%02X); many such bytes follow", line, text[i]),
			Remedy: "give the list as .xlsx, .ods or .csv",
		}
	}
	if head := bytes.ToLower(bytes.TrimSpace(text[:min(len(text), 512)])); bytes.HasPrefix(head, []byte("<")) &&
		(bytes.Contains(head, []byte("<html")) || bytes.Contains(head, []byte("<table")) || bytes.Contains(head, []byte("<?xml"))) {
		return nil, &Error{
			Kind: ErrFormat, File: name, What: "this is a web page or XML, whatever its name says",
			Remedy: "open it in a spreadsheet program and save it as .xlsx",
		}
	}
	if looksMarkdown(name, text) {
		return readMarkdown(name, text, enc)
	}
	return readCSV(name, text, enc, opt)
}

// decodeText turns a file's bytes into UTF-8 without byte order mark and names the encoding. What
// is neither marked nor valid UTF-8 is taken as Windows-1252.
func decodeText(data []byte) ([]byte, string, error) {
	via := func(e encoding.Encoding, label string) ([]byte, string, error) {
		if label != "Windows-1252" && len(data)%2 == 1 {
			return nil, label, fmt.Errorf("the %s file is cut off: it has an odd number of bytes", label)
		}
		out, err := e.NewDecoder().Bytes(data)
		return out, label, err
	}
	switch {
	case bytes.HasPrefix(data, []byte("\xEF\xBB\xBF")):
		if data = data[3:]; utf8.Valid(data) {
			return data, "UTF-8", nil
		}
		return bytes.ToValidUTF8(data, []byte("\uFFFD")), "UTF-8", nil
	case bytes.HasPrefix(data, []byte("\xFF\xFE")):
		return via(unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), "UTF-16LE")
	case bytes.HasPrefix(data, []byte("\xFE\xFF")):
		return via(unicode.UTF16(unicode.BigEndian, unicode.UseBOM), "UTF-16BE")
	}
	switch unmarkedUTF16(data) {
	case 'L':
		return via(unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), "UTF-16LE")
	case 'B':
		return via(unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), "UTF-16BE")
	}
	if utf8.Valid(data) {
		return data, "UTF-8", nil
	}
	return via(charmap.Windows1252, "Windows-1252")
}

// unmarkedUTF16 recognises UTF-16 without a mark by zero bytes that fill one half of the places.
func unmarkedUTF16(data []byte) byte {
	head := data[:min(len(data), 4096)&^1]
	var even, odd int
	for i := 0; i+1 < len(head); i += 2 {
		if head[i] == 0 {
			even++
		}
		if head[i+1] == 0 {
			odd++
		}
	}
	switch pairs := len(head) / 2; {
	case pairs < 2:
	case odd*10 > pairs*7 && even == 0:
		return 'L'
	case even*10 > pairs*7 && odd == 0:
		return 'B'
	}
	return 0
}

// control returns where a run of control characters shows that this is no text, or -1.
func control(text []byte) int {
	first, n := -1, 0
	for i, c := range text[:min(len(text), 1<<16)] {
		if c < ' ' && c != '\t' && c != '\n' && c != '\r' && c != '\f' && c != '\v' {
			if first < 0 {
				first = i
			}
			n++
		}
	}
	if n > 8 && n*50 > min(len(text), 1<<16) {
		return first
	}
	return -1
}

// looksMarkdown reports whether the text holds a Markdown table.
func looksMarkdown(name string, text []byte) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".md", ".markdown":
		return true
	}
	head := text[:min(len(text), 1<<16)]
	for n := 0; len(head) > 0 && n < 400; n++ {
		line, rest, _ := bytes.Cut(head, []byte("\n"))
		if isRule(bytes.TrimSpace(line)) {
			return true
		}
		head = rest
	}
	return false
}

// isRule reports whether a line is the rule under a Markdown table's header: "|---|:--:|".
func isRule(line []byte) bool {
	dashes, bars := 0, 0
	for _, c := range line {
		switch c {
		case '-':
			dashes++
		case '|':
			bars++
		case ':', ' ', '\t':
		default:
			return false
		}
	}
	return bars >= 1 && dashes >= 2
}
