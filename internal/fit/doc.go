// Package fit answers what may go together, once for all rooms: may this signal use this channel
// set, may these signals share a module, a supply group, a cable; what a signal draws; what limits
// a supply group has.
//
// Begin with MayUse for one signal and one channel set, Why for the reason that nothing suits, and
// GroupKeyOf and ModuleKeyOf for sharing. The rules are sections 2 to 7 of docs/plan-rules.md. The
// package is pure, decides nothing and never prices anything.
package fit
