package drawing

import (
	"strings"
	"testing"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/project"
	"railwright/internal/scene/scenetest"
)

// A design alone, without the hardware list and the project that it was made from, is drawn as well as it can be.
func TestWithoutListAndProject(t *testing.T) {
	for _, in := range []Input{handMade(), sites["one"]()} {
		in.Project, in.List = nil, nil
		scenetest.Check(t, pack(in))
	}
}

// Nothing that people write into a list breaks a sheet: long tags, words without a space, signs of other scripts.
func TestHardWords(t *testing.T) {
	for _, words := range []string{
		strings.Repeat("VERY-LONG-TAG.", 8), strings.Repeat("W", 90), "漢字の信号名と長い説明文がここに立つ", "a\nb\tc\x00d", "=+-/<&>\"'%%^", " ",
	} {
		in := sites["one"]()
		in.Design, in.Project = renamed(in.Design, words), described(in.Project, words)
		in.Setting.Project, in.Setting.Controller = words, words
		for _, size := range []paper.Size{paper.A4, paper.Tabloid} {
			in.Setting.Size = size
			scenetest.Check(t, pack(in))
		}
	}
}

// renamed gives every signal a tag that ends in the words.
func renamed(d *design.Design, words string) *design.Design {
	out := *d
	out.Stations = append([]design.Station(nil), d.Stations...)
	for i := range out.Stations {
		st := &out.Stations[i]
		st.Name = words
		st.Slots = append([]design.Slot(nil), st.Slots...)
		for k := range st.Slots {
			s := &st.Slots[k]
			s.Channels = append([]design.Channel(nil), s.Channels...)
			for n := range s.Channels {
				if c := &s.Channels[n]; c.Signal != nil {
					tag := *c.Signal + words
					c.Signal = &tag
				}
			}
		}
	}
	return &out
}

func described(p *project.Project, words string) *project.Project {
	out := *p
	out.Signals = append([]project.Signal(nil), p.Signals...)
	for i := range out.Signals {
		s := &out.Signals[i]
		s.Description, s.Hold, s.Unit, s.SafeState, s.Remarks = words, words, words, words, words
	}
	out.Places = append([]project.Place(nil), p.Places...)
	for i := range out.Places {
		out.Places[i].Name = words
	}
	return &out
}
