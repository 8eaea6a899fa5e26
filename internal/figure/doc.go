// Package figure holds what the rooms share that compute the figures of a finished design: a view of
// where everything sits, and the records that many figures lean on (hot conductors, ambient
// temperatures, the cable of a signal).
//
// Begin with Look. Which figures there are is decided in circuit (signals), power (groups, supply
// units, feeders, enclosures) and network (times and loads); rules read them through View.Figure. The
// package decides nothing and never does I/O.
package figure
