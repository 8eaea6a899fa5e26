// Package extest makes random designs of any tags for the tests of the exchange rooms. It is test support: no room that
// runs in railwright imports it.
package extest
