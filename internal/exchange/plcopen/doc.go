// Package plcopen writes an IEC 61131-3 source as PLCopen XML, the exchange form that IEC 61131-10 grew from
// (PLCopen TC6, version 2.01, namespace http://www.plcopen.org/xml/tc6_0201), and reads its variables back.
//
// Write prints what iec.Build made; Read returns the located and plain globals of any file of that
// namespace. The published schema wants a date of creation; a design bears none, so the one given is written.
package plcopen
