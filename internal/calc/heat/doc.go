// Package heat relates an enclosure's losses, its surface and the temperatures inside, on the hot
// side and on the cold.
//
// Begin with Surface for the effective cooling surface by kind of mounting, then Inside, LossLimit and
// CoolingNeeded for the hot side; SolarGain adds the sun. HeaterNeeded, DewPoint and RelativeInside
// look at the cold side and at condensation. AltitudeLimit, FanFlow and Curve.At derate. The whole is
// the simple balance P = k A dT: it knows one temperature inside; air at the top is warmer than that
// by some kelvins.
package heat
