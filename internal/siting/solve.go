package siting

// Solve returns the best design it finds for the instance, with its lower bound.
func Solve(in Instance, opt Options) (Result, error) {
	panic("siting: not yet")
}
