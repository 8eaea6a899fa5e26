// Package postgres keeps a store in a PostgreSQL database, for a team with any number of servers beside
// each other.
//
// The database, or the schema that the URL's search_path names, is the store's own: where it holds
// other tables it is refused. Commits are on the server's disk before they are confirmed, whatever the
// server's default says.
package postgres
