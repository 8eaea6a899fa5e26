package store

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// mostLine is how long a line of a backup may be: the largest part in base64, and its key.
const mostLine = MaxPart/3*4 + 4096

// Restore fills an empty store (ErrNotEmpty) from a backup. A backup that is cut off, changed or of
// something else is refused (ErrBackup, ErrNewer), and the store stays empty.
func Restore(ctx context.Context, s Store, r io.Reader) (Counts, error) {
	z, err := gzip.NewReader(bufio.NewReader(r))
	if err != nil {
		return Counts{}, fmt.Errorf("%w: it does not begin like one", ErrBackup)
	}
	var b restoring
	err = s.Load(ctx, func(l Loader) error {
		b = restoring{ctx: ctx, lines: bufio.NewReaderSize(z, 1<<16), to: l}
		return b.all()
	})
	if err != nil {
		return Counts{}, err
	}
	return b.n, nil
}

type restoring struct {
	ctx     context.Context
	lines   *bufio.Reader
	to      Loader
	n       Counts
	project string
	number  int // of the line
}

func (b *restoring) all() error {
	sum := sha256.New()
	for {
		if err := b.ctx.Err(); err != nil {
			return err
		}
		b.number++
		text, err := b.line()
		if err != nil {
			return err
		}
		l, err := b.parse(text)
		if err != nil {
			return err
		}
		if l.End != nil {
			return b.end(l.End, hex.EncodeToString(sum.Sum(nil)))
		}
		sum.Write(text)
		if err := b.take(l); err != nil {
			return err
		}
	}
}

// line reads one line with its end.
func (b *restoring) line() ([]byte, error) {
	var text []byte
	for {
		part, err := b.lines.ReadSlice('\n')
		text = append(text, part...)
		switch {
		case err == nil:
			return text, nil
		case errors.Is(err, bufio.ErrBufferFull) && len(text) <= mostLine:
		case errors.Is(err, bufio.ErrBufferFull):
			return nil, b.unsound("is too long")
		case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
			return nil, fmt.Errorf("%w: it is cut off after line %d", ErrBackup, b.number-1)
		case errors.Is(err, gzip.ErrChecksum):
			return nil, fmt.Errorf("%w: its checksum does not hold", ErrBackup)
		default:
			return nil, b.unsound("cannot be read (" + err.Error() + ")")
		}
	}
}

func (b *restoring) unsound(what string) error {
	return fmt.Errorf("%w: line %d %s", ErrBackup, b.number, what)
}

func (b *restoring) parse(text []byte) (backupLine, error) {
	var l backupLine
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	err := d.Decode(&l)
	if b.number == 1 {
		switch {
		case l.Backup != nil && l.Backup.Format == BackupFormat:
		case l.Backup != nil && strings.HasPrefix(l.Backup.Format, "railwright-backup/"):
			return l, fmt.Errorf("%w: the format is %s, this version reads %s", ErrNewer, l.Backup.Format, BackupFormat)
		default:
			return l, fmt.Errorf("%w: it does not begin like one", ErrBackup)
		}
	}
	if err != nil {
		return l, b.unsound("is not understood")
	}
	return l, nil
}

// take hands one line to the store.
func (b *restoring) take(l backupLine) error {
	switch {
	case l.Backup != nil && b.number == 1:
		return nil
	case l.Part != nil:
		b.n.Parts++
		if HashOf(l.Part.Data) != l.Part.SHA256 || int64(len(l.Part.Data)) != l.Part.Size {
			return b.unsound("holds a part that is not what its hash says")
		}
		return b.to.Part(l.Part.Data)
	case l.Project != nil:
		b.n.Projects++
		b.project = l.Project.ID
		return b.to.Project(Project{l.Project.ID, l.Project.Name, l.Project.Created})
	case b.project == "":
		return b.unsound("belongs to no project")
	case l.Revision != nil:
		b.n.Revisions++
		return b.revision(l.Revision)
	case l.Head != nil:
		b.n.Heads++
		return b.to.Head(b.project, l.Head.Name, l.Head.Revision)
	case l.Record != nil:
		b.n.Records++
		r := l.Record
		return b.to.Record(b.project, Record{r.ID, r.Number, r.Subject, r.Kind, r.Author, r.Time, r.Body})
	}
	return b.unsound("says nothing")
}

func (b *restoring) revision(l *backupRevision) error {
	r := Revision{ID: l.ID, Project: b.project, Number: l.Number, Parent: l.Parent, Merged: l.Merged, Parts: Parts{}, Author: l.Author, Time: l.Time, Note: l.Note}
	for name, p := range l.Parts {
		r.Parts[name] = Part{Hash: p.SHA256, Size: p.Size}
	}
	if r.Sum() != r.ID {
		return b.unsound("holds a revision that is not what its id says")
	}
	return b.to.Revision(r)
}

func (b *restoring) end(e *backupEnd, sum string) error {
	switch {
	case e.SHA256 != sum:
		return fmt.Errorf("%w: its checksum does not hold", ErrBackup)
	case e.counts() != b.n:
		return fmt.Errorf("%w: it holds %+v and should hold %+v", ErrBackup, b.n, e.counts())
	}
	b.number++
	if _, err := b.lines.ReadByte(); !errors.Is(err, io.EOF) {
		if errors.Is(err, gzip.ErrChecksum) || errors.Is(err, io.ErrUnexpectedEOF) {
			return fmt.Errorf("%w: its checksum does not hold", ErrBackup)
		}
		return b.unsound("stands behind the end")
	}
	return nil
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// CheckBackup reads a backup as Restore does, and keeps nothing of it.
func CheckBackup(ctx context.Context, r io.Reader) (Counts, error) {
	z, err := gzip.NewReader(bufio.NewReader(r))
	if err != nil {
		return Counts{}, fmt.Errorf("%w: it does not begin like one", ErrBackup)
	}
	b := restoring{ctx: ctx, lines: bufio.NewReaderSize(z, 1<<16), to: nowhere{}}
	err = b.all()
	return b.n, err
}

// nowhere takes what a backup holds and forgets it.
type nowhere struct{}

func (nowhere) Project(p Project) error         { return p.Valid() }
func (nowhere) Part([]byte) error               { return nil }
func (nowhere) Revision(Revision) error         { return nil }
func (nowhere) Head(string, string, ID) error   { return nil }
func (nowhere) Record(_ string, r Record) error { return r.Valid() }
