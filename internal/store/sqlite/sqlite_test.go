package sqlite

import (
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"testing"
	"time"

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

func TestMain(m *testing.M) {
	storetest.SaverMain(inFile)
	os.Exit(m.Run())
}

func TestKilledProcess(t *testing.T) { storetest.KilledProcess(t, fresh(t)) }

func TestProcesses(t *testing.T) { storetest.Processes(t, fresh(t)) }

func TestSuite(t *testing.T) { storetest.Run(t, fresh) }

// epoch is the time of saves in tests.
var epoch = time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
