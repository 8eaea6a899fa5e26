package store

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"time"
)

// Record is something that happened, kept for good: a loop that was checked, a wire that was landed.
type Record struct {
	ID      string // made by the client, so that a record sent again is not kept twice
	Number  int64  // from 1 in the order of arrival, within the project; given by the store
	Subject string // "signal:PT-101"
	Kind    string // what the body is, in the client's words
	Author  string
	Time    time.Time // to the millisecond, as the client's clock had it
	Body    []byte
}

// Sum is the hash of all that a client states in a record.
func (r *Record) Sum(project string) Hash {
	h := sha256.New()
	fmt.Fprintf(h, "railwright-record/1\n%q\t%q\t%q\t%q\t%q\t%d\n", project, r.ID, r.Subject, r.Kind, r.Author, r.Time.UnixMilli())
	h.Write(r.Body)
	return Hash(hex.EncodeToString(h.Sum(nil)))
}

// Valid reports what of a record no store takes, wrapping ErrInvalid.
func (r *Record) Valid() error {
	for _, f := range []struct{ what, s string }{{"record id", r.ID}, {"subject", r.Subject}, {"kind", r.Kind}, {"author", r.Author}} {
		if err := validName(f.what, f.s); err != nil {
			return err
		}
	}
	if len(r.Body) > MaxBody {
		return fmt.Errorf("%w: record %s is larger than %d MB", ErrInvalid, r.ID, MaxBody>>20)
	}
	return validTime(r.Time)
}
