// Package sqlite keeps a store in one file, without a server.
//
// Commits go to a log beside the file (FILE-wal) and are on the disk before they are confirmed; the log
// is folded into the file now and then, and when the last user closes it. Copying the file alone while
// it is in use can miss the newest revisions: use a backup.
//
// Open looks before it touches: a file that is damaged, of something else or of a newer tool is refused
// and stays as it is to the byte.
package sqlite
