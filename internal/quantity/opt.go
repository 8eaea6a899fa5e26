package quantity

// Opt is a value that a file may leave out. The zero Opt is "left out".
type Opt[T any] struct {
	Value T
	Set   bool
}

// Some returns a value that was given.
func Some[T any](v T) Opt[T] { return Opt[T]{Value: v, Set: true} }

// Or returns the value, or def where none was given.
func (o Opt[T]) Or(def T) T {
	if o.Set {
		return o.Value
	}
	return def
}
