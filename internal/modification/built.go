package modification

import (
	"encoding/json"
	"fmt"
	"slices"

	"railwright/internal/design"
)

// BuiltFormat names the form of built.json.
const BuiltFormat = "railwright-built/1"

// Built is what is installed: a design, its hardware by value, and the stations of it that are frozen.
type Built struct {
	Format   string          `json:"format"`
	Stations []string        `json:"stations"` // ids, sorted
	By       string          `json:"by"`
	On       string          `json:"on"` // date, YYYY-MM-DD
	Design   json.RawMessage `json:"design"`
}

// EncodeBuilt returns built.json.
func EncodeBuilt(b Built) ([]byte, error) {
	b.Format = BuiltFormat
	slices.Sort(b.Stations)
	b.Stations = slices.Compact(b.Stations)
	data, err := json.MarshalIndent(b, "", "  ")
	return append(data, '\n'), err
}

// DecodeBuilt reads built.json; the second value is its design.
func DecodeBuilt(data []byte) (Built, *design.Design, error) {
	var b Built
	if err := json.Unmarshal(data, &b); err != nil {
		return b, nil, err
	}
	if b.Format != BuiltFormat {
		return b, nil, fmt.Errorf("its format is %q, this version reads %q", b.Format, BuiltFormat)
	}
	d, err := design.Decode(b.Design)
	return b, d, err
}
