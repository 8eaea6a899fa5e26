package keeper

import (
	"bytes"
	"compress/flate"
	"errors"
	"io"
	"sync"
)

// The codings of a part's content.
const (
	raw     = "raw"
	deflate = "deflate" // RFC 1951
)

// leastPacked is the size below which packing is not worth its trouble.
const leastPacked = 200

// writers are kept, for a new one is a megabyte of tables.
var writers = sync.Pool{New: func() any {
	w, err := flate.NewWriter(nil, flate.DefaultCompression)
	if err != nil {
		panic(err) // the level is a constant
	}
	return w
}}

// pack makes a content smaller for keeping, if it can.
func pack(content []byte) (coding string, data []byte) {
	if len(content) < leastPacked {
		return raw, content
	}
	w := writers.Get().(*flate.Writer)
	defer writers.Put(w)
	var b bytes.Buffer
	w.Reset(&b)
	_, err := w.Write(content)
	if err = errors.Join(err, w.Close()); err != nil || b.Len() >= len(content) {
		return raw, content
	}
	return deflate, b.Bytes()
}

// unpack gives the content back; it never makes more than size+1 bytes.
func unpack(coding string, data []byte, size int64) ([]byte, error) {
	switch coding {
	case raw:
		if data == nil {
			data = []byte{}
		}
		return data, nil
	case deflate:
		content, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(data)), size+1))
		return content, err
	}
	return nil, errors.New("unknown coding")
}
