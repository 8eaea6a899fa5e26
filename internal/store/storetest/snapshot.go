package storetest

import (
	"testing"

	"railwright/internal/store"
)

// snapshot: who reads in a snapshot sees nothing of what others save meanwhile.
func snapshot(t *testing.T, p Place) {
	s, other := p.Store(t), p.Store(t)
	begin(t, s, "works")
	one := save(t, s, draft("works", "", 1, "a", "1"))
	err := s.Snapshot(t.Context(), func(r store.Reader) error {
		if _, err := r.Projects(t.Context()); err != nil { // the moment of the first read counts
			return err
		}
		save(t, other, draft("works", one.ID, 2, "a", "2"))
		begin(t, other, "annex")
		heads, err := r.Heads(t.Context(), "works")
		if err != nil || heads[store.Main] != one.ID {
			t.Error("the head moved in the snapshot", err)
		}
		if all, err := r.Latest(t.Context(), "works", 0, 9); err != nil || len(all) != 1 {
			t.Error(len(all), "revisions in the snapshot", err)
		}
		if all, err := r.Projects(t.Context()); err != nil || len(all) != 1 {
			t.Error(len(all), "projects in the snapshot", err)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
	if n := sound(t, s); n.Revisions != 2 {
		t.Errorf("%+v", n)
	}
}
