package pdf

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"sort"
	"strconv"
)

// errShape says that the PDF library wrote a file of another shape than the one squeeze knows.
var errShape = errors.New("PDF of unknown shape")

// squeeze writes a PDF file with every plain stream compressed. The library can do that by itself, but
// makes a new compressor for each page, which costs more than all the rest of a page.
func squeeze(to io.Writer, file []byte) error {
	table, offsets, err := references(file)
	if err != nil {
		return err
	}
	order := make([]int, 0, len(offsets)) // objects as they lie in the file
	for n := 1; n < len(offsets); n++ {
		order = append(order, n)
	}
	sort.Slice(order, func(a, b int) bool { return offsets[order[a]] < offsets[order[b]] })
	w := &counter{to: to}
	z, err := zlib.NewWriterLevel(io.Discard, zlib.BestSpeed)
	if err != nil {
		return err
	}
	var packed bytes.Buffer
	w.write(file[:offsets[order[0]]])
	moved := make([]int, len(offsets))
	for i, n := range order {
		end := table
		if i+1 < len(order) {
			end = offsets[order[i+1]]
		}
		moved[n] = w.n
		if err := object(w, file[offsets[n]:end], z, &packed); err != nil {
			return err
		}
	}
	begin := w.n
	fmt.Fprintf(w, "xref\n0 %d\n0000000000 65535 f \n", len(offsets))
	for _, at := range moved[1:] {
		fmt.Fprintf(w, "%010d 00000 n \n", at)
	}
	trailer := bytes.Index(file[table:], []byte("trailer\n"))
	start := bytes.LastIndex(file, []byte("startxref\n"))
	if trailer < 0 || start < 0 {
		return errShape
	}
	w.write(file[table+trailer : start])
	fmt.Fprintf(w, "startxref\n%d\n%%%%EOF\n", begin)
	return w.err
}

// object writes one object, its stream compressed if it has one without a filter.
func object(w *counter, obj []byte, z *zlib.Writer, packed *bytes.Buffer) error {
	mark := []byte("\nstream\n")
	at := bytes.Index(obj, mark)
	if at < 0 || bytes.Contains(obj[:at], []byte("/Filter")) {
		w.write(obj)
		return nil
	}
	head := obj[:at]
	key := []byte("/Length ")
	from := bytes.Index(head, key)
	if from < 0 {
		return errShape
	}
	to := from + len(key)
	for to < len(head) && head[to] >= '0' && head[to] <= '9' {
		to++
	}
	n, err := strconv.Atoi(string(head[from+len(key) : to]))
	if err != nil || at+len(mark)+n > len(obj) {
		return errShape
	}
	packed.Reset()
	z.Reset(packed)
	if _, err := z.Write(obj[at+len(mark) : at+len(mark)+n]); err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return err
	}
	w.write(head[:from])
	fmt.Fprintf(w, "/Filter /FlateDecode /Length %d", packed.Len())
	w.write(head[to:])
	w.write(mark)
	w.write(packed.Bytes())
	w.write(obj[at+len(mark)+n:])
	return nil
}

// references reads the cross-reference table: where it begins, and where each object begins.
func references(file []byte) (table int, offsets []int, err error) {
	at := bytes.LastIndex(file, []byte("startxref\n"))
	if at < 0 {
		return 0, nil, errShape
	}
	if _, err := fmt.Sscanf(string(file[at:]), "startxref\n%d", &table); err != nil || table >= len(file) {
		return 0, nil, errShape
	}
	lines := bytes.Split(file[table:at], []byte("\n"))
	if len(lines) < 3 || string(lines[0]) != "xref" {
		return 0, nil, errShape
	}
	var n int
	if _, err := fmt.Sscanf(string(lines[1]), "0 %d", &n); err != nil || n < 2 || len(lines) < n+2 {
		return 0, nil, errShape
	}
	offsets = make([]int, n)
	for i := 1; i < n; i++ {
		line := lines[2+i]
		if len(line) < 10 {
			return 0, nil, errShape
		}
		if offsets[i], err = strconv.Atoi(string(line[:10])); err != nil || offsets[i] > table {
			return 0, nil, errShape
		}
	}
	return table, offsets, nil
}

// counter counts what was written and keeps the first error.
type counter struct {
	to  io.Writer
	n   int
	err error
}

func (c *counter) Write(p []byte) (int, error) {
	c.write(p)
	return len(p), c.err
}

func (c *counter) write(p []byte) {
	if c.err != nil {
		return
	}
	n, err := c.to.Write(p)
	c.n += n
	c.err = err
}
