package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"testing"
)

// FuzzCheckBackup: whatever a file holds, it is sound or refused; nothing else happens.
func FuzzCheckBackup(f *testing.F) {
	f.Add([]byte("{\"backup\":{\"format\":\"railwright-backup/1\"}}\n{\"end\":{\"projects\":0,\"parts\":0,\"revisions\":0,\"heads\":0,\"records\":0,\"sha256\":\"\"}}\n"))
	f.Add([]byte("{\"backup\":{\"format\":\"railwright-backup/1\"}}\n{\"part\":{\"sha256\":\"\",\"size\":0,\"data\":null}}\n{\"project\":{\"id\":\"a\"}}\n{\"revision\":{}}\n{\"head\":{}}\n{\"record\":{}}\n{}\n"))
	f.Add([]byte("{\"backup\":{\"format\":\"railwright-backup/9\"}}\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		var b bytes.Buffer
		z := gzip.NewWriter(&b)
		z.Write(text)
		z.Close()
		_, err := CheckBackup(context.Background(), &b)
		if err != nil && !errors.Is(err, ErrBackup) && !errors.Is(err, ErrNewer) && !errors.Is(err, ErrInvalid) {
			t.Errorf("%v", err)
		}
		if _, err := CheckBackup(context.Background(), bytes.NewReader(text)); err == nil {
			t.Error("bytes of anything were taken for a backup")
		}
	})
}
