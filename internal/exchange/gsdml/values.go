package gsdml

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// slotList reads a value list such as "0..4 7 9..10", sorted and each once. Slots are 0 to 32767.
func slotList(s string) ([]int, bool) {
	const most = 32767
	var out []int
	for _, part := range strings.Fields(s) {
		low, high, ranged := strings.Cut(part, "..")
		a, ok := whole(low)
		b := a
		if ranged {
			var okB bool
			b, okB = whole(high)
			ok = ok && okB
		}
		if !ok || a > b || b > most {
			return nil, false
		}
		for n := a; n <= b; n++ {
			out = append(out, n)
		}
		if len(out) > 4*most {
			return nil, false
		}
	}
	slices.Sort(out)
	return slices.Compact(out), len(out) > 0
}

// spell writes slots as "1 to 4, 7".
func spell(slots []int) string {
	var parts []string
	for i := 0; i < len(slots); {
		j := i
		for j+1 < len(slots) && slots[j+1] == slots[j]+1 {
			j++
		}
		if i == j {
			parts = append(parts, strconv.Itoa(slots[i]))
		} else {
			parts = append(parts, fmt.Sprintf("%d to %d", slots[i], slots[j]))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// whole reads a number of at most nine digits.
func whole(s string) (int, bool) {
	if s == "" || len(s) > 9 || strings.Trim(s, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}

// interval turns MinDeviceInterval, which counts 31.25 us, into milliseconds.
func interval(s string) string {
	n, ok := whole(s)
	if !ok {
		return "?"
	}
	return strconv.FormatFloat(float64(n)*0.03125, 'f', -1, 64)
}

// sizes are the bytes of the data types of a DataItem (GSDML specification, table of data types); types of any
// length bear the attribute Length.
var sizes = map[string]int{
	"Boolean": 1, "Integer8": 1, "Integer16": 2, "Integer32": 4, "Integer64": 8, "Unsigned8": 1, "Unsigned16": 2, "Unsigned32": 4, "Unsigned64": 8,
	"Float32": 4, "Float64": 8, "Date": 7, "TimeOfDay with date indication": 6, "TimeOfDay without date indication": 4,
	"TimeDifference with date indication": 6, "TimeDifference without date indication": 4, "NetworkTime": 8, "NetworkTimeDifference": 8,
	"Unsigned8+Unsigned8": 2, "Float32+Unsigned8": 5, "Float32+Status8": 5, "N2": 2, "N4": 4, "V2": 2, "L2": 2, "R2": 2, "T2": 2, "D2": 2, "E2": 2, "X2": 2, "X4": 4,
	"F_MessageTrailer4Byte": 4, "F_MessageTrailer5Byte": 5,
}
