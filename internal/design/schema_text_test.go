package design

import (
	"encoding/json"
	"strings"
	"testing"
)

// TestNotes: the schema panics on a missing note; here none may be left over.
func TestNotes(t *testing.T) {
	s := string(Schema(false))
	for key, n := range notes {
		quoted := &strings.Builder{}
		e := json.NewEncoder(quoted)
		e.SetEscapeHTML(false)
		if err := e.Encode(n.text); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(s, strings.TrimSpace(quoted.String())) {
			t.Errorf("note %s is of no field", key)
		}
		if n.text == "" {
			t.Errorf("note %s is empty", key)
		}
	}
}
