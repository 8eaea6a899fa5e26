package quantity

// Each physical quantity reads and prints itself. Parse functions want a unit, take a decimal comma
// for a point, and refuse what they do not understand with a SyntaxError that says what is wrong; the
// unit's usual spellings (mm², Ω, °C, µA) are taken. The second argument of Parse is the unit of a bare
// number; "" means that a bare number is refused. String prints digits that read back to the same value.

// ParseVoltage reads a voltage such as "24 V" and returns it in volts; units V, mV, uV, kV.
func ParseVoltage(text, bareUnit string) (Voltage, error) {
	v, err := voltages.parse(text, bareUnit)
	return Voltage(v), err
}

// MustParseVoltage is ParseVoltage for tests and tables: it panics on an error and wants a unit.
func MustParseVoltage(text string) Voltage { return must(ParseVoltage(text, "")) }

// String prints like "24 V".
func (v Voltage) String() string { return voltages.format(float64(v)) }

// ParseCurrent reads a current such as "4 mA" and returns it in amperes; units A, mA, uA, kA.
func ParseCurrent(text, bareUnit string) (Current, error) {
	v, err := currents.parse(text, bareUnit)
	return Current(v), err
}

// MustParseCurrent is ParseCurrent for tests and tables: it panics on an error and wants a unit.
func MustParseCurrent(text string) Current { return must(ParseCurrent(text, "")) }

// String prints like "4 mA".
func (v Current) String() string { return currents.format(float64(v)) }

// ParseResistance reads a resistance such as "250 ohm" and returns it in ohms; units ohm, mohm, kohm, Mohm.
func ParseResistance(text, bareUnit string) (Resistance, error) {
	v, err := resistances.parse(text, bareUnit)
	return Resistance(v), err
}

// MustParseResistance is ParseResistance for tests and tables: it panics on an error and wants a unit.
func MustParseResistance(text string) Resistance { return must(ParseResistance(text, "")) }

// String prints like "250 ohm".
func (v Resistance) String() string { return resistances.format(float64(v)) }

// ParseResistancePerLength reads a resistance per length such as "7.98 ohm/km" and returns it in ohms per metre; units ohm/km, ohm/m, mohm/m.
func ParseResistancePerLength(text, bareUnit string) (ResistancePerLength, error) {
	v, err := perLengths.parse(text, bareUnit)
	return ResistancePerLength(v), err
}

// MustParseResistancePerLength is ParseResistancePerLength for tests and tables: it panics on an error and wants a unit.
func MustParseResistancePerLength(text string) ResistancePerLength {
	return must(ParseResistancePerLength(text, ""))
}

// String prints like "7.98 ohm/km".
func (v ResistancePerLength) String() string { return perLengths.format(float64(v)) }

// ParsePower reads a power such as "8 W" and returns it in watts; units W, mW, uW, kW.
func ParsePower(text, bareUnit string) (Power, error) {
	v, err := powers.parse(text, bareUnit)
	return Power(v), err
}

// MustParsePower is ParsePower for tests and tables: it panics on an error and wants a unit.
func MustParsePower(text string) Power { return must(ParsePower(text, "")) }

// String prints like "8 W".
func (v Power) String() string { return powers.format(float64(v)) }

// ParseEnergy reads an energy such as "0.15 J" and returns it in joules; units J, mJ, uJ, kJ, Wh, kWh.
func ParseEnergy(text, bareUnit string) (Energy, error) {
	v, err := energies.parse(text, bareUnit)
	return Energy(v), err
}

// MustParseEnergy is ParseEnergy for tests and tables: it panics on an error and wants a unit.
func MustParseEnergy(text string) Energy { return must(ParseEnergy(text, "")) }

// String prints like "0.15 J".
func (v Energy) String() string { return energies.format(float64(v)) }

// ParseLength reads a length such as "12.5 m" and returns it in metres; units m, mm, cm, km.
func ParseLength(text, bareUnit string) (Length, error) {
	v, err := lengths.parse(text, bareUnit)
	return Length(v), err
}

// MustParseLength is ParseLength for tests and tables: it panics on an error and wants a unit.
func MustParseLength(text string) Length { return must(ParseLength(text, "")) }

// String prints like "12.5 m".
func (v Length) String() string { return lengths.format(float64(v)) }

// ParseArea reads an area such as "1.2 m2" and returns it in square metres; units m2, cm2.
func ParseArea(text, bareUnit string) (Area, error) {
	v, err := areas.parse(text, bareUnit)
	return Area(v), err
}

// MustParseArea is ParseArea for tests and tables: it panics on an error and wants a unit.
func MustParseArea(text string) Area { return must(ParseArea(text, "")) }

