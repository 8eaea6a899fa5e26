package store

import "context"

// Reader reads a store. Its methods may be called from many goroutines. What it returns has been held
// against its checksum; where that fails the error wraps ErrDamaged.
type Reader interface {
	// Projects returns all projects in the order of their ids.
	Projects(ctx context.Context) ([]Project, error)

	// Project returns one project; ErrNoProject.
	Project(ctx context.Context, id string) (Project, error)

	// Heads returns the heads of a project by name; ErrNoProject.
	Heads(ctx context.Context, project string) (map[string]ID, error)

	// Revision returns a revision without the contents of its parts; ErrNoRevision.
	Revision(ctx context.Context, id ID) (Revision, error)

	// Numbered returns the revision of a project by its number; ErrNoRevision.
	Numbered(ctx context.Context, project string, number int64) (Revision, error)

	// Revisions returns at most limit revisions of a project whose numbers are above after, in order.
	Revisions(ctx context.Context, project string, after int64, limit int) ([]Revision, error)

	// Latest returns at most limit revisions of a project whose numbers are below before (0 = all),
	// the newest first.
	Latest(ctx context.Context, project string, before int64, limit int) ([]Revision, error)

	// Part returns a part's content; ErrNoPart.
	Part(ctx context.Context, hash Hash) ([]byte, error)

	// Hashes returns at most limit hashes of kept parts above after, in order.
	Hashes(ctx context.Context, after Hash, limit int) ([]Hash, error)

	// Records returns at most limit records of a project whose numbers are above after, in order. A
	// reader that remembers the last number it saw misses none.
	Records(ctx context.Context, project string, after int64, limit int) ([]Record, error)
}

// Store keeps projects. Every method that writes does all of it or nothing, and what it confirmed is on
// the disk: it outlives a kill of this process, of the database server, and a loss of power.
type Store interface {
	Reader

	// NewProject begins a project; ErrExists, ErrInvalid.
	NewProject(ctx context.Context, p Project) error

	// Save keeps the draft's parts and its revision and moves the head, if one is named, from Expect to
	// it. Where the head is elsewhere it returns *HeadMoved and keeps nothing. Saving the same draft
	// again returns the revision that is there, so a saver who was cut off may just repeat. Parts
	// without content must be in the store (ErrNoPart), parents too (ErrNoRevision); ErrNoProject,
	// ErrInvalid.
	Save(ctx context.Context, d Draft) (Revision, error)

	// SaveOnTop calls f with the revision on which the head stands (nil = none), keeps all other savers
	// of the project waiting meanwhile, and saves what f returns as Save does; project, head and Expect
	// of the draft are filled in. Where f returns an error nothing is kept and the error comes back. f
	// reads through the reader it is given and may be called again.
	SaveOnTop(ctx context.Context, project, head string, f func(r Reader, now *Revision) (Draft, error)) (Revision, error)

	// Append adds records, in the order given, and returns how many of them were new. A record that is
	// there already is not kept twice; ErrRecord where its id was used for another content. All of them
	// are added or none.
	Append(ctx context.Context, project string, records []Record) (int, error)

	// Snapshot calls f with a reader that sees the store as it stood at one moment, whatever others
	// write meanwhile.
	Snapshot(ctx context.Context, f func(Reader) error) error

	// Load fills an empty store (ErrNotEmpty) with what f writes; nothing is kept if f fails.
	Load(ctx context.Context, f func(Loader) error) error

	// Schema returns the number of the schema that the store is kept in.
	Schema() int64

	// Close lets go of the file or the connections.
	Close() error
}

// Loader takes what a backup holds: a project before its revisions and records, a part before the
// revisions that use it, a revision before those that follow it. Numbers and ids stay as they were.
type Loader interface {
	Project(p Project) error
	Part(data []byte) error
	Revision(r Revision) error
	Head(project, name string, id ID) error
	Record(project string, r Record) error
}
