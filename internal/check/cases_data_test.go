package check_test

import (
	"fmt"
	"strings"
)

const (
	zonePlace = "[[place]]\nid = \"A\"\ncontroller = true\ncandidate = true\npower_source = true\nzone = \"2\"\n"
	outdoors  = "[[place]]\nid = \"A\"\ncontroller = true\ncandidate = true\npower_source = true\noutdoor = true\n"
	buried    = "[[place]]\nid = \"A\"\ncontroller = true\ncandidate = true\npower_source = true\n[[place]]\nid = \"B\"\n[[route]]\nfrom = \"A\"\nto = \"B\"\nlength_m = 200\nmedium = \"buried\"\n"
)

// dropped takes the module with bipolar voltage outputs out of construction rail.
const dropped = "format = 1\ndrop = [\"ao4-voltage\"]\n"

// exiList is a list of intrinsically safe transmitters in zone 1, gas group IIC, 200 m away: "TAG,yes" states
// figures that fit, "26V" a device for less than the module's Uo, "60nF" one that stores too much,
// "nothing" states none.
func exiList(rows ...string) string {
	out := "tag,kind,form,place,wires,ex_level,ex_zone,ex_gas,ui_v,ii_ma,pi_mw,ci_nf,li_mh\n"
	for _, r := range rows {
		tag, what, _ := strings.Cut(r, ",")
		figures := map[string]string{"yes": "30,100,700,1,0.01", "26V": "26,100,700,1,0.01", "60nF": "30,100,700,60,0.01", "nothing": ",,,,"}[what]
		out += tag + ",AI,4-20ma,B,2,ia,1,IIC," + figures + "\n"
	}
	return out
}

// manyOutputs are 80 valves, hundred a hundred contacts, each in a cable of its own.
var manyOutputs, hundred = rows(80, "XY", "DO,24v,A"), rows(100, "XS", "DI,contact,A")

func rows(n int, prefix, rest string) string {
	out := "tag,kind,form,place\n"
	for i := range n {
		out += fmt.Sprintf("%s-%d,%s\n", prefix, i+1, rest)
	}
	return out
}