// String prints like "1.2 m2".
func (v Area) String() string { return areas.format(float64(v)) }

// ParseCrossSection reads a cross section such as "2.5 mm2" and returns it in square millimetres; units mm2.
func ParseCrossSection(text, bareUnit string) (CrossSection, error) {
	v, err := sections.parse(text, bareUnit)
	return CrossSection(v), err
}

// MustParseCrossSection is ParseCrossSection for tests and tables: it panics on an error and wants a unit.
func MustParseCrossSection(text string) CrossSection { return must(ParseCrossSection(text, "")) }

// String prints like "2.5 mm2".
func (v CrossSection) String() string { return sections.format(float64(v)) }

// ParseTemperature reads a temperature such as "40 degC" and returns it in degrees Celsius; units degC, C.
func ParseTemperature(text, bareUnit string) (Temperature, error) {
	v, err := temperatures.parse(text, bareUnit)
	return Temperature(v), err
}

// MustParseTemperature is ParseTemperature for tests and tables: it panics on an error and wants a unit.
func MustParseTemperature(text string) Temperature { return must(ParseTemperature(text, "")) }

// String prints like "40 degC".
func (v Temperature) String() string { return temperatures.format(float64(v)) }

// ParseTemperatureRise reads a temperature rise such as "20 K" and returns it in kelvins; units K.
func ParseTemperatureRise(text, bareUnit string) (TemperatureRise, error) {
	v, err := rises.parse(text, bareUnit)
	return TemperatureRise(v), err
}

// MustParseTemperatureRise is ParseTemperatureRise for tests and tables: it panics on an error and wants a unit.
func MustParseTemperatureRise(text string) TemperatureRise {
	return must(ParseTemperatureRise(text, ""))
}

// String prints like "20 K".
func (v TemperatureRise) String() string { return rises.format(float64(v)) }

// ParseDuration reads a duration such as "20 ms" and returns it in seconds; units s, ms, us, min, h.
func ParseDuration(text, bareUnit string) (Duration, error) {
	v, err := durations.parse(text, bareUnit)
	return Duration(v), err
}

// MustParseDuration is ParseDuration for tests and tables: it panics on an error and wants a unit.
func MustParseDuration(text string) Duration { return must(ParseDuration(text, "")) }

// String prints like "20 ms".
func (v Duration) String() string { return durations.format(float64(v)) }

// ParseFrequency reads a frequency such as "50 Hz" and returns it in hertz; units Hz, kHz, MHz.
func ParseFrequency(text, bareUnit string) (Frequency, error) {
	v, err := frequencies.parse(text, bareUnit)
	return Frequency(v), err
}

// MustParseFrequency is ParseFrequency for tests and tables: it panics on an error and wants a unit.
func MustParseFrequency(text string) Frequency { return must(ParseFrequency(text, "")) }

// String prints like "50 Hz".
func (v Frequency) String() string { return frequencies.format(float64(v)) }

// ParseCapacitance reads a capacitance such as "5 nF" and returns it in farads; units F, mF, uF, nF, pF.
func ParseCapacitance(text, bareUnit string) (Capacitance, error) {
	v, err := capacitances.parse(text, bareUnit)
	return Capacitance(v), err
}

// MustParseCapacitance is ParseCapacitance for tests and tables: it panics on an error and wants a unit.
func MustParseCapacitance(text string) Capacitance { return must(ParseCapacitance(text, "")) }

// String prints like "5 nF".
func (v Capacitance) String() string { return capacitances.format(float64(v)) }

// ParseInductance reads an inductance such as "4.2 mH" and returns it in henries; units H, mH, uH, nH.
func ParseInductance(text, bareUnit string) (Inductance, error) {
	v, err := inductances.parse(text, bareUnit)
	return Inductance(v), err
}

// MustParseInductance is ParseInductance for tests and tables: it panics on an error and wants a unit.
func MustParseInductance(text string) Inductance { return must(ParseInductance(text, "")) }

// String prints like "4.2 mH".
func (v Inductance) String() string { return inductances.format(float64(v)) }

// ParseCharge reads a charge such as "1 C" and returns it in coulombs; units C, mC, Ah.
func ParseCharge(text, bareUnit string) (Charge, error) {
	v, err := charges.parse(text, bareUnit)
	return Charge(v), err
}

// MustParseCharge is ParseCharge for tests and tables: it panics on an error and wants a unit.
func MustParseCharge(text string) Charge { return must(ParseCharge(text, "")) }

// String prints like "1 C".
func (v Charge) String() string { return charges.format(float64(v)) }
