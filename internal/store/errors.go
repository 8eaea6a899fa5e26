package store

import (
	"errors"
	"fmt"
)

// What can be wrong, for errors.Is.
var (
	ErrNoProject  = errors.New("no such project")
	ErrNoRevision = errors.New("no such revision")
	ErrNoPart     = errors.New("no such part")
	ErrNoHead     = errors.New("no such head")
	ErrExists     = errors.New("the project exists already")
	ErrInvalid    = errors.New("not allowed")             // a name, time or size that no store keeps
	ErrDamaged    = errors.New("the store is damaged")    // content is not what its checksum says
	ErrNewer      = errors.New("written by a newer tool") // schema or format that this version does not know
	ErrForeign    = errors.New("not a store")             // a file or database of something else
	ErrMissing    = errors.New("there is no store")       // nothing there, and none was to be made
	ErrNotEmpty   = errors.New("the store is not empty")  // Load
	ErrBackup     = errors.New("the backup is not sound") // cut off, changed, or of something else
	ErrRecord     = errors.New("the record id was used")  // for a record with another content
	ErrBusy       = errors.New("the store is busy")       // others held it longer than the patience of the keeper
)

// HeadMoved says that a head is not where the saver expected it; nothing was written.
type HeadMoved struct {
	Head     string
	Expected ID        // "" = no head
	Now      *Revision // nil = no head
}

// Error names the revision that stands there.
func (e *HeadMoved) Error() string {
	if e.Now == nil {
		return fmt.Sprintf("there is no head %s", e.Head)
	}
	return fmt.Sprintf("head %s is at revision %d of %s meanwhile", e.Head, e.Now.Number, e.Now.Author)
}
