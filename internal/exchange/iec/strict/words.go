package strict

import "strings"

// elementaryTypes and their sizes in bits (IEC 61131-3, elementary data types); 0 = not for located variables here.
var elementaryTypes = map[string]int{
	"BOOL": 1, "SINT": 8, "USINT": 8, "BYTE": 8, "INT": 16, "UINT": 16, "WORD": 16, "DINT": 32, "UDINT": 32, "DWORD": 32, "REAL": 32,
	"LINT": 64, "ULINT": 64, "LWORD": 64, "LREAL": 64, "TIME": 0,
}

// keyword holds the reserved words of the textual languages and the operators of Instruction List
// (IEC 61131-3, list of keywords and delimiters, from memory).
var keyword = words(`ABSTRACT ACTION AND ANY ARRAY AT BOOL BY BYTE CASE CLASS CONFIGURATION CONSTANT CONTINUE DATE DATE_AND_TIME DINT DO DT
	DWORD ELSE ELSIF END_ACTION END_CASE END_CLASS END_CONFIGURATION END_FOR END_FUNCTION END_FUNCTION_BLOCK END_IF END_METHOD
	END_NAMESPACE END_PROGRAM END_REPEAT END_RESOURCE END_STEP END_STRUCT END_TRANSITION END_TYPE END_VAR END_WHILE EN ENO EXIT
	EXTENDS FALSE FINAL FOR FROM FUNCTION FUNCTION_BLOCK F_EDGE IF IMPLEMENTS INITIAL_STEP INT INTERFACE INTERNAL INTERVAL LINT
	LREAL LWORD METHOD MOD NAMESPACE NON_RETAIN NOT NULL OF ON OR OVERLAP OVERRIDE PRIORITY PRIVATE PROGRAM PROTECTED PUBLIC
	READ_ONLY READ_WRITE REAL REF REF_TO REPEAT RESOURCE RETAIN RETURN R_EDGE SINGLE SINT STEP STRING STRUCT SUPER TASK THEN
	THIS TIME TIME_OF_DAY TO TOD TRANSITION TRUE TYPE UDINT UINT ULINT UNTIL USING USINT VAR VAR_ACCESS VAR_CONFIG VAR_EXTERNAL
	VAR_GLOBAL VAR_INPUT VAR_IN_OUT VAR_OUTPUT VAR_TEMP WHILE WITH WORD WSTRING XOR LD LDN ST STN S R CAL CALC CALCN RET RETC
	RETCN JMP JMPC JMPCN ANDN ORN XORN`)

// standard holds the standard functions and function blocks (IEC 61131-3, 6.6.2.5 and 6.6.3.5, from memory).
var standard = words(`ABS SQRT LN LOG EXP SIN COS TAN ASIN ACOS ATAN ADD MUL SUB DIV EXPT MOVE SHL SHR ROL ROR SEL MAX MIN LIMIT MUX GT GE
	EQ LE LT NE LEN LEFT RIGHT MID CONCAT INSERT DELETE REPLACE FIND TRUNC SR RS R_TRIG F_TRIG CTU CTD CTUD TP TON TOF SEMA`)

func words(list string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(list) {
		m[w] = true
	}
	return m
}

// conversion returns the types of FROM_TO functions such as INT_TO_REAL.
func conversion(name string) (from, to string, ok bool) {
	from, to, ok = strings.Cut(strings.ToUpper(name), "_TO_")
	_, a := elementaryTypes[from]
	_, b := elementaryTypes[to]
	return from, to, ok && a && b && from != to
}
