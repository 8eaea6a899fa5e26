package sqlite

import (
	"context"
	"database/sql"
	"path/filepath"
	"testing"

	"railwright/internal/store"
	"railwright/internal/store/storetest"
)

// inFile is a place in a file.
func inFile(path string) storetest.Place {
	return storetest.Place{
		Name: path,
		Open: func(ctx context.Context, schema int64) (store.Store, error) {
			k, err := Open(ctx, path, Options{Create: true, Schema: schema})
			if err != nil {
				return nil, err
			}
			return k, nil
		},
		Raw: func() (*sql.DB, error) { return sql.Open("sqlite", dsn(path)) },
	}
}

func fresh(t *testing.T) storetest.Place {
	return inFile(filepath.Join(t.TempDir(), "a store?#%41.rws")) // a name with all that a URI would take apart
}

func TestSuite(t *testing.T) { storetest.Run(t, fresh) }
