// Package device gathers what a device description says of hardware, as entries of hardware.toml with gaps.
//
// A description carries modules, bytes, slots and limits, but no current, price, width or terminals. gsdml
// and eds fill a Draft with what there is; Fill adds figures that the user states for all entries; Missing and Findings say
// what the hardware list still needs; TOML writes the entries, each needed key that is missing as a line to
// be filled in. hardware.Parse and Check judge the filled file.
package device
