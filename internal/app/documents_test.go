package app

import (
	"context"
	"testing"
)

func BenchmarkDocuments(b *testing.B) {
	for b.Loop() {
		if _, err := Documents(context.Background(), DocumentsRequest{Example: true, Out: b.TempDir()}); err != nil {
			b.Fatal(err)
		}
	}
}
