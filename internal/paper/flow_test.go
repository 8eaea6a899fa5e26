package paper_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/scene/scenetest"
)

// TestFlowLaws: whatever is written, each text lies in its cell and in the frame, none over another, every
// word is on paper, and each sheet that has rows has the heads.
func TestFlowLaws(t *testing.T) {
	word := rapid.StringMatching(`[A-Za-z0-9ΩÄ°²_/,.\-]{1,40}`)
	text := rapid.Custom(func(t *rapid.T) string {
		return strings.Join(rapid.SliceOfN(word, 0, 60).Draw(t, "words"), " ")
	})
	cell := rapid.Custom(func(t *rapid.T) string {
		return strings.Join(rapid.SliceOfN(word, 0, 4).Draw(t, "words"), " ")
	})
	rapid.Check(t, func(t *rapid.T) {
		set := paper.Setting{Size: rapid.SampledFrom(paper.Sizes).Draw(t, "size"), Project: text.Draw(t, "project"), Draft: rapid.Bool().Draw(t, "draft")}
		f := paper.NewFlow(set, paper.Block{ID: "x", Title: "All " + word.Draw(t, "title"), Chapter: "C", Lying: rapid.Bool().Draw(t, "lying")})
		var want []string
		for range rapid.IntRange(1, 6).Draw(t, "things") {
			words := text.Draw(t, "text")
			switch rapid.IntRange(0, 6).Draw(t, "what") {
			case 0:
				f.Heading(rapid.IntRange(1, 3).Draw(t, "level"), words)
			case 1:
				f.Paragraph(words)
			case 2:
				f.Bullet(words)
			case 3:
				f.Caution(words)
			case 4:
				words = cell.Draw(t, "value")
				f.Fields(rapid.IntRange(1, 5).Draw(t, "per row"), paper.Field{Caption: "One", Value: words}, paper.Field{Caption: "Two", Span: 2}, paper.Field{Caption: cell.Draw(t, "caption")})
			default:
				n := rapid.IntRange(1, 12).Draw(t, "columns")
				table := paper.Table{Row: rapid.SampledFrom([]float64{0, 8}).Draw(t, "row"), Total: rapid.Bool().Draw(t, "total")}
				for range n {
					table.Columns = append(table.Columns, paper.Column{Head: cell.Draw(t, "head"), Grow: rapid.Bool().Draw(t, "grow"), Anchor: rapid.SampledFrom([]scene.Anchor{scene.Left, scene.Right}).Draw(t, "anchor")})
				}
				words = ""
				for range rapid.IntRange(0, 40).Draw(t, "rows") {
					row := make([]paper.Cell, n)
					for j := range row {
						row[j] = paper.Cell{Text: cell.Draw(t, "cell"), Tick: rapid.IntRange(0, 9).Draw(t, "tick") == 0}
						words += " " + row[j].Text
					}
					table.Rows = append(table.Rows, row)
				}
				f.Table(table)
			}
			want = append(want, strings.Fields(words)...)
		}
		sheets := f.Sheets()
		paper.Finish(set, sheets)
		if faults := scenetest.Faults(sheets); len(faults) > 0 {
			t.Fatal(strings.Join(faults[:min(len(faults), 5)], "\n"))
		}
		got := map[rune]int{}
		for i := range sheets {
			sheets[i].Text(func(_ string, it *scene.Item) {
				for _, r := range it.Text.Words {
					got[r]++
				}
			})
		}
		for _, w := range want {
			for _, r := range w {
				if got[r]--; got[r] < 0 {
					t.Fatalf("%q of %q is not on paper", r, w)
				}
			}
		}
	})
}

// TestHeadsRepeat: every sheet of a long table begins with its heads and no row is lost.
func TestHeadsRepeat(t *testing.T) {
	var rows [][]string
	for i := range 300 {
		rows = append(rows, []string{fmt.Sprintf("PT-%03d", i), "a description that is long enough to take more than one line of its narrow column on this paper, or even three", "4.20"})
	}
	f := paper.NewFlow(paper.Setting{}, paper.Block{ID: "t", Title: "T", Chapter: "C"})
	f.Paragraph("Before it.")
	f.Table(paper.Plain([]string{"tag", "description", "mA"}, rows))
	sheets := f.Sheets()
	paper.Finish(paper.Setting{}, sheets)
	scenetest.Check(t, sheets)
	seen := map[string]int{}
	for i := range sheets {
		heads, first := 0, ""
		sheets[i].Text(func(layer string, it *scene.Item) {
			if layer == "frame" {
				return
			}
			if it.Role == "head" {
				heads++
			}
			if first == "" {
				first = it.Text.Words
			}
			seen[it.Text.Words]++
		})
		if heads != 3 || i > 0 && first != "tag" {
			t.Errorf("sheet %d has %d heads and begins with %q", i+1, heads, first)
		}
	}
	for i := range 300 {
		if n := seen[fmt.Sprintf("PT-%03d", i)]; n != 1 {
			t.Errorf("row %d stands %d times", i, n)
		}
	}
	if len(sheets) < 5 {
		t.Errorf("%d sheets", len(sheets))
	}
}
