// Package exi compares the stated data of intrinsically safe circuits. It approves nothing: the
// competent person decides, under the local rules, with the certificates at hand.
//
// Begin with Compare. It holds one source (associated apparatus: barrier, isolator or Ex i channel)
// against the devices and the cable of one circuit: voltage, current, power, capacitance and
// inductance with the 1 % rule, level of protection against zone, gas group. Data that are not
// stated are reported as missing, never taken as zero.
//
// Source: IEC 60079-14:2013 clause 16 and IEC 60079-25, the 1 % rule and the cable defaults from
// memory.
package exi
