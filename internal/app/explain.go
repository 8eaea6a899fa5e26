package app

import (
	"context"

	"railwright/internal/explain"
	"railwright/internal/words"
)

// ExplainRequest asks for the calculations behind a subject.
type ExplainRequest struct {
	Folder   string
	Example  bool   // the built-in example instead of a folder
	Subject  string // a signal's tag, KIND:ID, or "project"
	Progress func(Progress)
}

// Explain returns the calculations behind a subject of the folder's accepted design or, where none is
// accepted, of a plan made for the purpose. Nothing is written.
func Explain(ctx context.Context, r ExplainRequest) (*explain.Sheet, error) {
	if err := (PlanRequest{Folder: r.Folder, Example: r.Example}).valid(); err != nil {
		return nil, err
	}
	if r.Subject == "" {
		return nil, usage(words.Text("app.subject_missing"))
	}
	src, err := open(r.Folder, r.Example)
	if err != nil {
		return nil, err
	}
	d, _, err := src.current(ctx, r.Progress)
	if err != nil {
		return nil, err
	}
	sheet, near, ok := explain.Of(d, r.Subject)
	if !ok {
		hints := []string{}
		for _, n := range near {
			hints = append(hints, words.Text("app.subject_near", n))
		}
		if r.Folder != "" {
			hints = append(hints, words.Text("app.subject_hint", r.Folder))
		}
		return nil, usage(words.Text("app.no_subject", r.Subject), hints...)
	}
	return sheet, nil
}
