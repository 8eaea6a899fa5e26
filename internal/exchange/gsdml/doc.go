// Package gsdml reads GSDML files, the XML device descriptions that ISO 15745-4 defines and whose
// specification is published, into entries of the hardware list.
//
// Each device access point becomes a coupler and a construction, each module that it can use a module with
// its bytes and channel sets. What is mapped and what is not stands in docs/exchange.md; what cannot be mapped is a
// finding (DEV-003 to DEV-009), never silence.
package gsdml
