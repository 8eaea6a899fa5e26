// Package storetest is the suite that every keeper of a store passes (Run), the tests that kill a
// process or a server in the middle of saving, and a throw-away PostgreSQL server for them.
package storetest
