// Package layers holds no code that runs in railwright: it is the import table as a test.
//
// Table (table.go) names every room, says whether it is pure, and lists the rooms and the outside
// modules it may import, each fence with its reason. The test parses every non-test file of the
// module and compares. Where a new room is needed, add a row and a reason; where an import is
// refused, the reason says what to do instead.
package layers
