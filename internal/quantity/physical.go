package quantity

// Physical quantities in SI units. The zero value of each is zero of its unit.
type (
	Voltage             float64 // volts
	Current             float64 // amperes
	Resistance          float64 // ohms
	ResistancePerLength float64 // ohms per metre of one core
	Power               float64 // watts
	Energy              float64 // joules
	Length              float64 // metres
	Area                float64 // square metres (surfaces); conductor sections use CrossSection
	CrossSection        float64 // square millimetres, the trade's unit for conductors
	Temperature         float64 // degrees Celsius
	TemperatureRise     float64 // kelvins
	Duration            float64 // seconds
	Frequency           float64 // hertz
	Capacitance         float64 // farads
	Inductance          float64 // henries
	Charge              float64 // coulombs
)

// Through returns the voltage that the current i drops across r.
func (i Current) Through(r Resistance) Voltage { return Voltage(float64(i) * float64(r)) }

// Times returns the power that the current i takes from the voltage u.
func (u Voltage) Times(i Current) Power { return Power(float64(u) * float64(i)) }

// Over returns the current that u drives through r; r must not be zero.
func (u Voltage) Over(r Resistance) Current { return Current(float64(u) / float64(r)) }

// Of returns the resistance of one core of length l.
func (r ResistancePerLength) Of(l Length) Resistance { return Resistance(float64(r) * float64(l)) }

// Milliamps returns the current in milliamperes.
func (i Current) Milliamps() float64 { return float64(i) * 1e3 }
