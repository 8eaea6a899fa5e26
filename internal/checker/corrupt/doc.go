// Package corrupt spoils a valid design.json in many small ways, each of which a checker must
// notice. All lists the corruptions; Missed applies each to a design and tells which went unseen.
// It works on plain JSON, so it knows neither the planner's structures nor the checker's.
package corrupt
