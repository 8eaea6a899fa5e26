// Package caex writes the stations, modules, channels and signals of a design as CAEX 3.0 (IEC 62424), with the
// roles and interfaces that AutomationML (IEC 62714-1) wants, and reads its own files back.
//
// Build gathers the Plant; Write prints it, Read returns it. Every object has an ID made from its own id, so that the next export of a design names
// the same things alike. A signal and its channel are joined by an InternalLink between an interface
// of each. The files hold the few standard classes that they refer to, so that no other file is needed.
package caex
