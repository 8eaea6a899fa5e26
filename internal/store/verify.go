package store

import (
	"context"
	"errors"
	"fmt"
)

// page is how many things are read at a time.
const page = 200

// Counts say how much a store holds.
type Counts struct{ Projects, Parts, Revisions, Heads, Records int64 }

// Verify reads everything that a store holds, holds it against its checksums and how it hangs together,
// and returns all damage that it finds, each wrapping ErrDamaged. The error tells of what kept it from
// reading on.
func Verify(ctx context.Context, s Store) (n Counts, damage []error, err error) {
	err = s.Snapshot(ctx, func(r Reader) error {
		v := verifying{ctx: ctx, r: r, parts: map[Hash]bool{}}
		err := v.all()
		n, damage = v.n, v.damage
		return err
	})
	return n, damage, err
}

type verifying struct {
	ctx    context.Context
	r      Reader
	n      Counts
	parts  map[Hash]bool
	damage []error
}

// note keeps what is damage and returns what is not.
func (v *verifying) note(err error) error {
	if errors.Is(err, ErrDamaged) {
		v.damage = append(v.damage, err)
		return nil
	}
	return err
}

func (v *verifying) bad(format string, args ...any) {
	v.damage = append(v.damage, fmt.Errorf("%w: "+format, append([]any{ErrDamaged}, args...)...))
}

func (v *verifying) all() error {
	for after := Hash(""); ; {
		hashes, err := v.r.Hashes(v.ctx, after, page)
		if err != nil || len(hashes) == 0 {
			if err := v.note(err); err != nil {
				return err
			}
			break
		}
		for _, h := range hashes {
			v.n.Parts++
			v.parts[h], after = true, h
			if _, err := v.r.Part(v.ctx, h); v.note(err) != nil {
				return err
			}
		}
	}
	projects, err := v.r.Projects(v.ctx)
	if err != nil {
		return v.note(err)
	}
	for _, p := range projects {
		v.n.Projects++
		for _, f := range []func(string) error{v.revisions, v.records} {
			if err := v.note(f(p.ID)); err != nil {
				return err
			}
		}
	}
	return nil
}

// revisions checks that numbers have no gaps, and that what a revision points to is there before it.
func (v *verifying) revisions(project string) error {
	seen := map[ID]bool{}
	for last := int64(0); ; {
		all, err := v.r.Revisions(v.ctx, project, last, page)
		if err != nil {
			return err
		}
		for _, r := range all {
			v.n.Revisions++
			if last++; r.Number != last {
				v.bad("revision %d of %s is missing", last, project)
				last = r.Number
			}
			for _, id := range []ID{r.Parent, r.Merged} {
				if id != "" && !seen[id] {
					v.bad("what revision %d of %s follows is missing", r.Number, project)
				}
			}
			for _, name := range r.Parts.Names() {
				if !v.parts[r.Parts[name].Hash] {
					v.bad("part %s of revision %d of %s is missing", name, r.Number, project)
				}
			}
			seen[r.ID] = true
		}
		if len(all) < page {
			break
		}
	}
	heads, err := v.r.Heads(v.ctx, project)
	for name, id := range heads {
		v.n.Heads++
		if !seen[id] {
			v.bad("the revision of head %s of %s is missing", name, project)
		}
	}
	return err
}

func (v *verifying) records(project string) error {
	for last := int64(0); ; {
		all, err := v.r.Records(v.ctx, project, last, page)
		if err != nil {
			return err
		}
		for _, r := range all {
			v.n.Records++
			if last++; r.Number != last {
				v.bad("record %d of %s is missing", last, project)
				last = r.Number
			}
		}
		if len(all) < page {
			return nil
		}
	}
}
