package app

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"railwright/internal/words"
)

// File is one file to be written, its name with forward slashes and relative to the folder.
type File struct {
	Name string
	Data []byte
}

// manifestName is the file that says which files of a folder are ours.
const manifestName = "manifest.json"

// manifest lists the files that were written, so that a later run knows its own from foreign ones.
type manifest struct {
	Format string          `json:"format"`
	Files  []manifestEntry `json:"files"`
}

type manifestEntry struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
	Before string `json:"before,omitempty"` // while a set is being replaced: what stood there before
}

const manifestFormat = "railwright-files/1"

func sumOf(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}

// writeSet writes files into dir so that no file is ever half written: all are written beside their
// places first and then renamed. A file that stands there already and was not written by this tool,
// or was changed since, is not touched: the whole set is refused with a Usage fault that names it,
// unless overwrite is set. Files of an earlier set that are not in this one are removed.
func writeSet(dir string, files []File, overwrite bool) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return outFault(dir, err)
	}
	old, err := readManifest(dir)
	if err != nil {
		return err
	}
	next := manifest{Format: manifestFormat}
	var foreign []string
	for _, f := range files {
		e := manifestEntry{Name: f.Name, SHA256: sumOf(f.Data)}
		now, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(f.Name)))
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return outFault(dir, err)
		default:
			e.Before = sumOf(now)
			if !old.wrote(f.Name, e.Before) && e.Before != e.SHA256 {
				foreign = append(foreign, f.Name)
			}
		}
		next.Files = append(next.Files, e)
	}
	if len(foreign) > 0 && !overwrite {
		return foreignFault(dir, foreign)
	}
	if err := replaceAll(dir, files, next); err != nil {
		return outFault(dir, err)
	}
	return removeStale(dir, old, next)
}

func readManifest(dir string) (manifest, error) {
	var m manifest
	data, err := os.ReadFile(filepath.Join(dir, manifestName))
	if errors.Is(err, fs.ErrNotExist) {
		return m, nil
	}
	if err != nil {
		return m, outFault(dir, err)
	}
	if json.Unmarshal(data, &m) != nil || m.Format != manifestFormat {
		return manifest{}, usage(words.Text("app.foreign_manifest", filepath.Join(dir, manifestName)), words.Text("app.other_folder"))
	}
	return m, nil
}

// wrote reports whether a file with this content was written by an earlier run.
func (m manifest) wrote(name, sum string) bool {
	return slices.ContainsFunc(m.Files, func(e manifestEntry) bool { return e.Name == name && (e.SHA256 == sum || e.Before == sum) })
}

func (m manifest) bytes() []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	if err := e.Encode(m); err != nil {
		panic(err) // only texts go in
	}
	return b.Bytes()
}

// replaceAll writes all files into a folder inside dir and then renames each to its place. The
// manifest names old and new content meanwhile, so that a run that was cut off can be repeated.
func replaceAll(dir string, files []File, next manifest) error {
	temp, err := os.MkdirTemp(dir, ".writing-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(temp)
	err = each(context.Background(), len(files), func(i int) error {
		return writeSynced(filepath.Join(temp, fmt.Sprint(i)), files[i].Data)
	})
	if err != nil {
		return err
	}
	if err := replaceOne(dir, temp, manifestName, next.bytes()); err != nil {
		return err
	}
	for i, f := range files {
		target := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
			return err
		}
		if err := os.Rename(filepath.Join(temp, fmt.Sprint(i)), target); err != nil {
			return err
		}
	}
	for i := range next.Files {
		next.Files[i].Before = ""
	}
	return replaceOne(dir, temp, manifestName, next.bytes())
}

func replaceOne(dir, temp, name string, data []byte) error {
	at := filepath.Join(temp, "one")
	if err := writeSynced(at, data); err != nil {
		return err
	}
	return os.Rename(at, filepath.Join(dir, name))
}

func writeSynced(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	if _, err := f.Write(data); err != nil {
		f.Close()
		return err
	}
	if err := f.Sync(); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// removeStale removes what an earlier set had and this one has not, if nobody changed it since.
func removeStale(dir string, old, next manifest) error {
	for _, e := range old.Files {
		if slices.ContainsFunc(next.Files, func(n manifestEntry) bool { return n.Name == e.Name }) || !filepath.IsLocal(filepath.FromSlash(e.Name)) {
			continue
		}
		path := filepath.Join(dir, filepath.FromSlash(e.Name))
		data, err := os.ReadFile(path)
		if err != nil || sumOf(data) != e.SHA256 {
			continue
		}
		if err := os.Remove(path); err != nil {
			return outFault(dir, err)
		}
	}
	return nil
}

func outFault(dir string, err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	f := broken(words.Text("app.cannot_write", dir), err)
	if errors.Is(err, fs.ErrPermission) || errors.Is(err, fs.ErrExist) || strings.Contains(err.Error(), "not a directory") {
		f.Kind = Usage
		f.Hints = []string{words.Text("app.other_folder")}
	}
	return f
}

func foreignFault(dir string, names []string) error {
	f := usage(words.Text("app.foreign", dir, words.Count(len(names), "file"), strings.Join(firstOf(names, 5), ", ")),
		words.Text("app.other_folder"), words.Text("app.overwrite"))
	return f
}

func firstOf(names []string, n int) []string {
	if len(names) <= n {
		return names
	}
	return append(slices.Clone(names[:n]), "...")
}
