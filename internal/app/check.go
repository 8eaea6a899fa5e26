package app

import (
	"context"

	"railwright/internal/design"
	"railwright/internal/finding"
)

// CheckRequest asks for the findings of a folder.
type CheckRequest struct {
	Folder   string
	Progress func(Progress)
}

// CheckResult holds the findings and what they are of.
type CheckResult struct {
	Of       string // "accepted": the accepted design; "plan": a plan made for this check
	Findings finding.List
	Unplaced []design.Unplaced
}

// Check returns the findings of the folder's accepted design or, where none is accepted, of a plan
// made for the purpose. An accepted design that was made from another state of the folder is a
// NoDesign fault. Nothing is written.
func Check(ctx context.Context, r CheckRequest) (*CheckResult, error) {
	if err := (PlanRequest{Folder: r.Folder}).valid(); err != nil {
		return nil, err
	}
	src, err := open(r.Folder, false)
	if err != nil {
		return nil, err
	}
	d, of, err := src.current(ctx, r.Progress)
	if err != nil {
		return nil, err
	}
	return &CheckResult{Of: of, Findings: d.Findings, Unplaced: d.Unplaced}, nil
}
