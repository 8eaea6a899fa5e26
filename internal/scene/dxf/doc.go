// Package dxf writes a sheet as an ASCII drawing exchange file of release 12 (AC1009), the oldest form
// that every drawing program still opens. One drawing unit is one millimetre; y points up. Begin with Bytes.
//
// Layers stay layers. Each text is fitted between its two ends, so that it keeps its place in any font.
// Subject and role of an item follow it as extended data of the application RAILWRIGHT.
//
// Source: the group codes are those of the published DXF reference for release 12, from memory; the
// package's tests let an independent reader judge the files.
package dxf
