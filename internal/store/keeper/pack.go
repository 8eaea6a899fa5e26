package keeper

import (
	"bytes"
	"compress/flate"
	"errors"
	"io"
)

// The codings of a part's content.
const (
	raw     = "raw"
	deflate = "deflate" // RFC 1951
)

// pack makes a content smaller for keeping, if it can.
func pack(content []byte) (coding string, data []byte) {
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.DefaultCompression)
	if err == nil {
		_, err = w.Write(content)
		err = errors.Join(err, w.Close())
	}
	if err != nil || b.Len() >= len(content) {
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
