// Package folder brings a project folder in and out of the disk: project.toml, the signal list,
// choices, the accepted and the built design.
//
// Begin with Read (from disk) or Parse (from bytes, for projects that live in a store). Both return
// a Folder: the project as far as it is sound, the rows that had to be left out, and all findings of
// all files in one run, each with file, line or cell, value seen, values allowed and remedy. An error
// is returned only where nothing can be read at all; test it with errors.Is(err, ErrMissing).
//
// Sections lists every key of project.toml with unit, default and limits; docs/project-folder.md is
// made from it and from project.Columns by Reference, and a test compares.
//
// The Save functions write whole files beside the old ones and rename, so that neither a crash nor
// a full disk leaves half a file. project.toml and hardware.toml belong to the user's hand and are
// never written. The package decides nothing about the design.
package folder
