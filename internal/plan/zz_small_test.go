package plan_test

import (
	"fmt"
	"sort"
	"testing"
	"time"

	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/plan"
)

func TestSmallQ(t *testing.T) {
	f := folder.Parse(folder.Files{"project.toml": []byte(`format = 1
[project]
name = "x"
[network]
profile = "ethernet-fibre"
[[place]]
id = "A"
controller = true
candidate = true
power_source = true
[[place]]
id = "B"
[[route]]
from = "A"
to = "B"
length_m = 200
`), "signals.csv": []byte(`tag,kind,form,place,current_ma,min_voltage_v,wires,sensor,response_ms,hart,range_low,range_high,load_ohm
V1,DO,24v,B,250,20,,,,,,,
V2,DO,24v,A,250,,,,,,,,
D1,DI,contact,A,,,,,100,,,,
D2,DI,230vac,B,,,,,,,,,
D3,DI,2-wire,B,,,,,,,,,
T1,RTD,resistance,B,,,2,Pt100,,,0,100,
T2,RTD,resistance,B,,,3,Pt100,,,0,100,
A1,AI,4-20ma,B,,,2,,,yes,0,100,
K1,TC,millivolt,A,,,,K,,,0,900,
C1,CNT,pulse-24v,A,,,,,,,,,
O1,AO,4-20ma,A,,,,,,,,,300
`)})
	for _, x := range f.Findings {
		fmt.Println(x)
	}
	for i := 0; i < 2; i++ {
		t0 := time.Now()
		d, err := plan.Run(f.Project, hardware.Builtin(), plan.Options{Steps: 2000})
		fmt.Println(time.Since(t0), err)
		if i == 1 {
			for _, x := range d.Findings {
				fmt.Println(x)
			}
			var ids []string
			for id := range d.Calculations {
				ids = append(ids, id)
			}
			sort.Strings(ids)
			for _, id := range ids {
				r := d.Calculations[id]
				fmt.Printf("%s = %.4f %s  [%s]\n", id, r.Result.Value, r.Result.Unit, r.Formula)
			}
			fmt.Printf("%+v\n%+v\n", d.Feeders, d.Supplies)
			for _, s := range d.Stations {
				fmt.Printf("%s %v %v..%v heater %v %v\n", s.ID, s.HeatW, s.InsideMinC, s.InsideMaxC, s.HeaterW, s.Enclosure)
				for _, g := range s.SupplyGroups {
					fmt.Printf("   %+v\n", g)
				}
			}
		}
	}
}
