package app

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"railwright/internal/store"
	"railwright/internal/store/postgres"
	"railwright/internal/words"
)

// BackupRequest asks for a store to be written into one file.
type BackupRequest struct {
	Store     string
	Out       string
	Overwrite bool // Out may take the place of a file
}

// BackupResult says what the file holds.
type BackupResult struct {
	store.Counts
	Bytes int64
}

// Backup writes all that a store holds at one moment into a file, reads it back, and only then gives it
// its name. Others may save meanwhile.
func Backup(ctx context.Context, r BackupRequest) (*BackupResult, error) {
	if _, err := os.Lstat(r.Out); err == nil && !r.Overwrite {
		return nil, usage(words.Text("store.out_exists", r.Out), words.Text("store.out_exists_hint"))
	}
	s, err := OpenStore(ctx, r.Store, false)
	if err != nil {
		return nil, err
	}
	defer s.Close()
	f, err := os.CreateTemp(filepath.Dir(r.Out), ".backup-*")
	if err != nil {
		return nil, outFault(r.Out, err)
	}
	defer os.Remove(f.Name()) // no effect once it is renamed
	defer f.Close()           // no effect once it is closed
	res := &BackupResult{}
	if res.Counts, err = store.Backup(ctx, s, f); err != nil {
		return nil, StoreFault(r.Store, err)
	}
	info, serr := f.Stat()
	if err := errors.Join(serr, f.Sync()); err != nil {
		return nil, outFault(r.Out, err)
	}
	res.Bytes = info.Size()
	if _, err := f.Seek(0, 0); err != nil {
		return nil, outFault(r.Out, err)
	}
	if n, err := store.CheckBackup(ctx, f); err != nil || n != res.Counts {
		return nil, broken(words.Text("store.bad_backup", r.Out), err)
	}
	if err := errors.Join(f.Chmod(0o600), f.Close(), os.Rename(f.Name(), r.Out)); err != nil {
		return nil, outFault(r.Out, err)
	}
	return res, nil
}

// RestoreRequest asks for a store to be filled from a backup.
type RestoreRequest struct {
	File  string
	Store string // a file that is not there yet, or the URL of an empty database
}

// Restore makes a store of a backup. A file that it began is taken away again if the backup is not
// sound.
func Restore(ctx context.Context, r RestoreRequest) (counts *store.Counts, err error) {
	f, err := os.Open(r.File)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, usage(words.Text("import.no_file", r.File))
		}
		return nil, &Fault{Kind: Usage, What: words.Text("app.cannot_read", r.File), Err: err}
	}
	defer f.Close()
	if _, err := store.CheckBackup(ctx, f); err != nil { // before anything is begun
		return nil, backupFault(r.File, err)
	}
	if _, err := f.Seek(0, 0); err != nil {
		return nil, broken(words.Text("app.cannot_read", r.File), err)
	}
	began := false
	if !postgres.Is(r.Store) {
		_, err := os.Lstat(r.Store)
		began = errors.Is(err, fs.ErrNotExist)
	}
	s, err := OpenStore(ctx, r.Store, true)
	if err != nil {
		return nil, err
	}
	n, err := store.Restore(ctx, s, f)
	err = errors.Join(err, s.Close())
	if err != nil {
		if began {
			os.Remove(r.Store)
		}
		if errors.Is(err, store.ErrBackup) {
			return nil, backupFault(r.File, err)
		}
		return nil, StoreFault(r.Store, err)
	}
	return &n, nil
}

func backupFault(file string, err error) error {
	f := &Fault{Kind: Usage, What: words.Text("store.bad_backup", file), Err: detail(err, store.ErrBackup), Hints: []string{words.Text("store.bad_backup_hint")}}
	if errors.Is(err, store.ErrNewer) {
		f.What, f.Err, f.Hints = words.Text("store.newer", file), detail(err, store.ErrNewer), []string{words.Text("store.newer_hint")}
	}
	return f
}
