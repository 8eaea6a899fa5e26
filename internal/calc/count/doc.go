// Package count declares the formulas of counting: sums of currents, lengths, bytes and money, cable
// lengths with allowance and waste, what a supply unit must give. They are as plain as they look;
// they are declared so that each counted figure of a design carries its working like any other.
//
// The deciding rooms count the same things in whole numbers (docs/plan-rules.md); the figures agree
// because every input is a whole number of the smallest unit.
package count
