// Package eds reads electronic data sheets of CAN devices (CiA 306) into entries of the hardware list.
//
// A device of the generic I/O profile (CiA 401) becomes a coupler, a construction and one module with the channels that its
// objects say; a modular device a coupler and one module for each module type that the file lists. What is
// mapped and what is not stands in docs/exchange.md; what cannot be mapped is a finding.
//
// Sheet is the file itself: sections and keys, without regard to case, as CiA 306 wants.
package eds
