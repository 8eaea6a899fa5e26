package storetest

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/store"
)

// Run is the suite. fresh gives an empty place for each test.
func Run(t *testing.T, fresh func(t *testing.T) Place) {
	for _, c := range []struct {
		name string
		run  func(t *testing.T, p Place)
	}{
		{"SaveAndRead", saveAndRead},
		{"Resend", resend},
		{"HeadMoved", headMoved},
		{"Refused", refused},
		{"Records", records},
		{"Texts", texts},
		{"KeptForGood", keptForGood},
		{"Damage", damage},
		{"Snapshot", snapshot},
		{"Model", model},
		{"MergedSaves", mergedSaves},
		{"Writers", writers},
		{"Backup", backup},
		{"BackupWhileSaving", backupWhileSaving},
		{"BadBackups", badBackups},
		{"Upgrade", upgrade},
		{"Newer", newer},
		{"Foreign", foreign},
		{"OpenedTogether", openedTogether},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := fresh(t)
			p.Another = fresh
			c.run(t, p)
		})
	}
}

func saveAndRead(t *testing.T, p Place) {
	s := p.Store(t)
	begin(t, s, "works")
	begin(t, s, "annex")
	list := strings.Repeat("PT-101,Inlet pressure,AI\n", 200)
	one := save(t, s, draft("works", "", 1, "signals.csv", list, "project.toml", "format = 1\n", "empty", ""))
	two := draft("works", one.ID, 2, "signals.csv", list+"PT-102\n")
	two.Parts["project.toml"] = store.Part{Hash: one.Parts["project.toml"].Hash, Size: one.Parts["project.toml"].Size} // not sent again
	got := save(t, s, two)
	if one.Number != 1 || got.Number != 2 || got.Parent != one.ID {
		t.Errorf("%+v, %+v", one, got)
	}
	other := save(t, s, draft("annex", "", 3, "signals.csv", list))

	s = p.Store(t) // from the disk, not from memory
	for _, want := range []store.Revision{one, got, other} {
		read, err := s.Revision(t.Context(), want.ID)
		if diff := cmp.Diff(want, read); err != nil || diff != "" {
			t.Error(err, diff)
		}
		read, err = s.Numbered(t.Context(), want.Project, want.Number)
		if diff := cmp.Diff(want, read); err != nil || diff != "" {
			t.Error(err, diff)
		}
	}
	for name, want := range map[string]string{"signals.csv": list + "PT-102\n", "project.toml": "format = 1\n"} {
		data, err := s.Part(t.Context(), got.Parts[name].Hash)
		if err != nil || string(data) != want {
			t.Errorf("%s: %v", name, err)
		}
	}
	data, err := s.Part(t.Context(), one.Parts["empty"].Hash)
	if err != nil || data == nil || len(data) > 0 {
		t.Errorf("the empty part is %v, %v", data, err)
	}
	projects, err := s.Projects(t.Context())
	if err != nil || len(projects) != 2 || projects[0].ID != "annex" || projects[1] != (store.Project{ID: "works", Name: "Works works", Created: epoch}) {
		t.Error(projects, err)
	}
	heads, err := s.Heads(t.Context(), "works")
	if diff := cmp.Diff(map[string]store.ID{store.Main: got.ID}, heads); err != nil || diff != "" {
		t.Error(err, diff)
	}
	up, err := s.Revisions(t.Context(), "works", 0, 10)
	if diff := cmp.Diff([]store.Revision{one, got}, up); err != nil || diff != "" {
		t.Error(err, diff)
	}
	down, err := s.Latest(t.Context(), "works", 2, 10)
	if diff := cmp.Diff([]store.Revision{one}, down); err != nil || diff != "" {
		t.Error(err, diff)
	}
	if n := sound(t, s); n != (store.Counts{Projects: 2, Parts: 4, Revisions: 3, Heads: 2}) {
		t.Errorf("%+v", n)
	}
}

