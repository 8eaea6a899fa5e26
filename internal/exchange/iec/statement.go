package iec

// Statements are the lines of the program's body; never none.
func (u *Unit) Statements() []string { return body(u) }

// Locals are the program's own variables.
func (u *Unit) Locals() []Variable {
	if len(u.Body) == 0 {
		return []Variable{idle}
	}
	return nil
}
