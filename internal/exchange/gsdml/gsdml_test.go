package gsdml_test

import (
	"bytes"
	"flag"
	"os"
	"strings"
	"testing"

	"railwright/internal/exchange/device"
	"railwright/internal/exchange/gsdml"
	"railwright/internal/hardware"
)

var update = flag.Bool("update", false, "write the expected drafts anew")

func sample(t testing.TB) []byte {
	data, err := os.ReadFile("testdata/sample.xml")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestSample(t *testing.T) {
	d, err := gsdml.Read("sample.xml", sample(t))
	if err != nil {
		t.Fatal(err)
	}
	var report strings.Builder
	for _, f := range d.Findings() {
		report.WriteString(f.String() + "\n")
	}
	for name, got := range map[string][]byte{"testdata/sample.toml": d.TOML(), "testdata/sample.findings": []byte(report.String())} {
		if *update {
			if err := os.WriteFile(name, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if want, _ := os.ReadFile(name); !bytes.Equal(want, got) {
			t.Errorf("%s differs (-update writes it)\n%s", name, got)
		}
	}
}

// Law: with the missing figures filled in, the hardware list's own rules accept the entries, and read
// the bytes, limits and channels that stand in the description.
func TestFilledEntriesPass(t *testing.T) {
	d, err := gsdml.Read("sample.xml", sample(t))
	if err != nil {
		t.Fatal(err)
	}
	d.Fill(device.SampleFigures())
	list, found := hardware.Load(hardware.Builtin(), "draft", d.TOML())
	if found.HasErrors() {
		t.Fatalf("%v\n%s", found, d.TOML())
	}
	m, ok := list.Module("SMP-AI4")
	if !ok || m.In != 8 || m.Out != 0 || len(m.Channels) != 1 || m.Channels[0].Count != 4 || m.Channels[0].Bits != 16 || m.Rank != "slots 5 to 8" {
		t.Errorf("%+v", m)
	}
	mix, _ := list.Module("SMP-MIX")
	if mix.In != 7 || mix.Out != 2 || len(mix.Channels) != 2 || mix.Channels[0].Count != 16 || mix.Channels[1].Image != "out" {
		t.Errorf("%+v", mix)
	}
	c, ok := list.Coupler("SMP-100-head")
	if !ok || c.MaxSlots != 8 || c.MaxIn != 128-8-1 || c.MaxOut != 64-8-1 || c.Network != "ethernet-copper" {
		t.Errorf("%+v", c)
	}
}

func TestRefused(t *testing.T) {
	good := string(sample(t))
	for _, c := range [][2]string{
		{"ISO15745Profile", "Profile"}, {"/GSDML/", "/GSD/"}, {"DeviceAccessPointItem", "Item"}, {"<ISO15745Profile", "<!DOCTYPE a [<!ENTITY b SYSTEM \"file:///etc/hostname\">]><ISO15745Profile"},
	} {
		if _, err := gsdml.Read("x", []byte(strings.ReplaceAll(good, c[0], c[1]))); err == nil {
			t.Errorf("%s was read", c[1])
		}
	}
}

func FuzzRead(f *testing.F) {
	data, err := os.ReadFile("testdata/sample.xml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	f.Add([]byte(`<ISO15745Profile xmlns="http://www.profibus.com/GSDML/2003/11/DeviceProfile"><ProfileBody><ApplicationProcess><DeviceAccessPointList><DeviceAccessPointItem PhysicalSlots="0..99999 1..2"/></DeviceAccessPointList></ApplicationProcess></ProfileBody></ISO15745Profile>`))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := gsdml.Read("x", data)
		if err != nil {
			return
		}
		_, found := hardware.Parse("draft", d.TOML())
		for _, x := range found {
			if x.Rule == "HWL-001" || x.Rule == "HWL-002" || x.Rule == "HWL-007" || x.Rule == "HWL-010" || x.Rule == "HWL-011" {
				t.Fatalf("the draft is no hardware list: %v\n%s", x, d.TOML())
			}
		}
	})
}
