// Package scene is a sheet as data: lines, shapes and texts in millimetres, each tied to the subject it
// shows. Writers beside it (svg, pdf, dxf) put the same sheet on paper, screen and into drawing programs;
// goldens and tests read the data.
//
// The origin is the top left corner, x to the right, y down. Angles are degrees, clockwise as seen. Layers
// are painted in order, items in order within them.
package scene
