//go:build unix

package postgres

import (
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"sync"
	"testing"

	_ "github.com/jackc/pgx/v5/stdlib"

	"railwright/internal/store"
	"railwright/internal/store/sqlite"
	"railwright/internal/store/storetest"
)

var (
	serverOnce sync.Once
	theServer  *storetest.Server
)

// server is one server for all tests of the package.
func server(t testing.TB) *storetest.Server {
	serverOnce.Do(func() { theServer = storetest.StartPostgres(t) })
	if theServer == nil {
		t.Skip("there is no server, see the first test")
	}
	return theServer
}

func TestMain(m *testing.M) {
	storetest.SaverMain(at)
	code := m.Run()
	if theServer != nil {
		theServer.Stop()
	}
	os.Exit(code)
}

// at is a place in a database.
func at(url string) storetest.Place {
	return storetest.Place{
		Name: url,
		Open: func(ctx context.Context, schema int64) (store.Store, error) {
			k, err := Open(ctx, url, Options{Create: true, Schema: schema})
			if err != nil {
				return nil, err
			}
			return k, nil
		},
		Raw: func() (*sql.DB, error) { return sql.Open("pgx", url) },
	}
}

func TestSuite(t *testing.T) {
	s := server(t)
	storetest.Run(t, func(t *testing.T) storetest.Place { return at(s.Fresh(t)) })
}

// TestMoves: a backup moves a store between the two keepers.
func TestMoves(t *testing.T) {
	s := server(t)
	fresh := func(t *testing.T) storetest.Place { return at(s.Fresh(t)) }
	inFile := func(t *testing.T) storetest.Place {
		path := filepath.Join(t.TempDir(), "store")
		return storetest.Place{Name: path, Open: func(ctx context.Context, schema int64) (store.Store, error) {
			return sqlite.Open(ctx, path, sqlite.Options{Create: true})
		}}
	}
	a, b := fresh(t), inFile(t)
	a.Another = fresh
	storetest.Moves(t, a, b)
}

func TestKilledProcess(t *testing.T) { storetest.KilledProcess(t, at(server(t).Fresh(t))) }

func TestProcesses(t *testing.T) { storetest.Processes(t, at(server(t).Fresh(t))) }

func TestKilledServer(t *testing.T) {
	s := server(t)
	storetest.KilledServer(t, at(s.Fresh(t)), s.Kill, s.Start)
}