// resend: what was sent twice is kept once, whether or not others saved since.
func resend(t *testing.T, p Place) {
	s := p.Store(t)
	begin(t, s, "works")
	d := draft("works", "", 1, "a", "1")
	one := save(t, s, d)
	if again := save(t, s, d); again.ID != one.ID || again.Number != 1 {
		t.Errorf("%+v", again)
	}
	side := draft("works", one.ID, 2, "a", "side")
	side.Head = ""
	aside := save(t, s, side)
	two := save(t, s, draft("works", one.ID, 3, "a", "2"))
	merged := draft("works", two.ID, 4, "a", "3")
	merged.Merged = aside.ID
	three := save(t, s, merged)
	for _, x := range []struct {
		d    store.Draft
		want store.Revision
	}{{d, one}, {side, aside}, {merged, three}} {
		if again := save(t, s, x.d); again.ID != x.want.ID || again.Number != x.want.Number {
			t.Errorf("sent again, revision %d is %d", x.want.Number, again.Number)
		}
	}
	side.Head, side.Expect = store.Main, one.ID // it is below the head already, by the merge
	if again := save(t, s, side); again.ID != aside.ID {
		t.Errorf("%+v", again)
	}
	if three.Number != 4 {
		t.Errorf("numbers have gaps: the fourth is %d", three.Number)
	}
	heads, _ := s.Heads(t.Context(), "works")
	if heads[store.Main] != three.ID || sound(t, s).Revisions != 4 {
		t.Error("a head moved back, or something is there twice")
	}
	// One that was kept aside and is then to be the head.
	late := draft("works", three.ID, 5, "a", "late")
	late.Head = ""
	kept := save(t, s, late)
	late.Head, late.Expect = store.Main, three.ID
	if got := save(t, s, late); got.ID != kept.ID {
		t.Errorf("%+v", got)
	}
	if heads, _ = s.Heads(t.Context(), "works"); heads[store.Main] != kept.ID {
		t.Error("the head did not move")
	}
}

func headMoved(t *testing.T, p Place) {
	s := p.Store(t)
	begin(t, s, "works")
	one := save(t, s, draft("works", "", 1, "a", "1"))
	save(t, s, draft("works", one.ID, 2, "a", "2"))
	for _, parent := range []store.ID{one.ID, ""} {
		_, err := s.Save(t.Context(), draft("works", parent, 3, "a", "3", "only here", "x"))
		var moved *store.HeadMoved
		if !errors.As(err, &moved) || moved.Now == nil || moved.Now.Number != 2 || moved.Expected != parent {
			t.Errorf("%v", err)
		}
	}
	if n := sound(t, s); n.Revisions != 2 || n.Parts != 2 {
		t.Errorf("something of it was kept: %+v", n)
	}
	built := draft("works", one.ID, 4, "a", "built")
	built.Head, built.Expect = "as-built", ""
	r := save(t, s, built)
	built.Expect = "" // a second line is another head
	heads, err := s.Heads(t.Context(), "works")
	if err != nil || len(heads) != 2 || heads["as-built"] != r.ID {
		t.Error(heads, err)
	}
	nowhere := draft("works", r.ID, 5, "a", "5")
	nowhere.Head = "issued"
	var moved *store.HeadMoved
	if _, err := s.Save(t.Context(), nowhere); !errors.As(err, &moved) || moved.Now != nil {
		t.Error(err)
	}
}

func refused(t *testing.T, p Place) {
	s := p.Store(t)
	begin(t, s, "works")
	begin(t, s, "annex")
	wantError(t, s.NewProject(t.Context(), store.Project{ID: "works", Created: epoch}), store.ErrExists)
	wantError(t, s.NewProject(t.Context(), store.Project{ID: " works", Created: epoch}), store.ErrInvalid)
	foreign := save(t, s, draft("annex", "", 1, "a", "1"))
	change := func(f func(d *store.Draft)) error {
		d := draft("works", "", 1, "a", "1")
		f(&d)
		_, err := s.Save(t.Context(), d)
		return err
	}
	wantError(t, change(func(d *store.Draft) { d.Project = "nowhere" }), store.ErrNoProject)
	wantError(t, change(func(d *store.Draft) { d.Parent = "0000" }), store.ErrNoRevision)
	wantError(t, change(func(d *store.Draft) { d.Parent = foreign.ID }), store.ErrNoRevision)
	wantError(t, change(func(d *store.Draft) { d.Merged = foreign.ID }), store.ErrNoRevision)
	wantError(t, change(func(d *store.Draft) { d.Parts["a"] = store.Part{Hash: store.HashOf([]byte("?")), Size: 1} }), store.ErrNoPart)
	wantError(t, change(func(d *store.Draft) { d.Parts["a"] = store.Part{Hash: store.HashOf([]byte("1")), Size: 7} }), store.ErrNoPart)
	wantError(t, change(func(d *store.Draft) { d.Parts["a"] = store.Part{Hash: store.HashOf(nil), Data: []byte("?"), Size: 1} }), store.ErrInvalid)
	wantError(t, change(func(d *store.Draft) { d.Author = "" }), store.ErrInvalid)
	wantError(t, change(func(d *store.Draft) { d.Note = "a\x00b" }), store.ErrInvalid)
	wantError(t, change(func(d *store.Draft) { d.Note = "\xff" }), store.ErrInvalid)
	wantError(t, change(func(d *store.Draft) { d.Time = d.Time.AddDate(-100, 0, 0) }), store.ErrInvalid)
	wantError(t, change(func(d *store.Draft) { d.Parts[strings.Repeat("x", store.MaxName+1)] = d.Parts["a"] }), store.ErrInvalid)
	_, err := s.Revision(t.Context(), "0000")
	wantError(t, err, store.ErrNoRevision)
	_, err = s.Numbered(t.Context(), "works", 1)
	wantError(t, err, store.ErrNoRevision)
	_, err = s.Part(t.Context(), store.HashOf([]byte("?")))
	wantError(t, err, store.ErrNoPart)
	_, err = s.Heads(t.Context(), "nowhere")
	wantError(t, err, store.ErrNoProject)
	_, err = s.Records(t.Context(), "nowhere", 0, 1)
	wantError(t, err, store.ErrNoProject)
	if n := sound(t, s); n.Revisions != 1 || n.Parts != 1 {
		t.Errorf("something refused was kept: %+v", n)
	}
}

