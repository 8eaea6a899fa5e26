package demo

import (
	"embed"
	"io/fs"
)

//go:embed files
var example embed.FS

// File is one file of a project folder.
type File struct {
	Name string // inside the folder, with slashes
	Data []byte
}

// Files returns the example project, in order of file names.
func Files() []File { return all(example, "files") }

func all(from embed.FS, dir string) []File {
	entries, err := fs.ReadDir(from, dir)
	if err != nil {
		panic(err) // embedded at build time
	}
	var out []File
	for _, e := range entries {
		data, err := from.ReadFile(dir + "/" + e.Name())
		if err != nil {
			panic(err)
		}
		out = append(out, File{e.Name(), data})
	}
	return out
}
