package drawing

import (
	"testing"

	"railwright/internal/paper"
	"railwright/internal/scene/scenetest"
	"railwright/internal/words"
)

// TestLaws: every sheet of every site keeps the laws of sheets (no text outside frame or box, none over
// another, no missing sign, every reference finds its sheet), on every paper.
func TestLaws(t *testing.T) {
	for _, name := range sortedKeys(sites) {
		sizes := []paper.Size{paper.A4}
		if name == "one" {
			sizes = paper.Sizes
		}
		for _, size := range sizes {
			t.Run(name+" "+string(size), func(t *testing.T) {
				if size == paper.A4 {
					scenetest.Check(t, packs[name]())
					return
				}
				in := sites[name]()
				in.Setting.Size = size
				if size == paper.Letter {
					in.Setting.Wire, in.Setting.Language = paper.AWG, words.German
				}
				scenetest.Check(t, pack(in))
			})
		}
	}
	t.Run("junction boxes", func(t *testing.T) { scenetest.Check(t, pack(boxed(sites["one"]()))) })
}
