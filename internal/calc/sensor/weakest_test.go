package sensor_test

import (
	"testing"

	"railwright/internal/calc/calctest"
	"railwright/internal/calc/sensor"
	"railwright/internal/quantity"
)

// Source: the printed sensitivities of IEC 60751 tables (Pt100: 0.3908 ohm/K at 0, 0.3791 at 100, from memory)
// and of thermocouple tables (uV/K, from memory of handbooks: K 39.4 at 0, 40.0 at 900; S 5.4 at 0, 12.0 at 1400; type K is
// weakest inside 0 to 1200 degC at its hot end, 36.5).
func TestWeakestPoint(t *testing.T) {
	at, slope := weakestOf(sensor.Pt100.Weakest(0, 100))
	calctest.Near(t, "Pt100 at", at, 100, 1e-9)
	calctest.Near(t, "Pt100", slope, 0.3792, 2e-4)
	at, slope = weakestOf(sensor.Pt100.Weakest(-300, 0))
	calctest.Near(t, "Pt100 cut at", at, 0, 1e-9)
	calctest.Near(t, "Pt100 cold", slope, 0.39083, 1e-9)
	at, slope = weakestOf(sensor.Ni100.Weakest(0, 100))
	calctest.Near(t, "Ni100 at", at, 0, 1e-9)
	calctest.Near(t, "Ni100", slope, 0.5485, 1e-9)
	at, slope = weakestOf(sensor.TypeK.Weakest(0, 900))
	calctest.Near(t, "K at", at, 0, 1e-9)
	calctest.Near(t, "K", slope*1e6, 39.4, 0.1)
	at, slope = weakestOf(sensor.TypeK.Weakest(0, 1200))
	calctest.Near(t, "K hot at", at, 1200, 1e-9)
	calctest.Near(t, "K hot", slope*1e6, 36.5, 0.2)
	_, slope = weakestOf(sensor.TypeS.Weakest(0, 1400))
	calctest.Near(t, "S", slope*1e6, 5.4, 0.05)
	at, slope = weakestOf(sensor.TypeB.Weakest(0, 1700))
	calctest.Near(t, "B at", at, 600, 1e-9)
	calctest.Near(t, "B", slope*1e6, 6.0, 0.1)
	if _, _, err := sensor.Thermocouple("Q").Weakest(0, 1); err == nil {
		t.Error("type Q is known")
	}
}

func weakestOf(at quantity.Temperature, slope float64, err error) (float64, float64) {
	if err != nil {
		panic(err)
	}
	return float64(at), slope
}
