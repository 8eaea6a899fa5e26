package protect

import (
	"errors"
	"fmt"

	"railwright/internal/calc"
	"railwright/internal/quantity"
)

// Selectivity says up to which fault current only the downstream device trips.
type Selectivity struct {
	UpTo  quantity.Current // 0: not selective at any current
	Total bool             // selective at every current that the devices may break
	Why   string
}

// Selective compares two devices in series.
//
// Two gG fuses are totally selective from a ratio of 1.6 to 1 on. Otherwise the pair is selective up
// to the current that the upstream device holds for a short time (its lower edge), provided that
// the downstream one surely trips below it and is rated lower. A maker's selectivity table outranks
// this.
//
// Source: IEC 60269-1 (1.6 to 1); current selectivity by comparing bands is common practice
// (IEC TR 61912-2 describes it).
func Selective(up, down Device) (Selectivity, error) {
	u, err := up.Trip()
	d, err2 := down.Trip()
	if err := errors.Join(err, err2); err != nil {
		return Selectivity{}, err
	}
	if up.Kind == FuseGG && down.Kind == FuseGG {
		if float64(up.Rated) >= 1.6*float64(down.Rated)*(1-1e-9) {
			return Selectivity{UpTo: 0, Total: true, Why: "gG fuses at 1.6 to 1 or more"}, nil
		}
		return Selectivity{Why: fmt.Sprintf("gG fuses at %.2f to 1, 1.6 to 1 needed", float64(up.Rated/down.Rated))}, nil
	}
	switch {
	case up.Rated <= down.Rated:
		return Selectivity{Why: "the upstream device is not rated higher"}, nil
	case !(d.Trips < u.Holds):
		return Selectivity{Why: fmt.Sprintf("downstream trips surely only from %.4g A, upstream may trip from %.4g A", float64(d.Trips), float64(u.Holds))}, nil
	}
	return Selectivity{UpTo: u.Holds, Why: "the upstream device holds below its lower edge"}, nil
}

// SelectiveAt reports whether a pair is selective at a given largest fault current.
func SelectiveAt(up, down Device, largest quantity.Current) (bool, error) {
	s, err := Selective(up, down)
	if err = errors.Join(err, calc.Current("largest fault current", largest)); err != nil {
		return false, err
	}
	return s.Total || largest < s.UpTo, nil
}
