package storetest

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"railwright/internal/store"
)

// modelled is a store as one thinks of it: a list of revisions, a map of heads, a list of records.
type modelled struct {
	revisions []store.Revision
	parts     map[store.Hash]string
	heads     map[string]store.ID
	records   []store.Record
}

func (m *modelled) find(id store.ID) int {
	return slices.IndexFunc(m.revisions, func(r store.Revision) bool { return r.ID == id })
}

// below reports whether a revision is the head or something that it stems from.
func (m *modelled) below(id, head store.ID) bool {
	if id == head {
		return true
	}
	i := m.find(head)
	return i >= 0 && (m.below(id, m.revisions[i].Parent) || m.below(id, m.revisions[i].Merged))
}

// save does to the model what the contract of Save says; ok false for *HeadMoved.
func (m *modelled) save(d store.Draft) (store.Revision, bool) {
	r := d.Revision()
	i := m.find(r.ID)
	switch {
	case i >= 0:
		r = m.revisions[i]
		if d.Head != "" && m.heads[d.Head] != d.Expect {
			return r, m.below(r.ID, m.heads[d.Head])
		}
		if d.Head != "" && m.heads[d.Head] == r.ID {
			return r, true
		}
	case d.Head != "" && m.heads[d.Head] != d.Expect:
		return r, false
	default:
		r.Number = int64(len(m.revisions) + 1)
		m.revisions = append(m.revisions, r)
		for _, p := range d.Parts {
			m.parts[p.Hash] = string(p.Data)
		}
	}
	if d.Head != "" {
		m.heads[d.Head] = r.ID
	}
	return r, true
}

// model compares the store with the model after any sequence of calls.
func model(t *testing.T, p Place) {
	s := p.Store(t)
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		project := fmt.Sprint("works ", n)
		ctx := t.Context()
		if err := s.NewProject(ctx, store.Project{ID: project, Created: epoch}); err != nil {
			t.Fatal(err)
		}
		m := modelled{parts: map[store.Hash]string{}, heads: map[string]store.ID{}}
		var sent []store.Draft
		anyRevision := func(label string) store.ID {
			if i := rapid.IntRange(-1, len(m.revisions)-1).Draw(t, label); i >= 0 {
				return m.revisions[i].ID
			}
			return ""
		}
		saved := func(d store.Draft) {
			sent = append(sent, d)
			want, ok := m.save(d)
			got, err := s.Save(ctx, d)
			var moved *store.HeadMoved
			switch {
			case ok && err != nil:
				t.Fatalf("save: %v", err)
			case !ok && !errors.As(err, &moved):
				t.Fatalf("the head has moved, and the error is %v", err)
			case ok && !cmp.Equal(want, got):
				t.Fatal(cmp.Diff(want, got))
			}
		}
		steps := rapid.IntRange(1, 8).Draw(t, "steps")
		for step := range steps {
			switch rapid.SampledFrom([]string{"save", "save", "any", "resend", "record"}).Draw(t, "step") {
			case "save":
				d := draft(project, m.heads[store.Main], step, "a", rapid.StringN(0, 3, 9).Draw(t, "text"))
				saved(d)
			case "any":
				d := draft(project, anyRevision("parent"), step, "a", "x", "b", fmt.Sprint(step))
				d.Merged = anyRevision("merged")
				d.Head = rapid.SampledFrom([]string{"", store.Main, "as-built"}).Draw(t, "head")
				d.Expect = anyRevision("expect")
				saved(d)
			case "resend":
				if len(sent) > 0 {
					saved(rapid.SampledFrom(sent).Draw(t, "which"))
				}
			case "record":
				r := store.Record{ID: fmt.Sprint("r", rapid.IntRange(0, 2).Draw(t, "id")), Subject: "signal:A", Kind: "loop", Author: "bo", Time: epoch, Body: []byte("{}")}
				want := 0
				if !slices.ContainsFunc(m.records, func(x store.Record) bool { return x.ID == r.ID }) {
					want = 1
					r.Number = int64(len(m.records) + 1)
					m.records = append(m.records, r)
				}
				if got, err := s.Append(ctx, project, []store.Record{r}); err != nil || got != want {
					t.Fatalf("%d records were new, want %d; %v", got, want, err)
				}
			}
		}
		revisions, err := s.Revisions(ctx, project, 0, 100)
		if diff := cmp.Diff(m.revisions, revisions); err != nil || diff != "" {
			t.Fatal(err, diff)
		}
		heads, err := s.Heads(ctx, project)
		if diff := cmp.Diff(m.heads, heads); err != nil || diff != "" {
			t.Fatal(err, diff)
		}
		kept, err := s.Records(ctx, project, 0, 100)
		if diff := cmp.Diff(m.records, kept); err != nil || diff != "" {
			t.Fatal(err, diff)
		}
		for hash, want := range m.parts {
			if got, err := s.Part(ctx, hash); err != nil || string(got) != want {
				t.Fatalf("part %q is %q, %v", want, got, err)
			}
		}
	})
}
