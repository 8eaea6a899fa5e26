// Package extest holds designs for the tests of the exchange rooms: the built-in example, planned once, and random
// ones of any tags. It is test support: no room that runs in railwright imports it.
package extest
