// Package keeper is the store in SQL that SQLite and PostgreSQL share: one set of statements and, but
// for what each can enforce by itself, one set of migrations. sqlite and postgres open their databases
// and hand them to New.
//
// Every save of a project first raises the project's counter. In PostgreSQL that locks the row until
// the transaction ends, in SQLite the whole file is locked; so the savers of a project come one after
// the other, numbers have no gaps, and who has read up to a number has missed none.
package keeper
