package safexml

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"golang.org/x/text/encoding/charmap"
)

// Bounds of a file. An element is given in all its forms, so they hold for any format.
const (
	MaxBytes      = 32 << 20
	MaxDepth      = 64
	MaxElements   = 1_000_000
	MaxAttributes = 256
)

// ErrRefused is wrapped by every error of a file that is refused unread.
var ErrRefused = errors.New("refused")

// Node is one element with its attributes, children and text, and the line where it begins.
type Node struct {
	Name     string // local name
	Space    string // namespace
	Attr     map[string]string
	Children []*Node
	Text     string // all character data directly inside, spaces as they stand
	Line     int
}

// Parse reads a whole file into a tree. Attributes keep their local names (xsi:type is type).
func Parse(data []byte) (*Node, error) {
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("%w: %d bytes, at most %d are read", ErrRefused, len(data), MaxBytes)
	}
	d := xml.NewDecoder(bytes.NewReader(data))
	d.CharsetReader = charset
	b := builder{lines: lines{data: data}}
	for {
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		if err := b.token(t, int(d.InputOffset())); err != nil {
			return nil, err
		}
	}
	if b.root == nil {
		return nil, errors.New("no element")
	}
	return b.root, nil
}

type builder struct {
	lines lines
	root  *Node
	stack []*Node
	text  []*strings.Builder
	count int
}

func (b *builder) token(t xml.Token, offset int) error {
	switch t := t.(type) {
	case xml.Directive:
		return fmt.Errorf("%w: line %d: a document type or other directive; files of this kind have none", ErrRefused, b.lines.at(offset))
	case xml.StartElement:
		return b.start(t, offset)
	case xml.EndElement:
		n := b.stack[len(b.stack)-1]
		n.Text = b.text[len(b.text)-1].String()
		b.stack, b.text = b.stack[:len(b.stack)-1], b.text[:len(b.text)-1]
	case xml.CharData:
		if len(b.text) > 0 {
			b.text[len(b.text)-1].Write(t)
		}
	}
	return nil
}

func (b *builder) start(t xml.StartElement, offset int) error {
	line := b.lines.at(offset)
	b.count++
	switch {
	case b.count > MaxElements:
		return fmt.Errorf("%w: more than %d elements", ErrRefused, MaxElements)
	case len(b.stack) >= MaxDepth:
		return fmt.Errorf("%w: line %d: elements more than %d deep", ErrRefused, line, MaxDepth)
	case len(t.Attr) > MaxAttributes:
		return fmt.Errorf("%w: line %d: more than %d attributes", ErrRefused, line, MaxAttributes)
	case b.root != nil && len(b.stack) == 0:
		return fmt.Errorf("line %d: a second root element", line)
	}
	n := &Node{Name: t.Name.Local, Space: t.Name.Space, Attr: map[string]string{}, Line: line}
	for _, a := range t.Attr {
		n.Attr[a.Name.Local] = a.Value
	}
	if len(b.stack) == 0 {
		b.root = n
	} else {
		up := b.stack[len(b.stack)-1]
		up.Children = append(up.Children, n)
	}
	b.stack, b.text = append(b.stack, n), append(b.text, &strings.Builder{})
	return nil
}

// lines counts line ends as the offset moves on.
type lines struct {
	data []byte
	seen int
	line int
}

func (l *lines) at(offset int) int {
	offset = min(offset, len(l.data))
	l.line += bytes.Count(l.data[l.seen:offset], []byte{'\n'})
	l.seen = offset
	return l.line + 1
}

// charset reads the two eight-bit sets that device descriptions use; all others must be UTF-8.
func charset(label string, in io.Reader) (io.Reader, error) {
	switch strings.ToLower(label) {
	case "utf-8", "us-ascii", "ascii":
		return in, nil
	case "iso-8859-1", "latin1":
		return charmap.ISO8859_1.NewDecoder().Reader(in), nil
	case "windows-1252", "cp1252":
		return charmap.Windows1252.NewDecoder().Reader(in), nil
	}
	return nil, fmt.Errorf("%w: character set %q; want UTF-8, ISO-8859-1 or Windows-1252", ErrRefused, label)
}

// Child returns the first child of the name; the zero node where there is none.
func (n *Node) Child(name string) *Node {
	for _, c := range n.Children {
		if c.Name == name {
			return c
		}
	}
	return &Node{Line: n.Line}
}

// Path follows Child by each name in turn.
func (n *Node) Path(names ...string) *Node {
	for _, name := range names {
		n = n.Child(name)
	}
	return n
}

// All returns the children of the name.
func (n *Node) All(name string) []*Node {
	var out []*Node
	for _, c := range n.Children {
		if c.Name == name {
			out = append(out, c)
		}
	}
	return out
}

// Deep returns all text of the element and everything inside it, in order of elements.
func (n *Node) Deep() string {
	out := n.Text
	for _, c := range n.Children {
		out += c.Deep()
	}
	return out
}
