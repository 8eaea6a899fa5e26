package tomltree

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"sort"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"railwright/internal/finding"
)

// MaxBytes is the largest file that is read; MaxSyntaxFaults ends reading of a file that is no TOML
// at all.
const (
	MaxBytes        = 16 << 20
	MaxSyntaxFaults = 25
	maxDepth        = 64
)

// Parse reads a TOML file. It always returns a document: what cannot be read is in its findings.
// File is the name for messages, prefix the beginning of the rule codes ("PRJ").
func Parse(file string, data []byte, prefix string) *Doc {
	data = bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))
	data = data[:len(data):len(data)]
	d := &Doc{file: file, prefix: prefix, data: data, root: newTable("", pos{1, 1}), lines: []int{0}}
	for i, c := range data {
		if c == '\n' {
			d.lines = append(d.lines, i+1)
		}
	}
	if len(data) > MaxBytes {
		d.data = nil
		d.report(1, finding.Error, "", pos{1, 1}, fmt.Sprintf("the file has %d bytes, at most %d are read", len(data), MaxBytes),
			"Check that it is the right file.")
		return d
	}
	b := builder{doc: d, current: d.root, path: ""}
	b.run()
	return d
}

// builder puts expressions into the tree.
type builder struct {
	doc     *Doc
	parser  unstable.Parser
	current *node // table that key lines belong to
	path    string
	base    int // offset of the parser's data
}

// startsLine finds lines on which an expression begins, to go on after a fault.
var startsLine = regexp.MustCompile(`(?m)^[ \t]*(?:\[\[?[ \t]*[A-Za-z0-9_."'-][^\]\n,]*\]\]?[ \t]*(?:#.*)?\r?$|[A-Za-z0-9_-]+(?:[ \t]*\.[ \t]*[A-Za-z0-9_-]+)*[ \t]*=)`)

var faultyKey = regexp.MustCompile(`^[ \t]*([A-Za-z0-9_-]+)[ \t]*(?:=|:|[ \t]["0-9])`)

func (b *builder) run() {
	faults, end := 0, 0
	b.parser.Reset(b.doc.data)
	for {
		more, err := b.next()
		if more {
			end = max(end, b.lineEnd(b.expression(b.parser.Expression())))
			continue
		}
		if err == nil {
			return
		}
		start := b.skipBlank(end)
		b.fault(start, b.offset(err, start), err.Error())
		if faults++; faults >= MaxSyntaxFaults {
			b.doc.report(1, finding.Error, "", b.doc.pos(start), fmt.Sprintf("more than %d lines cannot be read; the rest of the file is not looked at", MaxSyntaxFaults-1),
				"Mend these first.")
			return
		}
		lineEnd := bytes.IndexByte(b.doc.data[start:], '\n')
		if lineEnd < 0 {
			return
		}
		resume := start + lineEnd + 1
		loc := startsLine.FindIndex(b.doc.data[resume:])
		if loc == nil {
			return
		}
		b.base, end = resume+loc[0], resume+loc[0]
		b.parser.Reset(b.doc.data[b.base:])
	}
}

// next advances the parser. The library promises no panic; should it break the promise on some
// strange input, that is a fault of the line, not of the tool.
func (b *builder) next() (more bool, err error) {
	defer func() {
		if r := recover(); r != nil {
			more, err = false, errors.New("cannot be read")
		}
	}()
	if b.parser.NextExpression() {
		return true, nil
	}
	return false, b.parser.Error()
}

// offset returns where in the file the parser stopped.
func (b *builder) offset(err error, start int) int {
	var p *unstable.ParserError
	if !errors.As(err, &p) {
		return start
	}
	off := cap(b.doc.data) - cap(p.Highlight)
	if off < start || off > len(b.doc.data) {
		return start
	}
	return off
}

// lineEnd returns the offset behind the line that holds off.
func (b *builder) lineEnd(off int) int {
	if i := bytes.IndexByte(b.doc.data[off:], '\n'); i >= 0 {
		return off + i + 1
	}
	return len(b.doc.data)
}

// skipBlank returns where the next expression begins: after blank lines and comments. off is at the
// beginning of a line.
func (b *builder) skipBlank(off int) int {
	data := b.doc.data
	for off < len(data) {
		line, _, _ := bytes.Cut(data[off:], []byte("\n"))
		if t := bytes.TrimSpace(line); len(t) > 0 && (t[0] != '#' || !plain(t)) {
			return off + bytes.IndexByte(line, t[0])
		}
		off = min(off+len(line)+1, len(data))
	}
	return len(data)
}

func lineStart(data []byte, off int) int { return bytes.LastIndexByte(data[:off], '\n') + 1 }

// plain reports whether a comment holds only what TOML allows in one.
func plain(t []byte) bool {
	return utf8.Valid(t) && bytes.IndexFunc(t, func(r rune) bool { return r < 32 && r != '\t' || r == 127 }) < 0
}

func stripComment(t []byte) []byte {
	if i := bytes.IndexByte(t, '#'); i >= 0 && plain(t[i:]) {
		return t[:i]
	}
	return t
}

// pos turns an offset into line and column.
func (d *Doc) pos(off int) pos {
	off = max(0, min(off, len(d.data)))
	l := sort.SearchInts(d.lines, off+1) - 1
	return pos{l + 1, utf8.RuneCount(d.data[d.lines[l]:off]) + 1}
}

// fault reports a line that is no TOML and remembers its key, so that it does not count as missing.
func (b *builder) fault(start, off int, message string) {
	msg, remedy := explain(b.doc.data, start, off, message)
	b.doc.report(1, finding.Error, b.current.subject, b.doc.pos(off), msg, remedy)
	line, _, _ := bytes.Cut(b.doc.data[start:], []byte("\n"))
	if len(line) > 0 && line[0] == '[' {
		b.current = newTable("", b.doc.pos(start)) // the keys below belong to a table that nobody can name
		return
	}
	if m := faultyKey.FindSubmatch(line); m != nil && b.current.byKey[string(m[1])] == nil {
		b.current.add(&node{key: string(m[1]), kind: faulty, keyAt: b.doc.pos(start), at: b.doc.pos(off)})
	}
}
