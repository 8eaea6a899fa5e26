// Package scenetest holds what every sheet must keep, for the tests of rooms that draw: texts in their
// frame and box, no text over another, no missing sign, references that find their sheet, and golden pairs
// of scene and SVG. Begin with Check and Golden.
package scenetest
