package tabular

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"unicode/utf8"
)

// xmlEvent is what the scanner stands on.
type xmlEvent uint8

const (
	xmlEOF xmlEvent = iota
	xmlStart
	xmlEnd
	xmlText
)

// xmlScanner walks through XML element by element without holding it. It knows elements,
// attributes, text, character data sections and the five built-in entities, compares names without
// their prefix, and refuses document type declarations. It is several times faster than the
// standard library's decoder, which a list of a million cells needs.
//
// name, raw and text are valid until the next call of next.
type xmlScanner struct {
	r          io.Reader
	buf        []byte
	pos        int // start of the unread part of buf
	readErr    error
	name       []byte // local name of the element
	raw        []byte // its attributes as written
	text       []byte
	scratch    []byte
	open       []byte // names of the open elements, one behind the other
	lengths    []int  // their lengths
	depth      int
	pendingEnd bool
	started    bool
}

func newXMLScanner(r io.Reader) *xmlScanner {
	return &xmlScanner{r: r, buf: make([]byte, 0, 64<<10)}
}

var errXMLCut = errors.New("it ends in the middle")

// more reads on, keeping what is unread; it reports false at the end of the input.
func (x *xmlScanner) more() (bool, error) {
	if x.readErr != nil {
		if x.readErr == io.EOF {
			return false, nil
		}
		return false, x.readErr
	}
	if x.pos > 0 && (len(x.buf) == cap(x.buf) || x.pos == len(x.buf)) {
		n := copy(x.buf[:cap(x.buf)], x.buf[x.pos:])
		x.buf, x.pos = x.buf[:n], 0
	}
	if len(x.buf) == cap(x.buf) {
		if cap(x.buf) >= maxXMLToken {
			return false, fmt.Errorf("one element or text is longer than %d MB", maxXMLToken>>20)
		}
		bigger := make([]byte, len(x.buf), 2*cap(x.buf))
		copy(bigger, x.buf)
		x.buf = bigger
	}
	n, err := x.r.Read(x.buf[len(x.buf):cap(x.buf)])
	x.buf = x.buf[:len(x.buf)+n]
	x.readErr = err
	return n > 0 || err == nil, nil
}

// find returns the offset of sep behind from (relative to pos), reading on as needed; -1 at the end.
func (x *xmlScanner) find(from int, sep string) (int, error) {
	for {
		if len(x.buf)-x.pos > from {
			if i := bytes.Index(x.buf[x.pos+from:], []byte(sep)); i >= 0 {
				return from + i, nil
			}
			from = max(from, len(x.buf)-x.pos-len(sep)+1)
		}
		before := len(x.buf) - x.pos
		ok, err := x.more()
		if err != nil {
			return -1, err
		}
		if !ok && len(x.buf)-x.pos == before {
			return -1, nil
		}
	}
}

// next moves to the next start, end or text.
func (x *xmlScanner) next() (xmlEvent, error) {
	if x.pendingEnd {
		x.pendingEnd = false
		return xmlEnd, x.leave()
	}
	for {
		i, err := x.find(0, "<")
		switch {
		case err != nil:
			return xmlEOF, err
		case i < 0:
			if x.depth > 0 || !x.started {
				return xmlEOF, errXMLCut
			}
			return xmlEOF, nil
		case i > 0:
			raw := x.buf[x.pos : x.pos+i]
			x.pos += i
			if x.depth == 0 {
				continue
			}
			x.text = x.decode(raw)
			return xmlText, nil
		}
		ev, err := x.markup()
		if ev != xmlEOF || err != nil {
			return ev, err
		}
	}
}

// markup reads what begins with "<"; it returns xmlEOF for what is skipped.
func (x *xmlScanner) markup() (xmlEvent, error) {
	for len(x.buf)-x.pos < 9 {
		before := len(x.buf) - x.pos
		if ok, err := x.more(); err != nil {
			return xmlEOF, err
		} else if !ok && len(x.buf)-x.pos == before {
			break
		}
	}
	head := x.buf[x.pos:]
	switch {
	case bytes.HasPrefix(head, []byte("<!--")):
		return x.skip(4, "-->")
	case bytes.HasPrefix(head, []byte("<?")):
		return x.skip(2, "?>")
	case bytes.HasPrefix(head, []byte("<![CDATA[")):
		i, err := x.find(9, "]]>")
		if err != nil || i < 0 {
			return xmlEOF, orCut(err)
		}
		x.text = x.buf[x.pos+9 : x.pos+i]
		x.pos += i + 3
		if x.depth == 0 {
			return xmlEOF, nil
		}
		return xmlText, nil
	case bytes.HasPrefix(head, []byte("<!")):
		return xmlEOF, errors.New("it holds a document type declaration, which is not accepted")
	}
	return x.tag()
}

func (x *xmlScanner) skip(from int, end string) (xmlEvent, error) {
	i, err := x.find(from, end)
	if err != nil || i < 0 {
		return xmlEOF, orCut(err)
	}
	x.pos += i + len(end)
	return xmlEOF, nil
}

func orCut(err error) error {
	if err == nil {
		return errXMLCut
	}
	return err
}

