package tabular

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// Options steer a reader; the zero value lets it find out by itself.
type Options struct {
	Delimiter rune // of a CSV file; 0 detects comma, semicolon, tab or pipe
}

// ReadFile reads the file at path; see Read.
func ReadFile(path string, opt Options) (*Book, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("read table: %w", err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxFileBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read table: %w", err)
	}
	return Read(filepath.Base(path), data, opt)
}

// Read reads a file's content. The kind of file is found from the content; name is only used in
// messages and to tell Markdown from CSV where the content does not. A file that cannot be read
// gives an *Error with the remedy.
func Read(name string, data []byte, opt Options) (*Book, error) {
	bad := func(kind error, what, remedy string) (*Book, error) {
		return nil, &Error{Kind: kind, File: name, What: what, Remedy: remedy}
	}
	switch {
	case len(data) > MaxFileBytes:
		return bad(ErrTooLarge, fmt.Sprintf("the file is larger than %d MB", MaxFileBytes>>20),
			"keep only the sheet with the signal list and save it again")
	case bytes.HasPrefix(data, []byte("PK\x03\x04")) || bytes.HasPrefix(data, []byte("PK\x05\x06")):
		return readZip(name, data)
	case bytes.HasPrefix(data, []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")):
		if bytes.Contains(data, utf16le("EncryptedPackage")) {
			return bad(ErrEncrypted, "the file is protected with a password",
				"open it in a spreadsheet program, remove the password, and save it as .xlsx")
		}
		return bad(ErrFormat, "this is an old binary spreadsheet (.xls)",
			"open it in a spreadsheet program and save it as .xlsx or .ods")
	case bytes.HasPrefix(data, []byte("%PDF")):
		return bad(ErrFormat, "this is a PDF", "ask for the list as a spreadsheet, or copy the table into one")
	case bytes.HasPrefix(data, []byte("\x1f\x8b")) || bytes.HasPrefix(data, []byte("7z\xbc\xaf")) ||
		bytes.HasPrefix(data, []byte("Rar!")):
		return bad(ErrFormat, "this is a packed archive", "unpack it and give the spreadsheet in it")
	}
	return readText(name, data, opt)
}

func utf16le(s string) []byte {
	b := make([]byte, 0, 2*len(s))
	for i := range len(s) {
		b = append(b, s[i], 0)
	}
	return b
}

// readZip opens what is a ZIP container by its first bytes.
func readZip(name string, data []byte) (*Book, error) {
	p, err := openParts(name, data)
	if err != nil {
		return nil, err
	}
	bad := func(kind error, what, remedy string) (*Book, error) {
		return nil, &Error{Kind: kind, File: name, What: what, Remedy: remedy}
	}
	switch {
	case p.has("xl/workbook.bin"):
		return bad(ErrFormat, "this is a binary workbook (.xlsb)", "save it as .xlsx")
	case p.has("content.xml"):
		return readODS(name, p)
	case p.has("[Content_Types].xml") || p.has("xl/workbook.xml"):
		if p.has("word/document.xml") {
			return bad(ErrFormat, "this is a text document, not a spreadsheet", "copy its table into a spreadsheet and save that")
		}
		return readXLSX(name, p)
	}
	return bad(ErrFormat, "this is a packed archive without a spreadsheet's parts", "unpack it and give the .xlsx, .ods or .csv file in it")
}

// parts are the files inside a spreadsheet file, read with a common limit on unpacked bytes.
type parts struct {
	file   string
	byName map[string]*zip.File
	left   int64
}

func openParts(name string, data []byte) (*parts, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, &Error{
			Kind: ErrDamaged, File: name, What: "the file is damaged or cut off (its table of contents cannot be read)",
			Remedy: "copy or download it again, or open it in a spreadsheet program and save it again",
		}
	}
	if len(z.File) > MaxParts {
		return nil, &Error{
			Kind: ErrTooLarge, File: name, What: fmt.Sprintf("the file holds more than %d parts", MaxParts),
			Remedy: "save only the sheet with the signal list",
		}
	}
	p := &parts{file: name, byName: make(map[string]*zip.File, len(z.File)), left: MaxUnpackedBytes}
	for _, f := range z.File {
		key := partName(f.Name)
		if _, twice := p.byName[key]; twice {
			return nil, &Error{
				Kind: ErrDamaged, File: name, What: fmt.Sprintf("part %q is in the file twice", f.Name),
				Remedy: "open it in a spreadsheet program and save it again",
			}
		}
		p.byName[key] = f
	}
	return p, nil
}

func partName(s string) string {
	return strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(s, `\`, "/"), "/"))
}

func (p *parts) has(name string) bool { return p.byName[partName(name)] != nil }

// open returns a scanner over a part, or nil if there is no such part.
func (p *parts) open(name string) (*xmlScanner, func(), error) {
	f := p.byName[partName(name)]
	if f == nil {
		return nil, nil, nil
	}
	r, err := f.Open()
	if err != nil {
		return nil, nil, p.damaged(name, err)
	}
	return newXMLScanner(&meter{r: r, p: p}), func() { r.Close() }, nil
}

func (p *parts) damaged(part string, err error) error {
	if e := (*Error)(nil); asError(err, &e) {
		if e.File == "" {
			e.File = p.file
		}
		return e
	}
	return &Error{
		Kind: ErrDamaged, File: p.file, What: fmt.Sprintf("part %s is damaged or cut off (%v)", part, err),
		Remedy: "copy or download the file again, or open it in a spreadsheet program and save it again",
	}
}

func asError(err error, to **Error) bool {
	e, ok := err.(*Error)
	if ok {
		*to = e
	}
	return ok
}

// meter counts unpacked bytes against the limit of the whole file.
type meter struct {
	r io.Reader
	p *parts
}

func (m *meter) Read(b []byte) (int, error) {
	n, err := m.r.Read(b)
	if m.p.left -= int64(n); m.p.left < 0 {
		return n, &Error{
			Kind: ErrTooLarge, What: fmt.Sprintf("the file unpacks to more than %d MB", MaxUnpackedBytes>>20),
			Remedy: "keep only the sheet with the signal list, delete unused rows and columns, and save it again",
		}
	}
	return n, err
}
