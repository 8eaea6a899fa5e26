// Package store keeps projects: their revisions, and the records that are only ever added to.
//
// Begin with Store, the one interface; store/sqlite keeps a store in one file, store/postgres in a
// database for a team, store/storetest is the suite that both pass. SaveMerged is how people save
// who may work beside each other; Backup and Restore move a store between the two keepers.
//
// A revision is a set of parts, each known by the SHA-256 of its content, with parent, author, time
// and note. Its id is the SHA-256 of all that, so a revision never changes, one that was sent twice is
// kept once, and one that was damaged on the disk is noticed when it is read. Only heads move, each by
// compare-and-set. Nothing is ever deleted.
//
// The package keeps bytes; what a part means is the caller's affair.
package store
