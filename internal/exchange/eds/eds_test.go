package eds_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"os/exec"
	"strings"
	"testing"

	"railwright/internal/exchange/device"
	"railwright/internal/exchange/eds"
	"railwright/internal/hardware"
	"railwright/internal/peer"
)

var update = flag.Bool("update", false, "write the expected drafts anew")

var samples = []string{"block", "modular"}

func read(t testing.TB, name string) []byte {
	data, err := os.ReadFile("testdata/" + name + ".eds")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestSamples(t *testing.T) {
	for _, s := range samples {
		d, err := eds.Read(s+".eds", read(t, s))
		if err != nil {
			t.Fatal(err)
		}
		var report strings.Builder
		for _, f := range d.Findings() {
			report.WriteString(f.String() + "\n")
		}
		for name, got := range map[string][]byte{"testdata/" + s + ".toml": d.TOML(), "testdata/" + s + ".findings": []byte(report.String())} {
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
}

func filled(t *testing.T, name string) *hardware.List {
	d, err := eds.Read(name, read(t, name))
	if err != nil {
		t.Fatal(err)
	}
	d.Fill(device.SampleFigures())
	list, found := hardware.Load(hardware.Builtin(), "draft", d.TOML())
	if found.HasErrors() {
		t.Fatalf("%v\n%s", found, d.TOML())
	}
	return list
}

// Law: with the missing figures filled in, the hardware list's own rules accept the entries, and read
// the bytes, limits and channels that stand in the sheet.
func TestFilledEntriesPass(t *testing.T) {
	block := filled(t, "block")
	m, ok := block.Module("SMP-BLOCK-io")
	if !ok || m.In != 6 || m.Out != 1 || len(m.Channels) != 3 || m.Channels[0].Count != 16 || m.Channels[1].Offset != 2 || m.Channels[1].Count != 2 || m.Channels[2].Count != 8 {
		t.Errorf("%+v", m)
	}
	if c, _ := block.Coupler("SMP-BLOCK"); c.MaxIn != 16 || c.MaxOut != 16 || c.MaxSlots != 1 {
		t.Errorf("%+v", c)
	}
	modular := filled(t, "modular")
	for code, want := range map[string][3]int{"SMP-C-DI8": {1, 0, 8}, "SMP-C-DO2": {0, 1, 2}, "SMP-C-AO4": {0, 8, 4}} {
		if m, ok := modular.Module(code); !ok || [3]int{m.In, m.Out, m.Channels[0].Count} != want {
			t.Errorf("%s: %+v", code, m)
		}
	}
}

// No reader of EDS can be had from the registries. What is independent is a reader of the form: Python's configparser (Debian)
// finds the same sections, keys and values.
func TestPeer(t *testing.T) {
	python := peer.Need(t, "python3")
	const script = `import configparser, json, sys
c = configparser.RawConfigParser(delimiters=("=",), comment_prefixes=(";",), strict=True)
c.optionxform = str
c.read(sys.argv[1], encoding="utf-8")
print(json.dumps([[s, [[k, v] for k, v in c.items(s)]] for s in c.sections()]))`
	for _, name := range samples {
		out, err := exec.Command(python, "-I", "-c", script, "testdata/"+name+".eds").Output()
		if err != nil {
			t.Fatal(err)
		}
		s, err := eds.ParseSheet(read(t, name))
		if err != nil {
			t.Fatal(err)
		}
		ours := [][]any{}
		for _, sec := range s.Sections {
			keys := [][]string{}
			for _, k := range sec.Keys {
				keys = append(keys, []string{k.Name, k.Value})
			}
			ours = append(ours, []any{sec.Name, keys})
		}
		want, err := json.Marshal(ours)
		if err != nil {
			t.Fatal(err)
		}
		var a, b any
		if json.Unmarshal(want, &a) != nil || json.Unmarshal(out, &b) != nil {
			t.Fatal("no JSON")
		}
		x, _ := json.Marshal(a)
		y, _ := json.Marshal(b)
		if !bytes.Equal(x, y) {
			t.Errorf("%s: %s\n%s", name, x, y)
		}
	}
}

func TestRefused(t *testing.T) {
	for name, data := range map[string]string{
		"no sheet": "a=b\n", "open section": "[FileInfo\n", "text": "[FileInfo]\nhello\n", "nothing": "", "no info": "[DeviceInfo]\n",
	} {
		if _, err := eds.Read("x", []byte(data)); err == nil {
			t.Errorf("%s was read", name)
		}
	}
	for name, data := range map[string]string{
		"huge": strings.Repeat(";", eds.MaxBytes+1), "long line": "[a]\nb=" + strings.Repeat("c", eds.MaxLine), "many": "[FileInfo]\n[DeviceInfo]\n[SupportedModules]\nNrOfEntries=0xFFFFFFF\n",
	} {
		if _, err := eds.Read("x", []byte(data)); !errors.Is(err, eds.ErrRefused) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range samples {
		f.Add(read(f, s))
	}
	f.Add([]byte("[FileInfo]\n[DeviceInfo]\nOrderCode=\x80 \"\nNrOfTXPDO=0x200\n[6000]\nCompactSubObj=0xFF\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := eds.Read("x", data)
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
