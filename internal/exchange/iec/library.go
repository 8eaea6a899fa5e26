package iec

import (
	"fmt"
	"strings"
)

// library are the functions that a file may need, one set for each signed type of raw counts. Source of
// the fault limits: NAMUR NE 43 (3.6 mA and 21 mA); the rest is a straight line through two points.
func library() []Function {
	var all []Function
	for _, t := range []string{"SINT", "INT", "DINT"} {
		all = append(all, scaleFunction(t), rawFunction(t), faultFunction(t))
	}
	return all
}

func functionNames() []string {
	var out []string
	for _, f := range library() {
		out = append(out, f.Name)
	}
	return out
}

func inputs(first Variable, more ...string) []Variable {
	out := []Variable{first}
	for _, name := range more {
		out = append(out, Variable{Name: name, Type: "REAL"})
	}
	return out
}

// An input may not be written inside a function (IEC 61131-3, VAR_INPUT), so each has a local for its result.
func local(name string) []Variable { return []Variable{{Name: name, Type: "REAL"}} }

func scaleFunction(t string) Function {
	return Function{
		Name: "RW_SCALE_" + t, Result: "REAL", Note: "raw count to value: the straight line through two points",
		Inputs: inputs(Variable{Name: "RAW", Type: t}, "RAW_LOW", "RAW_HIGH", "VALUE_LOW", "VALUE_HIGH"),
		Body: []string{
			fmt.Sprintf("RW_SCALE_%s := VALUE_LOW + (%s_TO_REAL(RAW) - RAW_LOW) * (VALUE_HIGH - VALUE_LOW) / (RAW_HIGH - RAW_LOW);", t, t),
		},
	}
}

func rawFunction(t string) Function {
	return Function{
		Name: "RW_RAW_" + t, Result: t, Note: "value to raw count, kept between the two ends",
		Inputs: inputs(Variable{Name: "VALUE", Type: "REAL"}, "RAW_LOW", "RAW_HIGH", "VALUE_LOW", "VALUE_HIGH"),
		Locals: local("COUNTS"),
		Body: strings.Split(strings.ReplaceAll(`COUNTS := RAW_LOW + (VALUE - VALUE_LOW) * (RAW_HIGH - RAW_LOW) / (VALUE_HIGH - VALUE_LOW);
IF COUNTS < RAW_LOW THEN
  COUNTS := RAW_LOW;
ELSIF COUNTS > RAW_HIGH THEN
  COUNTS := RAW_HIGH;
END_IF;
RW_RAW_# := REAL_TO_#(COUNTS);`, "#", t), "\n"),
	}
}

func faultFunction(t string) Function {
	return Function{
		Name: "RW_FAULT_" + t, Result: "BOOL", Note: "4 to 20 mA: 3.6 mA or less, or 21 mA or more, is no measurement (NAMUR NE 43)",
		Inputs: inputs(Variable{Name: "RAW", Type: t}, "RAW_LOW", "RAW_HIGH"),
		Locals: local("MILLIAMPS"),
		Body: []string{
			fmt.Sprintf("MILLIAMPS := 4.0 + (%s_TO_REAL(RAW) - RAW_LOW) * 16.0 / (RAW_HIGH - RAW_LOW);", t),
			fmt.Sprintf("RW_FAULT_%s := (MILLIAMPS <= 3.6) OR (MILLIAMPS >= 21.0);", t),
		},
	}
}
