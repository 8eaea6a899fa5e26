package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash"
	"io"
	"time"
)

// BackupFormat is the first line of a backup, uncompressed. A backup is a gzip file of lines of JSON,
// each with one key that says what it is:
//
//	{"backup": {"format": "railwright-backup/1"}}
//	{"part": {"sha256": "…", "size": 3, "data": "…"}}          base64; all parts, in the order of hashes
//	{"project": {"id": …, "name": …, "created": "2026-…Z"}}    followed by what it holds
//	{"revision": {"id": …, "number": 1, "parent": …, "parts": {"signals.csv": {"sha256": …, "size": …}}, …}}
//	{"head": {"name": "main", "revision": …}}
//	{"record": {"id": …, "number": 1, …, "body": "…"}}         base64
//	{"end": {"projects": …, …, "sha256": "…"}}                 of every byte before this line
//
// One content has one form, so two stores that hold the same give the same bytes.
const BackupFormat = "railwright-backup/1"

type backupLine struct {
	Backup   *backupHead     `json:"backup,omitempty"`
	Part     *backupPart     `json:"part,omitempty"`
	Project  *backupProject  `json:"project,omitempty"`
	Revision *backupRevision `json:"revision,omitempty"`
	Head     *backupRef      `json:"head,omitempty"`
	Record   *backupRecord   `json:"record,omitempty"`
	End      *backupEnd      `json:"end,omitempty"`
}

type backupHead struct {
	Format string `json:"format"`
}

type backupPart struct {
	SHA256 Hash   `json:"sha256"`
	Size   int64  `json:"size"`
	Data   []byte `json:"data"`
}

type backupProject struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Created time.Time `json:"created"`
}

type backupRevision struct {
	ID     ID                 `json:"id"`
	Number int64              `json:"number"`
	Parent ID                 `json:"parent,omitempty"`
	Merged ID                 `json:"merged,omitempty"`
	Author string             `json:"author"`
	Time   time.Time          `json:"time"`
	Note   string             `json:"note"`
	Parts  map[string]partRef `json:"parts"`
}

type partRef struct {
	SHA256 Hash  `json:"sha256"`
	Size   int64 `json:"size"`
}

type backupRef struct {
	Name     string `json:"name"`
	Revision ID     `json:"revision"`
}

type backupRecord struct {
	ID      string    `json:"id"`
	Number  int64     `json:"number"`
	Subject string    `json:"subject"`
	Kind    string    `json:"kind"`
	Author  string    `json:"author"`
	Time    time.Time `json:"time"`
	Body    []byte    `json:"body"`
}

type backupEnd struct {
	Projects  int64  `json:"projects"`
	Parts     int64  `json:"parts"`
	Revisions int64  `json:"revisions"`
	Heads     int64  `json:"heads"`
	Records   int64  `json:"records"`
	SHA256    string `json:"sha256"`
}

func (e *backupEnd) counts() Counts {
	return Counts{Projects: e.Projects, Parts: e.Parts, Revisions: e.Revisions, Heads: e.Heads, Records: e.Records}
}

// Backup writes all that the store holds at one moment, whatever others save meanwhile. It fails with
// ErrDamaged rather than write what does not hold against its checksum.
func Backup(ctx context.Context, s Store, w io.Writer) (Counts, error) {
	z, err := gzip.NewWriterLevel(w, gzip.DefaultCompression)
	if err != nil {
		return Counts{}, err
	}
	b := &backing{ctx: ctx, w: z, sum: sha256.New()}
	err = s.Snapshot(ctx, func(r Reader) error {
		b.r = r
		return b.all()
	})
	if err == nil {
		err = z.Close()
	}
	return b.n, wrapBackup(err)
}

func wrapBackup(err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("back up: %w", err)
}

type backing struct {
	ctx context.Context
	r   Reader
	w   io.Writer
	sum hash.Hash
	n   Counts
}

func (b *backing) line(l backupLine) error {
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	if err := e.Encode(l); err != nil {
		return err
	}
	b.sum.Write(text.Bytes())
	_, err := b.w.Write(text.Bytes())
	return err
}

func (b *backing) all() error {
	if err := b.line(backupLine{Backup: &backupHead{BackupFormat}}); err != nil {
		return err
	}
	if err := b.parts(); err != nil {
		return err
	}
	projects, err := b.r.Projects(b.ctx)
	if err != nil {
		return err
	}
	for _, p := range projects {
		b.n.Projects++
		if err := b.line(backupLine{Project: &backupProject{p.ID, p.Name, p.Created}}); err != nil {
			return err
		}
		for _, f := range []func(string) error{b.revisions, b.heads, b.records} {
			if err := f(p.ID); err != nil {
				return err
			}
		}
	}
	return b.line(backupLine{End: &backupEnd{b.n.Projects, b.n.Parts, b.n.Revisions, b.n.Heads, b.n.Records, hex.EncodeToString(b.sum.Sum(nil))}})
}

func (b *backing) parts() error {
	for after := Hash(""); ; {
		hashes, err := b.r.Hashes(b.ctx, after, page)
		if err != nil || len(hashes) == 0 {
			return err
		}
		for _, h := range hashes {
			data, err := b.r.Part(b.ctx, h)
			if err != nil {
				return err
			}
			b.n.Parts++
			if err := b.line(backupLine{Part: &backupPart{h, int64(len(data)), data}}); err != nil {
				return err
			}
			after = h
		}
	}
}

func (b *backing) revisions(project string) error {
	for last := int64(0); ; {
		all, err := b.r.Revisions(b.ctx, project, last, page)
		if err != nil || len(all) == 0 {
			return err
		}
		for _, r := range all {
			l := backupRevision{r.ID, r.Number, r.Parent, r.Merged, r.Author, r.Time, r.Note, map[string]partRef{}}
			for name, p := range r.Parts {
				l.Parts[name] = partRef{p.Hash, p.Size}
			}
			b.n.Revisions++
			if err := b.line(backupLine{Revision: &l}); err != nil {
				return err
			}
			last = r.Number
		}
	}
}

func (b *backing) heads(project string) error {
	heads, err := b.r.Heads(b.ctx, project)
	if err != nil {
		return err
	}
	for _, name := range sortedKeys(heads) {
		b.n.Heads++
		if err := b.line(backupLine{Head: &backupRef{name, heads[name]}}); err != nil {
			return err
		}
	}
	return nil
}

func (b *backing) records(project string) error {
	for last := int64(0); ; {
		all, err := b.r.Records(b.ctx, project, last, page)
		if err != nil || len(all) == 0 {
			return err
		}
		for _, r := range all {
			b.n.Records++
			if err := b.line(backupLine{Record: &backupRecord{r.ID, r.Number, r.Subject, r.Kind, r.Author, r.Time, r.Body}}); err != nil {
				return err
			}
			last = r.Number
		}
	}
}
