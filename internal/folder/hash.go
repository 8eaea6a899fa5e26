package folder

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"

	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// inputHash hashes what a plan depends on in one canonical text: only values that differ from the
// defaults of the format, everything in the order of ids. So neither the order of rows, nor the
// layout of a file, nor a key that a later version adds changes the hash.
func inputHash(f *Folder) string {
	h := sha256.New()
	w := canon{h}
	p := f.Project.Normalised()
	b, d := &p.Basis, project.DefaultBasis()
	hashKeys(w, "project", headKeys, p, &project.Project{})
	hashKeys(w, "basis", basisKeys, b, &d)
	hashKeys(w, "basis.cable", cableKeys, &b.Cable, &d.Cable)
	hashKeys(w, "basis.group", groupKeys, &b.Group, &d.Group)
	hashKeys(w, "basis.supply", supplyKeys, &b.Supply, &d.Supply)
	hashKeys(w, "basis.feeder", feederKeys, &b.Feeder, &d.Feeder)
	hashKeys(w, "basis.climate", climateKeys, &b.Climate, &d.Climate)
	hashKeys(w, "basis.circuit", circuitKeys, &b.Circuit, &d.Circuit)
	hashKeys(w, "basis.prices", priceKeys, &b.Prices, &d.Prices)
	hashKeys(w, "basis.address", addressKeys, &b.Address, &d.Address)
	for _, class := range slices.Sorted(maps.Keys(b.Segregation)) {
		w.line("basis.segregation", class, string(b.Segregation[class]))
	}
	for _, k := range slices.Sorted(maps.Keys(b.DefaultCurrent)) {
		if b.DefaultCurrent[k] != d.DefaultCurrent[k] {
			w.line("basis.current", k, q.Short(float64(b.DefaultCurrent[k])))
		}
	}
	for _, k := range slices.Sorted(maps.Keys(b.Reserve)) {
		if b.Reserve[k] != d.Reserve[k] {
			w.line("basis.reserve", k, strconv.FormatInt(b.Reserve[k], 10))
		}
	}
	n, pw := defaultNetwork(), defaultPower()
	hashKeys(w, "network", networkKeys, &p.Network, &n)
	hashKeys(w, "power", powerKeys, &p.Power, &pw)
	pl, r, c := defaultPlace(b), defaultRoute(), defaultChoice()
	for i := range p.Places {
		hashKeys(w, "place", placeKeys, &p.Places[i], &pl)
	}
	for i := range p.Routes {
		hashKeys(w, "route", routeKeys, &p.Routes[i], &r)
	}
	for i := range p.Choices {
		hashKeys(w, "choice", choiceKeys, &p.Choices[i], &c)
	}
	for i := range p.Signals {
		w.line("signal")
		for _, col := range project.Columns() {
			if v := col.Format(&p.Signals[i]); v != "" {
				w.line(col.Name, v)
			}
		}
	}
	for _, o := range f.LeftOut {
		w.line("left out", o.Signal, o.Tag)
	}
	w.file(HardwareFile, f.Hardware)
	w.file(BuiltFile, f.Built)
	return hex.EncodeToString(h.Sum(nil))
}

// canon writes lines whose parts cannot run into each other.
type canon struct{ w io.Writer }

func (c canon) line(parts ...string) {
	for _, p := range parts {
		fmt.Fprintf(c.w, "%q\t", p)
	}
	io.WriteString(c.w, "\n")
}

func (c canon) file(name string, data []byte) {
	if data == nil {
		return
	}
	data = bytes.ReplaceAll(bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF")), []byte("\r\n"), []byte("\n"))
	sum := sha256.Sum256(data)
	c.line("file", name, hex.EncodeToString(sum[:]))
}

func hashKeys[T any](w canon, section string, keys []key[T], v, def *T) {
	w.line("[" + section + "]")
	for _, k := range keys {
		if s := k.at(v).show(); s != k.at(def).show() {
			w.line(k.name, s)
		}
	}
}