// tag reads a start or end tag; ">" inside a quoted attribute does not end it.
func (x *xmlScanner) tag() (xmlEvent, error) {
	var quote byte
	i := 1
	for {
		if x.pos+i >= len(x.buf) {
			before := len(x.buf) - x.pos
			if ok, err := x.more(); err != nil {
				return xmlEOF, err
			} else if !ok && len(x.buf)-x.pos == before {
				return xmlEOF, errXMLCut
			}
			continue
		}
		c := x.buf[x.pos+i]
		if quote != 0 {
			if c == quote {
				quote = 0
			}
		} else if c == '"' || c == '\'' {
			quote = c
		} else if c == '>' {
			break
		}
		i++
	}
	body := x.buf[x.pos+1 : x.pos+i]
	x.pos += i + 1
	if len(body) > 0 && body[0] == '/' {
		x.name = local(bytes.TrimSpace(body[1:]))
		return xmlEnd, x.leave()
	}
	if n := len(body); n > 0 && body[n-1] == '/' {
		x.pendingEnd = true
		body = body[:n-1]
	}
	n := bytes.IndexAny(body, " \t\r\n")
	if n < 0 {
		n = len(body)
	}
	x.name, x.raw = local(body[:n]), body[n:]
	if len(x.name) == 0 {
		return xmlEOF, errors.New("an element has no name")
	}
	x.started = true
	x.open = append(x.open, x.name...)
	x.lengths = append(x.lengths, len(x.name))
	if x.depth++; x.depth > maxXMLDepth {
		return xmlEOF, fmt.Errorf("elements are nested more than %d deep", maxXMLDepth)
	}
	return xmlStart, nil
}

// leave closes the innermost open element, which must have the name that x stands on.
func (x *xmlScanner) leave() error {
	last := len(x.lengths) - 1
	if last < 0 {
		return errors.New("an element is closed that was never opened")
	}
	from := len(x.open) - x.lengths[last]
	if !bytes.Equal(x.open[from:], x.name) {
		return fmt.Errorf("element %q is closed as %.40q", x.open[from:], x.name)
	}
	x.open, x.lengths = x.open[:from], x.lengths[:last]
	x.depth--
	return nil
}

func local(name []byte) []byte {
	if i := bytes.LastIndexByte(name, ':'); i >= 0 {
		return name[i+1:]
	}
	return name
}

// attr returns the attribute with this local name, and whether it is there.
func (x *xmlScanner) attr(name string) ([]byte, bool) {
	rest := x.raw
	for {
		rest = bytes.TrimLeft(rest, " \t\r\n")
		eq := bytes.IndexByte(rest, '=')
		if eq < 0 {
			return nil, false
		}
		key := local(bytes.TrimSpace(rest[:eq]))
		rest = bytes.TrimLeft(rest[eq+1:], " \t\r\n")
		if len(rest) == 0 || rest[0] != '"' && rest[0] != '\'' {
			return nil, false
		}
		end := bytes.IndexByte(rest[1:], rest[0])
		if end < 0 {
			return nil, false
		}
		if string(key) == name {
			return x.decode(rest[1 : 1+end]), true
		}
		rest = rest[end+2:]
	}
}

func (x *xmlScanner) attrString(name string) string {
	v, _ := x.attr(name)
	return string(v)
}

// attrInt returns a whole number, or def where it is missing or not one.
func (x *xmlScanner) attrInt(name string, def int) int {
	v, ok := x.attr(name)
	if !ok {
		return def
	}
	n, err := strconv.Atoi(string(v))
	if err != nil {
		return def
	}
	return n
}

// attrTrue reports whether the attribute says "1" or "true".
func (x *xmlScanner) attrTrue(name string) bool {
	v, _ := x.attr(name)
	return string(v) == "1" || string(v) == "true"
}

// decode resolves entities and line ends; without any it returns raw itself.
func (x *xmlScanner) decode(raw []byte) []byte {
	if bytes.IndexByte(raw, '&') < 0 && bytes.IndexByte(raw, '\r') < 0 {
		return raw
	}
	out := x.scratch[:0]
	for i := 0; i < len(raw); {
		switch c := raw[i]; {
		case c == '\r':
			out = append(out, '\n')
			if i++; i < len(raw) && raw[i] == '\n' {
				i++
			}
		case c == '&':
			r, n := entity(raw[i:])
			if n == 0 {
				out, i = append(out, c), i+1
				continue
			}
			out, i = utf8.AppendRune(out, r), i+n
		default:
			out, i = append(out, c), i+1
		}
	}
	x.scratch = out
	return out
}

// entity reads a built-in or numeric entity; n is 0 where there is none.
func entity(b []byte) (r rune, n int) {
	end := bytes.IndexByte(b[:min(len(b), 12)], ';')
	if end < 2 {
		return 0, 0
	}
	switch name := string(b[1:end]); name {
	case "lt":
		return '<', end + 1
	case "gt":
		return '>', end + 1
	case "amp":
		return '&', end + 1
	case "quot":
		return '"', end + 1
	case "apos":
		return '\'', end + 1
	default:
		if name[0] != '#' {
			return 0, 0
		}
		base, digits := 10, name[1:]
		if len(digits) > 0 && digits[0] == 'x' {
			base, digits = 16, digits[1:]
		}
		v, err := strconv.ParseUint(digits, base, 32)
		if err != nil || v > utf8.MaxRune || v == 0 {
			return 0, 0
		}
		return rune(v), end + 1
	}
}

// skipElement reads on to the end of the element that the scanner has just entered.
func (x *xmlScanner) skipElement() error {
	for level := 1; level > 0; {
		ev, err := x.next()
		if err != nil {
			return err
		}
		switch ev {
		case xmlStart:
			level++
		case xmlEnd:
			level--
		case xmlEOF:
			return errXMLCut
		}
	}
	return nil
}
