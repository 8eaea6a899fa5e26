package conductor

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/calc"
)

// colours is IEC 60757:2021 table 1 in its order, which is also the order within a combined code.
var colours = []struct{ name, code string }{
	{"black", "BK"},
	{"brown", "BN"},
	{"red", "RD"},
	{"orange", "OG"},
	{"yellow", "YE"},
	{"green", "GN"},
	{"blue", "BU"},
	{"violet", "VT"},
	{"grey", "GY"},
	{"white", "WH"},
	{"pink", "PK"},
	{"gold", "GD"},
	{"turquoise", "TQ"},
	{"silver", "SR"},
	{"green-and-yellow", "GNYE"},
}

// ColourCode returns the IEC 60757 code of a colour name: "BU" for "blue".
//
// Source: IEC 60757:1983/2021 table 1.
func ColourCode(name string) (string, error) {
	for _, c := range colours {
		if c.name == name {
			return c.code, nil
		}
	}
	return "", unknownColour(name)
}

// ColourName returns the colour name of an IEC 60757 code: "blue" for "BU".
//
// Source: IEC 60757:1983/2021 table 1.
func ColourName(code string) (string, error) {
	for _, c := range colours {
		if c.code == code {
			return c.name, nil
		}
	}
	return "", unknownColour(code)
}

func unknownColour(seen string) error {
	names := make([]string, len(colours))
	for i, c := range colours {
		names[i] = c.name + " " + c.code
	}
	return &calc.ChoiceError{Name: "colour", Seen: fmt.Sprintf("%q", seen), Allowed: strings.Join(names, ", ")}
}

// CombinedCode returns the code of a core with several colours: the codes in table order without a
// separator, "RDBU" for blue and red. Green with yellow is reserved for protective conductors and
// comes out as GNYE.
//
// Source: IEC 60757:2021 5.1.
func CombinedCode(names ...string) (string, error) {
	var at []int
	for _, n := range names {
		i := slices.IndexFunc(colours, func(c struct{ name, code string }) bool { return c.name == n })
		if i < 0 {
			return "", unknownColour(n)
		}
		at = append(at, i)
	}
	slices.Sort(at)
	code := ""
	for _, i := range slices.Compact(at) {
		code += colours[i].code
	}
	if code == "YEGN" {
		return "GNYE", nil
	}
	return code, nil
}
