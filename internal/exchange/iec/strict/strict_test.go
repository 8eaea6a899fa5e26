package strict

import (
	"strings"
	"testing"
)

const good = `(* a *)
FUNCTION F : REAL
  VAR_INPUT
    A : INT;
  END_VAR
  VAR
    B : REAL;
  END_VAR
  B := INT_TO_REAL(A) * 2.5E-1;
  IF B < 0.0 THEN
    B := 0.0;
  ELSIF (B > 9.0) AND NOT (B = 10.0) THEN
    B := -9.0;
  ELSE
    B := B;
  END_IF;
  F := B;
END_FUNCTION
PROGRAM P
  VAR_EXTERNAL
    X : INT;
    Y : REAL;
  END_VAR
  Y := F(A := X);
END_PROGRAM
CONFIGURATION C
  VAR_GLOBAL
    X AT %IW4 : INT; (* tag *)
    Z AT %IX0.7 : BOOL;
    Y : REAL := -1.5;
  END_VAR
  RESOURCE RES ON T1
    TASK K(INTERVAL := T#20ms, PRIORITY := 1);
    PROGRAM I WITH K : P;
  END_RESOURCE
END_CONFIGURATION
`

func read(src string) error {
	f, err := Parse([]byte(src))
	if err != nil {
		return err
	}
	return f.Check(Options{})
}

// TestJudge: the judge takes what is right and refuses each fault that a compiler would refuse, and the
// overlaps that some let through. Each change is one fault.
func TestJudge(t *testing.T) {
	if err := read(good); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ old, new, want string }{
		{"X AT", "1X AT", "want a name"},
		{"    X AT", "    X__1 AT", "underscores"},
		{"    X AT", "    X_ AT", "underscore"},
		{"    X AT", "    IF AT", "keyword"},
		{"    X AT", "    LIMIT AT", "standard function"},
		{"    Z AT", "    x AT", "given twice"},
		{"Z AT %IX0.7", "Z AT %IX5.7", "overlaps"},
		{"Z AT %IX0.7", "Z AT %IX0.8", "beyond its unit"},
		{"Z AT %IX0.7", "Z AT %IX0", "wrong number of levels"},
		{"Z AT %IX0.7", "Z AT %MX0.7", "area"},
		{"%IX0.7 : BOOL", "%IB0 : BOOL", "holds 8 bits"},
		{"%IW4 : INT", "%IW04 : INT", "faulty number"},
		{"Y : REAL := -1.5", "Y : REAL := 1", "initial value"},
		{"(* tag *)", "(* t\u00e4g *)", "not ASCII"},
		{"(* tag *)", "(* (* *) *)", "comment inside"},
		{"(* tag *)", "(* tag", "without end"},
		{"    A : INT;", "    A;", `want ":"`},
		{"2.5E-1", "2.", "no digit"},
		{"2.5E-1", "2", "REAL * whole number"},
		{"B := 0.0;", "A := 0;", "may not be written"},
		{"B := 0.0;", "Q := 0.0;", "not declared"},
		{"  F := B;\n", "", "no result"},
		{"F(A := X)", "G(A := X)", "not declared before"},
		{"F(A := X)", "F(A := Y)", "is INT, not REAL"},
		{"F(A := X)", "F(Q := X)", "no input"},
		{"Y : REAL;\n  END_VAR\n  Y", "Y : INT;\n  END_VAR\n  Y", "no global"},
		{"WITH K : P", "WITH L : P", "task"},
		{"WITH K : P", "WITH K : F", "program"},
		{"INTERVAL := T#20ms, ", "", "INTERVAL"},
		{"B < 0.0 THEN", "B THEN", "not BOOL"},
	} {
		if !strings.Contains(good, c.old) {
			t.Fatalf("%q is not in the sample", c.old)
		}
		err := read(strings.Replace(good, c.old, c.new, 1))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q for %q: %v, want %q", c.new, c.old, err, c.want)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(good))
	f.Add([]byte("PROGRAM P A := ((((((1)))))); END_PROGRAM"))
	f.Fuzz(func(t *testing.T, src []byte) {
		file, err := Parse(src)
		if err == nil {
			_ = file.Check(Options{Words: len(src)%2 == 0})
		}
	})
}
