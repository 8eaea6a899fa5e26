package app

import (
	"context"
	"errors"
	"io/fs"
	"os"

	"railwright/internal/store"
	"railwright/internal/words"
)

// WriteRevisionRequest asks for a revision to be written into a folder.
type WriteRevisionRequest struct {
	RevisionRequest
	Into string // new or empty, or a folder that was saved as or written from a revision of the project
}

// WriteRevisionResult says what was written.
type WriteRevisionResult struct {
	Revision store.Revision
	Written  []string // files written or removed
}

// WriteRevision writes a revision into a folder. A folder that holds edits that were not saved is
// refused.
func WriteRevision(ctx context.Context, r WriteRevisionRequest) (*WriteRevisionResult, error) {
	s, err := OpenStore(ctx, r.Store, false)
	if err != nil {
		return nil, err
	}
	defer s.Close()
	rev, err := findRevision(ctx, s, r.Project, r.Revision)
	if err != nil {
		return nil, StoreFault(r.Store, err)
	}
	from, err := placeFor(ctx, s, rev, r.Into)
	if err != nil {
		return nil, StoreFault(r.Store, err)
	}
	written, err := replaceParts(r.Into, from, rev.Parts, func(p store.Part) ([]byte, error) { return s.Part(ctx, p.Hash) })
	if err != nil {
		return nil, StoreFault(r.Store, err)
	}
	if err := writeState(r.Into, rev); err != nil {
		return nil, err
	}
	return &WriteRevisionResult{Revision: rev, Written: written}, nil
}

// placeFor makes sure that a folder may take a revision, and returns the parts that it holds.
func placeFor(ctx context.Context, s store.Reader, rev store.Revision, into string) (store.Parts, error) {
	entries, err := os.ReadDir(into)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := os.MkdirAll(into, 0o755); err != nil {
			return nil, outFault(into, err)
		}
		return store.Parts{}, nil
	case err != nil:
		return nil, outFault(into, err)
	case len(entries) == 0:
		return store.Parts{}, nil
	}
	st, err := readState(into)
	if err != nil {
		return nil, err
	}
	if st == nil || st.Project != rev.Project {
		return nil, usage(words.Text("store.other_folder", into, rev.Project), words.Text("app.other_folder"))
	}
	base, err := s.Revision(ctx, st.Revision)
	if errors.Is(err, store.ErrNoRevision) {
		return nil, usage(words.Text("store.other_folder", into, rev.Project), words.Text("app.other_folder"))
	}
	if err != nil {
		return nil, err
	}
	have, err := readParts(into)
	if err != nil {
		return nil, err
	}
	if !have.Equal(base.Parts) {
		return nil, usage(words.Text("store.unsaved", into, base.Number), words.Text("store.unsaved_hint", into))
	}
	return have, nil
}
