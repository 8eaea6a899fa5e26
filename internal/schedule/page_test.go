package schedule_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"railwright/internal/design/designtest"
	"railwright/internal/schedule"
)

// TestPage: docs/schedules.md describes every schedule and no other, in their order, with its columns.
func TestPage(t *testing.T) {
	const path = "../../docs/schedules.md"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	columns := map[string]string{}
	var keys []string
	for _, x := range schedule.All(designtest.Sample(), sampleProject()) {
		keys = append(keys, x.Key)
		columns[x.Key] = "Columns: `" + strings.Join(x.Heads, "`, `") + "`."
	}
	section := regexp.MustCompile("(?ms)^## `([a-z_]+)`\n(.*?)^Columns:[^\n]*$")
	page := section.ReplaceAllStringFunc(string(data), func(s string) string {
		m := section.FindStringSubmatch(s)
		return "## `" + m[1] + "`\n" + m[2] + columns[m[1]]
	})
	if *update {
		if err := os.WriteFile(path, []byte(page), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var said []string
	for _, m := range section.FindAllStringSubmatch(page, -1) {
		said = append(said, m[1])
	}
	if !slices.Equal(said, keys) {
		t.Errorf("the page describes %q, the schedules are %q", said, keys)
	}
	if page != string(data) && !*update {
		t.Error("the columns on the page differ; run go test ./internal/schedule -run TestPage -update")
	}
}
