package tabular

import (
	"bytes"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"
)

// xlsxReader reads the parts of an Office Open XML workbook (ECMA-376, transitional and strict).
type xlsxReader struct {
	*builder
	parts    *parts
	shared   []uint32 // text numbers of the shared strings
	formats  []numFormat
	looks    []uint16
	date1904 bool
}

func readXLSX(name string, p *parts) (*Book, error) {
	x := &xlsxReader{builder: newBuilder(name, XLSX), parts: p}
	book, err := x.workbookPath()
	if err != nil {
		return nil, err
	}
	rels, err := x.relations(book)
	if err != nil {
		return nil, err
	}
	for _, id := range slices.Sorted(maps.Keys(rels)) {
		r := rels[id]
		switch path.Base(r.kind) {
		case "styles":
			err = x.readStyles(r.target, rels)
		case "sharedStrings":
			err = x.readShared(r.target)
		}
		if err != nil {
			return nil, err
		}
	}
	sheets, err := x.readWorkbook(book)
	if err != nil {
		return nil, err
	}
	for _, s := range sheets {
		r, ok := rels[s.rel]
		if !ok || path.Base(r.kind) != "worksheet" {
			continue
		}
		if err := x.readSheet(s, r.target); err != nil {
			return nil, err
		}
	}
	if len(x.book.Sheets) == 0 {
		return nil, x.fail(ErrDamaged, "", "the workbook has no worksheet", "open it in a spreadsheet program and save it again")
	}
	if p.has("xl/vbaproject.bin") {
		x.note("TAB-002", "", "the workbook contains macros; they are ignored and never run", "")
	}
	for part := range p.byName {
		if strings.HasPrefix(part, "xl/externallinks/") {
			x.note("TAB-003", "", "the workbook links to other files; the values stored in it are used, the links are not followed",
				"check that those values are up to date")
			break
		}
	}
	return x.book, nil
}

// each walks through a part and calls f on every element start. f must not keep what the scanner
// points to. A missing part is no fault.
func (x *xlsxReader) each(part string, f func(s *xmlScanner) error) error {
	s, done, err := x.parts.open(part)
	if err != nil || s == nil {
		return err
	}
	defer done()
	for {
		ev, err := s.next()
		if err != nil {
			return x.parts.damaged(part, err)
		}
		switch ev {
		case xmlEOF:
			return nil
		case xmlStart:
			if err := f(s); err != nil {
				return x.parts.damaged(part, err)
			}
		}
	}
}

func (x *xlsxReader) workbookPath() (string, error) {
	found := ""
	err := x.each("_rels/.rels", func(s *xmlScanner) error {
		if string(s.name) == "Relationship" && path.Base(s.attrString("Type")) == "officeDocument" {
			found = strings.TrimPrefix(s.attrString("Target"), "/")
		}
		return nil
	})
	if err != nil {
		return "", err
	}
	if found == "" || !x.parts.has(found) {
		found = "xl/workbook.xml"
	}
	if !x.parts.has(found) {
		return "", x.fail(ErrDamaged, "", "the workbook part is missing", "open it in a spreadsheet program and save it again")
	}
	return found, nil
}

type relation struct{ kind, target string }

func (x *xlsxReader) relations(book string) (map[string]relation, error) {
	rels := map[string]relation{}
	dir := path.Dir(book)
	err := x.each(path.Join(dir, "_rels", path.Base(book)+".rels"), func(s *xmlScanner) error {
		if string(s.name) != "Relationship" || s.attrString("TargetMode") == "External" {
			return nil
		}
		t := s.attrString("Target")
		if strings.HasPrefix(t, "/") {
			t = t[1:]
		} else {
			t = path.Join(dir, t)
		}
		rels[s.attrString("Id")] = relation{kind: s.attrString("Type"), target: t}
		return nil
	})
	return rels, err
}

type xlsxSheet struct {
	name, rel string
	hidden    bool
}

func (x *xlsxReader) readWorkbook(part string) ([]xlsxSheet, error) {
	var sheets []xlsxSheet
	err := x.each(part, func(s *xmlScanner) error {
		switch string(s.name) {
		case "workbookPr":
			x.date1904 = s.attrTrue("date1904")
		case "sheet":
			state := s.attrString("state")
			sheets = append(sheets, xlsxSheet{name: s.attrString("name"), rel: s.attrString("id"), hidden: state == "hidden" || state == "veryHidden"})
		}
		if len(sheets) > MaxSheets {
			return x.tooLarge(fmt.Sprintf("more than %d sheets", MaxSheets))
		}
		return nil
	})
	return sheets, err
}

// readShared reads the shared strings. Phonetic runs are left out.
func (x *xlsxReader) readShared(part string) error {
	s, done, err := x.parts.open(part)
	if err != nil || s == nil {
		return err
	}
	defer done()
	var buf []byte
	inText := false
	for {
		ev, err := s.next()
		if err != nil {
			return x.parts.damaged(part, err)
		}
		switch ev {
		case xmlEOF:
			return nil
		case xmlStart:
			switch string(s.name) {
			case "si":
				buf = buf[:0]
			case "t":
				inText = true
			case "rPh":
				if err := s.skipElement(); err != nil {
					return x.parts.damaged(part, err)
				}
			}
		case xmlText:
			if inText {
				buf = append(buf, s.text...)
			}
		case xmlEnd:
			switch string(s.name) {
			case "t":
				inText = false
			case "si":
				n, err := x.intern(unescapeX(buf))
				if err != nil {
					return err
				}
				if x.shared = append(x.shared, n); len(x.shared) > MaxCells {
					return x.tooLarge("too many texts")
				}
			}
		}
	}
}

// unescapeX resolves _x000D_, the escape that XLSX uses for characters XML cannot hold.
func unescapeX(t []byte) []byte {
	if !bytes.Contains(t, []byte("_x")) {
		return t
	}
	out := make([]byte, 0, len(t))
	for i := 0; i < len(t); i++ {
		if r, ok := escapeX(t[i:]); ok {
			out = append(out, string(r)...)
			i += 6
			continue
		}
		out = append(out, t[i])
	}
	return out
}

func escapeX[T string | []byte](t T) (rune, bool) {
	if len(t) < 7 || t[0] != '_' || t[1] != 'x' || t[6] != '_' {
		return 0, false
	}
	var r rune
	for i := 2; i < 6; i++ {
		switch c := t[i]; {
		case c >= '0' && c <= '9':
			r = r<<4 | rune(c-'0')
		case c|0x20 >= 'a' && c|0x20 <= 'f':
			r = r<<4 | rune(c|0x20-'a'+10)
		default:
			return 0, false
		}
	}
	return r, true
}
