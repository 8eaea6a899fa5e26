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

// secondYear takes the written example one year on: its design is accepted and frozen, then list and choices
// become those of the second year.
func secondYear(ctx context.Context, dir string, step func(Progress)) error {
	if _, err := Plan(ctx, PlanRequest{Folder: dir, Accept: true, Progress: step}); err != nil {
		return err
	}
	if _, err := Freeze(ctx, FreezeRequest{Folder: dir, By: words.Text("demo.by"), Progress: step}); err != nil {
		return err
	}
	files, err := folder.ReadFiles(dir)
	if err != nil {
		return broken(words.Text("app.cannot_read", dir), err)
	}
	signals, choices, err := demo.SecondYear(files[folder.ListFile])
	if err != nil {
		return broken("make the second year", err)
	}
	for _, f := range []File{{folder.ListFile, signals}, {folder.ChoicesFile, choices}} {
		path := filepath.Join(dir, f.Name)
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return outFault(dir, err)
		}
		if err := writeSynced(path, f.Data); err != nil {
			return outFault(dir, err)
		}
	}
	return nil
}
