// Package regmap writes where each signal stands in the Modbus tables of its station: as JSON
// (docs/modbus-map.schema.json), CSV and Markdown.
//
// Build gathers the map from the points and proves it: no two signals of a station share a bit or
// register of one table, and no number is beyond 65535. Source: MODBUS Application Protocol Specification V1.1b3 (tables,
// function codes, 16-bit addresses); that a 32-bit value takes two registers with the high word first, and that people count from 0 or 1, is common
// practice, so both are printed on every map.
package regmap
