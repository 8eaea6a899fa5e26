package store

import (
	"context"
	"errors"
	"fmt"

	"railwright/internal/store/merge"
)

// Three are the sets of parts of a merge.
type Three struct {
	Base, Mine, Theirs Parts
	Load               func(Part) ([]byte, error) // a part's content
}

// Conflict is a place that both sides touched. A whole part that cannot be joined has neither ID nor
// Column nor Removed; its texts are the first digits of the hashes, "" where a side has no such part.
type Conflict struct {
	Part string
	merge.Conflict
	Taken merge.Side // whose version was taken, Neither = it is open
}

// Merger joins two sets of parts. The conflicts that it could not settle have Taken Neither.
type Merger func(Three) (Parts, []Conflict, error)

// Saved is what became of a save.
type Saved struct {
	Revision  Revision   // the new head; where conflicts are open, the revision that stands there
	Kept      *Revision  // the saver's own version, kept aside, where others had saved meanwhile
	Theirs    *Revision  // what the others had made of it, then
	Conflicts []Conflict // settled and open ones
	Open      int        // conflicts that are open: the head was not moved
}

// What ends a save without a new revision.
var (
	errOpen  = errors.New("conflicts are open")
	errBelow = errors.New("the head stems from it already")
)

// SaveMerged saves a draft that was made from draft.Parent. Where somebody saved meanwhile, the draft is
// kept aside as it is, joined with what the others made, and saved on top of that with both as its
// parents. Where conflicts stay open nothing more is done: both versions are in the store, and the
// result tells each conflict.
//
// The first try is joined while others may save on; who lost twice keeps the others out while joining,
// so that everybody gets in.
func SaveMerged(ctx context.Context, s Store, d Draft, join Merger) (Saved, error) {
	d.Expect = d.Parent
	var out Saved
	rev, err := s.Save(ctx, d)
	var moved *HeadMoved
	if err == nil {
		out.Revision = rev
		return out, nil
	}
	if !errors.As(err, &moved) || moved.Now == nil {
		return out, err
	}
	if moved.Now.Parts.Equal(d.Parts) { // the same was saved already: perhaps this very save, cut off before its answer
		out.Revision = *moved.Now
		return out, nil
	}
	if out.Kept, err = aside(ctx, s, d); err != nil {
		return out, err
	}
	onTop := func(r Reader, now *Revision) (Draft, error) {
		if now == nil {
			return d, fmt.Errorf("%w: %s", ErrNoHead, d.Head)
		}
		out.Theirs = now
		next, err := joined(ctx, r, d, *out.Kept, *now, join, &out)
		switch {
		case err != nil:
		case out.Open > 0:
			err = errOpen
		case next.Merged == "":
			err = errBelow
		}
		return next, err
	}
	next, err := onTop(s, moved.Now)
	if err == nil {
		rev, err = s.Save(ctx, next)
	}
	if errors.As(err, &moved) {
		rev, err = s.SaveOnTop(ctx, d.Project, d.Head, onTop)
	}
	if errors.Is(err, errOpen) || errors.Is(err, errBelow) {
		out.Revision = *out.Theirs
		return out, nil
	}
	out.Revision = rev
	return out, err
}

// joined makes the draft that follows head and the revision kept aside; Merged is "" where the head
// stems from that already.
func joined(ctx context.Context, s Reader, d Draft, kept, head Revision, join Merger, out *Saved) (Draft, error) {
	base, err := MergeBase(ctx, s, kept, head)
	if err != nil {
		return d, err
	}
	if base.ID == kept.ID {
		d.Merged, out.Conflicts, out.Open = "", nil, 0
		return d, nil
	}
	parts, conflicts, err := join(Three{Base: base.Parts, Mine: d.Parts, Theirs: head.Parts, Load: func(p Part) ([]byte, error) {
		if p.Data != nil {
			return p.Data, nil
		}
		return s.Part(ctx, p.Hash)
	}})
	if err != nil {
		return d, fmt.Errorf("join revisions %d and %d: %w", kept.Number, head.Number, err)
	}
	out.Conflicts, out.Open = conflicts, 0
	for _, c := range conflicts {
		if c.Taken == merge.Neither {
			out.Open++
		}
	}
	d.Expect, d.Parent, d.Merged, d.Parts = head.ID, head.ID, kept.ID, parts
	return d, nil
}

