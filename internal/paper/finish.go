package paper

import (
	"strconv"

	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Finish numbers the sheets of a whole pack in place: a sheet without a number gets the letter of its
// chapter (A, B, ... in their order) and its place among such sheets of it, "B12". It then fills in each sheet's own number,
// "page 3 of 120", and every text with RoleSheet: the number of the sheet that it names, or a dash where
// the pack has none.
func Finish(set Setting, sheets []scene.Sheet) {
	number := giveNumbers(sheets)
	for i := range sheets {
		for _, layer := range sheets[i].Layers {
			for j := range layer.Items {
				it := &layer.Items[j]
				if it.Text == nil {
					continue
				}
				switch it.Role {
				case RolePage:
					it.Text.Words = set.Say("paper.page", i+1, len(sheets))
				case RoleNumber:
					it.Text.Words = sheets[i].Number
				case RoleSheet:
					if n := number[it.Text.Sheet]; n != "" {
						it.Text.Words = n
					} else {
						it.Text.Words, it.Text.Sheet = "–", ""
					}
				default:
					continue
				}
				shrinkIn(it.Text)
			}
		}
	}
}

func giveNumbers(sheets []scene.Sheet) map[string]string {
	number := map[string]string{}
	letters := map[string]string{}
	count := map[string]int{}
	for i := range sheets {
		s := &sheets[i]
		if s.Number == "" {
			if letters[s.Chapter] == "" {
				letters[s.Chapter] = letter(len(letters))
			}
			count[s.Chapter]++
			s.Number = letters[s.Chapter] + strconv.Itoa(count[s.Chapter])
		}
		number[s.ID] = s.Number
	}
	return number
}

// letter names a chapter, leaving out I and O (ISO 3098 reads them as digits).
func letter(n int) string {
	const all = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	if n < len(all) {
		return all[n : n+1]
	}
	return letter(n/len(all)-1) + all[n%len(all):n%len(all)+1]
}

// shrinkIn makes a text that was filled in late fit its box.
func shrinkIn(t *scene.Text) {
	if t.Box != nil {
		t.Size, _ = typeface.Shrink(t.Style, t.Words, t.Size, Small*0.8, t.Box.W-2)
	}
}
