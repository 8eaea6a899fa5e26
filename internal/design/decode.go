package design

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"

	"railwright/internal/formula"
)

// ErrFormat says that the bytes are a design in a format that this version does not read.
var ErrFormat = errors.New("design in another format")

// ErrNotDesign says that the bytes are no design at all.
var ErrNotDesign = errors.New("not a design")

// Decode reads what Encode wrote. Keys that this version does not know are passed over, so that a
// later version of the same format may add some. The error is ErrFormat or ErrNotDesign, wrapped
// with what was seen and how to mend it. Formulas come back without their Go function: a design
// that was read is not evaluated again.
func Decode(data []byte) (*Design, error) {
	var head struct {
		Format *string `json:"format"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return nil, fmt.Errorf("%w: %s; make it again with 'railwright plan'", ErrNotDesign, explain(data, err))
	}
	if head.Format == nil {
		return nil, fmt.Errorf("%w: it has no key \"format\"; a design begins with \"format\": %q", ErrNotDesign, Format)
	}
	if *head.Format != Format {
		return nil, fmt.Errorf("%w: format is %q, this version reads %q; make it again with 'railwright plan', or use the version that wrote it", ErrFormat, *head.Format, Format)
	}
	d := &Design{}
	if err := json.Unmarshal(data, d); err != nil {
		return nil, fmt.Errorf("%w: %s; make it again with 'railwright plan'", ErrNotDesign, explain(data, err))
	}
	d.mend()
	return d, nil
}

// mend puts back what the file holds only as a key, and the integer form of slot numbers.
func (d *Design) mend() {
	for name, f := range d.Formulas {
		if f == nil {
			f = &formula.Formula{}
			d.Formulas[name] = f
		}
		f.Name = name
	}
	for id, r := range d.Calculations {
		r.ID = id
		for name, in := range r.Inputs {
			in.Name = name
			r.Inputs[name] = in
		}
		if f := d.Formulas[r.Formula]; f != nil {
			r.Result.Name = f.Result.Name
		}
		d.Calculations[id] = r
	}
	for i := range d.Stations {
		groups := d.Stations[i].SupplyGroups
		for j := range groups {
			if n, ok := groups[j].InfeedAt.(float64); ok && n == math.Trunc(n) && math.Abs(n) < 1<<31 {
				groups[j].InfeedAt = int(n)
			}
		}
	}
}

// explain says where and what in words of the file, not of the program.
func explain(data []byte, err error) string {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return fmt.Sprintf("line %d: broken JSON (%v)", lineOf(data, syntax.Offset), syntax)
	case errors.As(err, &kind):
		what := "the whole"
		if kind.Field != "" {
			what = kind.Field
		}
		return fmt.Sprintf("line %d: %s cannot be a %s", lineOf(data, kind.Offset), what, kind.Value)
	default:
		return err.Error()
	}
}

func lineOf(data []byte, offset int64) int {
	line := 1
	for _, c := range data[:min(offset, int64(len(data)))] {
		if c == '\n' {
			line++
		}
	}
	return line
}