// asides is how many of the newest revisions are looked at for one that was kept aside before.
const asides = 100

// aside keeps a draft without moving a head. Where the same author kept the same parts aside before
// (and was told of conflicts), that revision serves.
func aside(ctx context.Context, s Store, d Draft) (*Revision, error) {
	latest, err := s.Latest(ctx, d.Project, 0, asides)
	if err != nil {
		return nil, err
	}
	for i := range latest {
		if r := &latest[i]; r.Parent == d.Parent && r.Merged == d.Merged && r.Author == d.Author && r.Parts.Equal(d.Parts) {
			return r, nil
		}
	}
	d.Head, d.Expect = "", ""
	r, err := s.Save(ctx, d)
	return &r, err
}

// MergeBase returns the newest revision that both revisions stem from; one without parts where there is
// none. A revision stems from itself.
func MergeBase(ctx context.Context, s Reader, a, b Revision) (Revision, error) {
	// Parents have smaller numbers, so going down by number meets every revision after all its children.
	const fromA, fromB = 1, 2
	mark := map[ID]int{a.ID: fromA}
	mark[b.ID] |= fromB
	open := map[ID]Revision{a.ID: a, b.ID: b}
	for len(open) > 0 {
		var top Revision
		for _, r := range open {
			if r.Number > top.Number {
				top = r
			}
		}
		delete(open, top.ID)
		if mark[top.ID] == fromA|fromB {
			return top, nil
		}
		for _, id := range []ID{top.Parent, top.Merged} {
			if id == "" {
				continue
			}
			if _, ok := open[id]; !ok {
				r, err := s.Revision(ctx, id)
				if err != nil {
					return Revision{}, err
				}
				open[id] = r
			}
			mark[id] |= mark[top.ID]
		}
	}
	return Revision{Parts: Parts{}}, nil
}

// PartByPart joins sets of parts that one side only touched, and hands each part that both changed to
// join, which returns its content, nil for a part that goes. Where join is nil or cannot join the part
// (ok false), the whole part is a conflict.
func PartByPart(in Three, join func(name string, base, mine, theirs []byte) (content []byte, conflicts []Conflict, ok bool, err error), decide func(Conflict) merge.Side) (Parts, []Conflict, error) {
	out := Parts{}
	var all []Conflict
	names := Parts{}
	for _, set := range []Parts{in.Base, in.Mine, in.Theirs} {
		for name := range set {
			names[name] = Part{}
		}
	}
	for _, name := range names.Names() {
		b, m, t := in.Base[name], in.Mine[name], in.Theirs[name]
		take := t
		switch {
		case m.Hash == t.Hash || m.Hash == b.Hash:
		case t.Hash == b.Hash:
			take = m
		default:
			p, conflicts, err := in.both(name, join, decide)
			if err != nil {
				return nil, nil, err
			}
			take, all = p, append(all, conflicts...)
		}
		if take.Hash != "" {
			out[name] = take
		}
	}
	return out, all, nil
}

// both joins a part that both sides changed.
func (in Three) both(name string, join func(string, []byte, []byte, []byte) ([]byte, []Conflict, bool, error), decide func(Conflict) merge.Side) (Part, []Conflict, error) {
	b, m, t := in.Base[name], in.Mine[name], in.Theirs[name]
	if join != nil && m.Hash != "" && t.Hash != "" {
		var texts [3][]byte
		for i, p := range []Part{b, m, t} {
			if p.Hash == "" {
				continue
			}
			var err error
			if texts[i], err = in.Load(p); err != nil {
				return t, nil, err
			}
		}
		content, conflicts, ok, err := join(name, texts[0], texts[1], texts[2])
		switch {
		case err != nil:
			return t, nil, err
		case ok && content == nil:
			return Part{}, conflicts, nil
		case ok:
			return Content(content), conflicts, nil
		}
	}
	short := func(p Part) string { return fmt.Sprintf("%.12s", string(p.Hash)) }
	c := Conflict{Part: name, Conflict: merge.Conflict{Base: short(b), Mine: short(m), Theirs: short(t)}}
	if decide != nil {
		c.Taken = decide(c)
	}
	if c.Taken == merge.Mine {
		return m, []Conflict{c}, nil
	}
	return t, []Conflict{c}, nil
}