func records(t *testing.T, p Place) {
	s := p.Store(t)
	begin(t, s, "works")
	begin(t, s, "annex")
	record := func(n int) store.Record {
		return store.Record{ID: fmt.Sprint("phone-1/", n), Subject: fmt.Sprint("signal:PT-", n), Kind: "loop", Author: "bo", Time: at(n), Body: []byte(fmt.Sprintf(`{"result":"passed","n":%d}`, n))}
	}
	appended := func(want int, all ...store.Record) {
		t.Helper()
		if n, err := s.Append(t.Context(), "works", all); err != nil || n != want {
			t.Errorf("%d were new, want %d; %v", n, want, err)
		}
	}
	appended(2, record(1), record(2))
	appended(1, record(2), record(3), record(3)) // 2 is sent again, 3 comes twice
	appended(0, record(1))
	appended(0)
	changed := record(1)
	changed.Body = []byte(`{"result":"failed"}`)
	_, err := s.Append(t.Context(), "works", []store.Record{record(4), changed})
	wantError(t, err, store.ErrRecord)
	_, err = s.Append(t.Context(), "works", []store.Record{{ID: "x"}})
	wantError(t, err, store.ErrInvalid)
	_, err = s.Append(t.Context(), "nowhere", []store.Record{record(1)})
	wantError(t, err, store.ErrNoProject)
	if n, err := s.Append(t.Context(), "annex", []store.Record{record(1)}); err != nil || n != 1 {
		t.Error(n, err) // ids are a project's own
	}
	empty := record(5)
	empty.Body = nil
	appended(1, empty)

	got, err := p.Store(t).Records(t.Context(), "works", 1, 10)
	want := []store.Record{record(2), record(3), empty}
	for i := range want {
		want[i].Number = int64(i + 2)
	}
	want[2].Body = []byte{}
	if diff := cmp.Diff(want, got); err != nil || diff != "" {
		t.Error(err, diff)
	}
	if n := sound(t, s); n.Records != 5 {
		t.Errorf("%+v", n)
	}
}

// texts: what people write comes back as they wrote it.
func texts(t *testing.T, p Place) {
	s := p.Store(t)
	for i, text := range []string{"plain", "Wasserwerk Süd – Pumpenhaus", "it's \"quoted\"; -- $1 %s \\", "浄水場", "e\u0301 and é", "two\nlines\tand a tab", "😀 \u202e"} {
		id := fmt.Sprint("p", i)
		if err := s.NewProject(t.Context(), store.Project{ID: id, Name: text, Created: epoch}); err != nil {
			t.Fatal(err)
		}
		d := draft(id, "", i, "naïve name/"+fmt.Sprint(i), text)
		d.Note, d.Author = text, strings.NewReplacer("\n", " ", "\t", " ").Replace(text)
		want := save(t, s, d)
		got, err := s.Revision(t.Context(), want.ID)
		if diff := cmp.Diff(want, got); err != nil || diff != "" || got.Note != text {
			t.Error(err, diff)
		}
	}
	all := make([]byte, 70_000) // not compressible, and every byte
	x := uint32(1)
	for i := range all {
		x = x*1664525 + 1013904223
		all[i] = byte(x >> 24)
	}
	heads, _ := s.Heads(t.Context(), "p0")
	r := save(t, s, draft("p0", heads[store.Main], 9, "bytes", string(all)))
	data, err := s.Part(t.Context(), r.Parts["bytes"].Hash)
	if err != nil || !bytes.Equal(data, all) {
		t.Error("bytes changed", err)
	}
}
