package eds

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// Bounds of a file.
const (
	MaxBytes = 8 << 20
	MaxLine  = 4096
)

// ErrRefused is wrapped by the error of a file that is too large to be one.
var ErrRefused = errors.New("refused")

// Sheet is a file by section and key, both in lower case.
type Sheet struct {
	Sections []Section
	at       map[string]int
}

// Section is one section with its keys in order.
type Section struct {
	Name string // as written
	Line int
	Keys []Key
}

// Key is one line KEY=VALUE.
type Key struct {
	Name, Value string // name as written
	Line        int
}

// ParseSheet reads the lines of a file: [section], key=value, comments after ; at the begin of a line. Files that are not
// UTF-8 are read as Windows-1252. Of doubles the first one counts.
func ParseSheet(data []byte) (*Sheet, error) {
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("%w: %d bytes, at most %d are read", ErrRefused, len(data), MaxBytes)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(data) {
		data, _ = charmap.Windows1252.NewDecoder().Bytes(data) // every byte decodes
	}
	s := &Sheet{at: map[string]int{}}
	open := -1
	for n, raw := range strings.Split(string(data), "\n") {
		line := strings.TrimSpace(raw)
		switch {
		case len(raw) > MaxLine:
			return nil, fmt.Errorf("%w: line %d has more than %d characters", ErrRefused, n+1, MaxLine)
		case line == "" || line[0] == ';':
		case line[0] == '[':
			name, rest, ok := strings.Cut(line[1:], "]")
			if !ok || strings.TrimSpace(rest) != "" && strings.TrimSpace(rest)[0] != ';' {
				return nil, fmt.Errorf("line %d: %q is no section", n+1, clip(line))
			}
			open = s.section(strings.TrimSpace(name), n+1)
		default:
			key, value, ok := strings.Cut(line, "=")
			if !ok || open < 0 || strings.TrimSpace(key) == "" {
				return nil, fmt.Errorf("line %d: %q is neither a section nor KEY=VALUE", n+1, clip(line))
			}
			s.Sections[open].Keys = append(s.Sections[open].Keys, Key{strings.TrimSpace(key), strings.TrimSpace(value), n + 1})
		}
	}
	return s, nil
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}

func (s *Sheet) section(name string, line int) int {
	low := strings.ToLower(name)
	if i, ok := s.at[low]; ok {
		return i
	}
	s.at[low] = len(s.Sections)
	s.Sections = append(s.Sections, Section{Name: name, Line: line})
	return len(s.Sections) - 1
}

// Has reports whether the section is there.
func (s *Sheet) Has(section string) bool {
	_, ok := s.at[strings.ToLower(section)]
	return ok
}

// Line is where a section begins; 0 where it is missing.
func (s *Sheet) Line(section string) int {
	if i, ok := s.at[strings.ToLower(section)]; ok {
		return s.Sections[i].Line
	}
	return 0
}

// Get returns a value; "" where section or key is missing.
func (s *Sheet) Get(section, key string) string {
	i, ok := s.at[strings.ToLower(section)]
	if !ok {
		return ""
	}
	for _, k := range s.Sections[i].Keys {
		if strings.EqualFold(k.Name, key) {
			return k.Value
		}
	}
	return ""
}

// Number returns a value as CiA 306 writes numbers: decimal, 0x hexadecimal, or octal with a leading 0.
func (s *Sheet) Number(section, key string) (int, bool) { return number(s.Get(section, key)) }

func number(v string) (int, bool) {
	if len(v) > 12 {
		return 0, false
	}
	n, err := strconv.ParseInt(v, 0, 64) // base by prefix
	if err != nil || n < 0 || strings.ContainsAny(v, "_oObB+-") && !strings.HasPrefix(strings.ToLower(v), "0x") {
		return 0, false
	}
	return int(n), true
}
