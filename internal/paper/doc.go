// Package paper is the one page model of every sheet: formats, frame, title block with revision block and
// status, and text, tables and forms that flow from sheet to sheet.
//
// Begin with a Setting (what holds for a whole pack). Open gives one sheet with its frame and title block
// and the rectangle that is left free; a drawing fills that by itself. Flow fills sheet after sheet with
// headings, paragraphs and tables. Finish, over the whole pack in its order, gives the sheets their numbers
// and writes "page 3 of 120" and the numbers of sheets referred to into them.
//
// Lengths are millimetres. The package knows no station and computes no figure.
package paper
