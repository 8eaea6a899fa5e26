package store

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// ID is the id of a revision: the SHA-256 of all that it states, in hex.
type ID string

// Hash is the SHA-256 of a part's content, in hex.
type Hash string

// Main is the head that a project's revisions follow unless another is named.
const Main = "main"

// The limits of what a store takes.
const (
	MaxName = 200      // bytes of a name or id
	MaxNote = 10_000   // bytes of a note
	MaxPart = 64 << 20 // bytes of a part
	MaxBody = 16 << 20 // bytes of a record
)

// HashOf returns the hash of a content.
func HashOf(data []byte) Hash {
	s := sha256.Sum256(data)
	return Hash(hex.EncodeToString(s[:]))
}

// Project is one project of a store.
type Project struct {
	ID      string // chosen by the user, never changed
	Name    string
	Created time.Time // to the millisecond
}

// Part is one part of a revision.
type Part struct {
	Hash Hash
	Size int64  // bytes
	Data []byte // content to be saved; nil = the store has it, or it was not asked for
}

// Content makes a part of its content.
func Content(data []byte) Part {
	if data == nil {
		data = []byte{}
	}
	return Part{Hash: HashOf(data), Size: int64(len(data)), Data: data}
}

// Parts are a revision's parts by name.
type Parts map[string]Part

// Names returns the names in order.
func (p Parts) Names() []string { return slices.Sorted(maps.Keys(p)) }

// Equal reports whether both hold the same names with the same contents.
func (p Parts) Equal(o Parts) bool {
	return maps.EqualFunc(p, o, func(a, b Part) bool { return a.Hash == b.Hash })
}

// Revision is a state of a project that never changes.
type Revision struct {
	ID      ID
	Project string
	Number  int64 // from 1 in the order of arrival, within the project
	Parent  ID    // "" = the first of its line
	Merged  ID    // the other side of a merge, "" = none
	Parts   Parts // without contents
	Author  string
	Time    time.Time // to the millisecond, as the saver's clock had it
	Note    string
}

// Draft is a revision to be saved.
type Draft struct {
	Project string
	Head    string // head to be moved, "" = none: the revision is kept aside
	Expect  ID     // where the head is expected, "" = nowhere yet; used with Head
	Parent  ID
	Merged  ID
	Parts   Parts
	Author  string
	Time    time.Time
	Note    string
}

// Revision returns the revision that the draft makes, without its number.
func (d *Draft) Revision() Revision {
	r := Revision{Project: d.Project, Parent: d.Parent, Merged: d.Merged, Parts: Parts{}, Author: d.Author, Time: Clock(d.Time), Note: d.Note}
	for name, p := range d.Parts {
		r.Parts[name] = Part{Hash: p.Hash, Size: p.Size}
	}
	r.ID = r.Sum()
	return r
}

// Clock rounds a time to what a store keeps.
func Clock(t time.Time) time.Time { return time.UnixMilli(t.UnixMilli()).UTC() }

// Sum computes the id. The number is not in it: it is given on arrival.
func (r *Revision) Sum() ID {
	h := sha256.New()
	fmt.Fprintf(h, "railwright-revision/1\n%q\t%q\t%q\t%q\t%d\t%q\n", r.Project, r.Parent, r.Merged, r.Author, r.Time.UnixMilli(), r.Note)
	for _, name := range r.Parts.Names() {
		fmt.Fprintf(h, "%q\t%q\t%d\n", name, r.Parts[name].Hash, r.Parts[name].Size)
	}
	return ID(hex.EncodeToString(h.Sum(nil)))
}

// Valid reports what of a draft no store takes, wrapping ErrInvalid.
func (d *Draft) Valid() error {
	if err := validName("project", d.Project); err != nil {
		return err
	}
	if d.Head != "" {
		if err := validName("head", d.Head); err != nil {
			return err
		}
	}
	if err := validName("author", d.Author); err != nil {
		return err
	}
	if len(d.Note) > MaxNote || !validText(d.Note) {
		return fmt.Errorf("%w: the note is longer than %d bytes or holds control characters", ErrInvalid, MaxNote)
	}
	if err := validTime(d.Time); err != nil {
		return err
	}
	for _, name := range d.Parts.Names() {
		if err := validName("part", name); err != nil {
			return err
		}
		switch p := d.Parts[name]; {
		case len(p.Data) > MaxPart:
			return fmt.Errorf("%w: part %s is larger than %d MB", ErrInvalid, name, MaxPart>>20)
		case p.Data != nil && (p.Hash != HashOf(p.Data) || p.Size != int64(len(p.Data))):
			return fmt.Errorf("%w: part %s is not what its hash says", ErrInvalid, name)
		}
	}
	return nil
}

// Valid reports what of a project no store takes, wrapping ErrInvalid.
func (p *Project) Valid() error {
	if err := validName("project", p.ID); err != nil {
		return err
	}
	if len(p.Name) > MaxName || !validText(p.Name) {
		return fmt.Errorf("%w: the name is longer than %d bytes or holds control characters", ErrInvalid, MaxName)
	}
	return validTime(p.Created)
}

func validName(what, s string) error {
	if s == "" || len(s) > MaxName || !validText(s) || strings.TrimSpace(s) != s || strings.ContainsAny(s, "\n\t") {
		return fmt.Errorf("%w: %s %q (1 to %d bytes of text, no blanks at the ends)", ErrInvalid, what, s, MaxName)
	}
	return nil
}

// validText reports whether every keeper gives a text back as it was: UTF-8 without the zero
// character, which PostgreSQL refuses, and without other control characters but line ends and tabs.
func validText(s string) bool {
	return utf8.ValidString(s) && strings.IndexFunc(s, func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }) < 0
}

func validTime(t time.Time) error {
	if y := t.UTC().Year(); y < 1970 || y > 9999 {
		return fmt.Errorf("%w: the time %s", ErrInvalid, t.UTC().Format(time.RFC3339))
	}
	return nil
}
