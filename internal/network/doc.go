// Package network decides how controller and stations are joined: the order of stations on a line
// or ring, the tree, the star, each network cable's length against the profile's limit, and the
// stations' addresses on the network.
//
// Join works on plain distances in whole millimetres and is deterministic; Assign gives node
// addresses. The package never does I/O.
package network
