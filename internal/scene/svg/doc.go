// Package svg writes a sheet as SVG 1.1 (W3C Recommendation, 16 August 2011), in millimetres. Begin with
// Bytes.
//
// The text names the Go fonts and gives each line its true length, so that a viewer without them keeps
// every text in its place. Layers become groups, subjects and roles data attributes. The same sheet gives
// the same bytes: fixed decimals, fixed order of attributes, no date.
package svg
