// Package addressing gives every station its bytes in the controller's process image, every slot
// its bytes in the station, and every channel its located address (IEC 61131-3) and register.
//
// Assign works on stations whose slots and channels are laid out already; Located prints one
// address. How the figures come about stands in docs/plan-rules.md, section 8. The package never
// does I/O.
package addressing
