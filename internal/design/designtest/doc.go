// Package designtest holds a small design made by hand, for the tests of the rooms that read designs.
//
// Sample returns a new value each time, so a test may change it. It is test support: no room that
// runs in railwright imports it.
package designtest
