package sqlite

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"railwright/internal/store"
)

// The header of a database file, see "The Database Header" in SQLite's description of its file format.
const (
	headerBytes  = 100
	magic        = "SQLite format 3\x00"
	atPageSize   = 16
	atPages      = 28
	atUsedBy     = 68 // application id
	atCounter    = 24
	atCounterFor = 92 // the count of pages holds if both are equal
)

// inspect says why a file is not to be opened. It writes nothing to the file.
func inspect(ctx context.Context, path string, create bool) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if create {
			return nil
		}
		return store.ErrMissing
	case err != nil:
		return err
	case info.IsDir():
		return fmt.Errorf("%w: it is a folder", store.ErrForeign)
	}
	hasLog := logged(path)
	if info.Size() == 0 && !hasLog {
		if create {
			return nil
		}
		return fmt.Errorf("%w: the file is empty", store.ErrForeign)
	}
	if info.Size() > 0 {
		if err := readHeader(path, info.Size(), hasLog); err != nil {
			return err
		}
	}
	if hasLog {
		return look(ctx, uri(path)+"?mode=ro")
	}
	// Nobody else has it open: it is read without locks, and nothing appears beside it.
	err = look(ctx, uri(path)+"?mode=ro&immutable=1")
	if err != nil && logged(path) { // somebody opened it meanwhile, so what was seen may be torn
		return look(ctx, uri(path)+"?mode=ro")
	}
	return err
}

// logged reports whether the file's newest content stands in the log beside it: it is in use, or its
// last user was killed.
func logged(path string) bool {
	info, err := os.Stat(path + "-wal")
	return err == nil && info.Size() > 0
}

func readHeader(path string, size int64, hasLog bool) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	head := make([]byte, headerBytes)
	if _, err := io.ReadFull(f, head); err != nil || !bytes.HasPrefix(head, []byte(magic)) {
		if err == nil || errors.Is(err, io.ErrUnexpectedEOF) {
			return fmt.Errorf("%w: it does not begin like one", store.ErrForeign)
		}
		return err
	}
	at := func(n int) int64 { return int64(binary.BigEndian.Uint32(head[n:])) }
	if id := at(atUsedBy); id != 0 && id != applicationID {
		return fmt.Errorf("%w: another program's database", store.ErrForeign)
	}
	page := int64(binary.BigEndian.Uint16(head[atPageSize:]))
	if page == 1 {
		page = 65536
	}
	if at(atCounter) == at(atCounterFor) && at(atPages)*page > size && !hasLog {
		return fmt.Errorf("%w: it is cut off, %d of %d bytes", store.ErrDamaged, size, at(atPages)*page)
	}
	return nil
}

// look opens a file for reading only, checks how it hangs together and which schema it has.
func look(ctx context.Context, name string) error {
	db, err := sql.Open("sqlite", name+"&_pragma=busy_timeout(10000)")
	if err != nil {
		return err
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	if _, err := dialect.Version(ctx, db); err != nil {
		return told(err)
	}
	rows, err := db.QueryContext(ctx, "PRAGMA quick_check(3)")
	if err != nil {
		return told(err)
	}
	defer rows.Close()
	var faults []string
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return told(err)
		}
		if s != "ok" {
			faults = append(faults, s)
		}
	}
	if err := rows.Err(); err != nil {
		return told(err)
	}
	if len(faults) > 0 {
		return fmt.Errorf("%w: %s", store.ErrDamaged, strings.Join(faults, "; "))
	}
	return nil
}
