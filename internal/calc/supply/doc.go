// Package supply sizes supplies: what a station's loads add up to, what a unit gives at its ambient,
// how many units, how long they hold up, how they start, and what they draw from the mains.
//
// Begin with Total for a load list, Derated for a unit's current, Units for how many, Holdup and
// Battery for autonomy, StartTime and Inrush for switching on, InputCurrent for the AC feeder.
// Coincidence below 1 may only size the supply unit, never a conductor, a protection or a supply bus.
package supply
