// Package bus knows what networks allow and how long they take.
//
// Begin with Profiles: media, lengths and counts as data, for copper and fibre Ethernet, RS-485 buses
// by bit rate and CAN by bit rate. Segment checks one segment, Segments says how many a line needs.
// PolledCycle, FrameTime, LinkLoad, SerialFrame and CANLoad give times and loads, ReactionTime the
// worst case from field to field. Times are the worst case of an undisturbed network; retries and
// other traffic on a shared link come on top.
package bus
