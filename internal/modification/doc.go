// Package modification compares two designs and tells the physical steps from the one that is installed to
// the one that shall be: what to isolate, what goes out of service meanwhile, what to unland, take out, fit,
// land, set, load, label and test, in which order, and the way back.
//
// Begin with Between. A design is looked at as facts (State): which module sits in which slot, which core is
// landed on which terminal. A step changes facts; all steps together change the facts of the old design into
// those of the new one and nothing else.
//
// Order. Work on terminals needs its supply group off, work on slots its whole station. Each such unit is
// isolated at most once (an outage); units are off together only where cores cross between them. So, first, as
// few signals as possible go out of service, each once; second, each core is handled once; third, of all such
// orders the one is taken with the fewest signals out at any one time. Tests hold that against every choice of
// what to switch off and against every order.
//
// The package plans nothing, computes no figure and never does I/O.
package modification
