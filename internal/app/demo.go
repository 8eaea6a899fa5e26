package app

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"railwright/internal/demo"
	"railwright/internal/folder"
	"railwright/internal/words"
)

// DemoRequest asks for the example as a folder.
type DemoRequest struct {
	Dir  string
	Weak bool // with weak spots planted, for the rules to find

	SecondYear bool // installed as planned, and the list of one year later
	Progress   func(Progress)
}

// weakFiles are the files of the example with weak spots.
func weakFiles() []File {
	var files []File
	for _, f := range demo.Weak() {
		files = append(files, File{Name: f.Name, Data: f.Data})
	}
	return files
}

// DemoResult names the files that were written.
type DemoResult struct{ Files []string }

// Demo writes the example project into a new or empty folder.
func Demo(ctx context.Context, r DemoRequest) (*DemoResult, error) {
	if r.Weak && r.SecondYear {
		return nil, usage(words.Text("app.demo_one"))
	}
	entries, err := os.ReadDir(r.Dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return nil, outFault(r.Dir, err)
	case len(entries) > 0:
		return nil, usage(words.Text("app.not_empty", r.Dir), words.Text("app.empty_hint"))
	}
	files := exampleFiles()
	if r.Weak {
		files = weakFiles()
	}
	if err := os.MkdirAll(r.Dir, 0o755); err != nil {
		return nil, outFault(r.Dir, err)
	}
	res := &DemoResult{}
	for _, f := range files {
		path := filepath.Join(r.Dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return nil, outFault(r.Dir, err)
		}
		if err := writeSynced(path, f.Data); err != nil {
			return nil, outFault(r.Dir, err)
		}
		res.Files = append(res.Files, f.Name)
	}
	if r.SecondYear {
		res.Files = append(res.Files, folder.AcceptedFile, folder.BuiltFile, folder.ChoicesFile)
		return res, secondYear(ctx, r.Dir, r.Progress)
	}
	return res, nil
}
