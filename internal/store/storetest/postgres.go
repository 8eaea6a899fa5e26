//go:build unix

package storetest

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"railwright/internal/peer"
)

// Server is a throw-away PostgreSQL server, reached through a socket only. It ends with the process
// that started it, however that ends.
type Server struct {
	bin, dir string
	who      *syscall.Credential // PostgreSQL refuses to run as root
	leash    io.Closer           // the shell around the server ends it when this end closes
	shell    *exec.Cmd
	log      bytes.Buffer
	schemas  atomic.Int64
}

// guard starts the server and ends it when its standard input ends.
const guard = `"$@" </dev/null & pid=$!; cat >/dev/null; kill -QUIT $pid 2>/dev/null; wait $pid`

// StartPostgres makes and starts a server. Stop it.
func StartPostgres(t testing.TB) *Server {
	t.Helper()
	s, err := newServer(filepath.Dir(peer.Need(t, "initdb")))
	if err == nil {
		err = s.Start(t.Context())
	}
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func newServer(bin string) (*Server, error) {
	dir, err := os.MkdirTemp("", "rw-pg-")
	if err != nil {
		return nil, err
	}
	s := &Server{bin: bin, dir: dir}
	if os.Getuid() == 0 {
		if s.who, err = somebodyElse(); err != nil {
			return nil, err
		}
		if err := os.Chown(dir, int(s.who.Uid), int(s.who.Gid)); err != nil {
			return nil, err
		}
	}
	out, err := s.command(context.Background(), filepath.Join(bin, "initdb"), "-D", s.data(), "-U", "railwright", "--auth=trust", "-E", "UTF8", "--locale=C", "--no-sync").CombinedOutput()
	if err != nil {
		return nil, fmt.Errorf("initdb: %w\n%s", err, out)
	}
	return s, nil
}

func somebodyElse() (*syscall.Credential, error) {
	var last error
	for _, name := range []string{"postgres", "nobody"} {
		u, err := user.Lookup(name)
		if err != nil {
			last = err
			continue
		}
		uid, err1 := strconv.ParseUint(u.Uid, 10, 32)
		gid, err2 := strconv.ParseUint(u.Gid, 10, 32)
		if err1 == nil && err2 == nil {
			return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}, nil
		}
	}
	return nil, fmt.Errorf("PostgreSQL does not run as root, and there is nobody else: %w", last)
}

func (s *Server) data() string { return filepath.Join(s.dir, "data") }

func (s *Server) command(ctx context.Context, name string, args ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, name, args...)
	c.Dir = s.dir
	c.Env = []string{"PATH=/usr/bin:/bin", "LC_ALL=C", "TZ=UTC"}
	c.SysProcAttr = &syscall.SysProcAttr{Credential: s.who}
	return c
}

// Start starts the server and waits until it takes connections.
func (s *Server) Start(ctx context.Context) error {
	s.shell = s.command(context.Background(), "/bin/sh", "-c", guard, "sh",
		filepath.Join(s.bin, "postgres"), "-D", s.data(), "-k", s.dir, "-c", "listen_addresses=", "-c", "shared_buffers=16MB", "-c", "max_connections=100", "-c", "autovacuum=off", "-c", "jit=off")
	s.log.Reset()
	s.shell.Stdout, s.shell.Stderr = &s.log, &s.log
	leash, err := s.shell.StdinPipe()
	if err != nil {
		return err
	}
	s.leash = leash
	if err := s.shell.Start(); err != nil {
		return err
	}
	for wait := 0; wait < 600; wait++ {
		c, err := pgx.Connect(ctx, s.url(""))
		if err == nil {
			return c.Close(ctx)
		}
		time.Sleep(25 * time.Millisecond)
	}
	s.Stop()
	return fmt.Errorf("PostgreSQL did not start:\n%s", s.log.String())
}

// Kill ends the server and all its processes with kill -9.
func (s *Server) Kill() error {
	text, err := os.ReadFile(filepath.Join(s.data(), "postmaster.pid"))
	if err != nil {
		return err
	}
	line, _, _ := strings.Cut(string(text), "\n")
	pid, err := strconv.Atoi(line)
	if err != nil || pid < 2 {
		return fmt.Errorf("the server's process is %q: %w", line, err)
	}
	for _, p := range append([]int{pid}, children(pid)...) {
		if err := syscall.Kill(p, syscall.SIGKILL); err != nil && err != syscall.ESRCH {
			return err
		}
	}
	s.leash.Close()
	s.shell.Wait() //nolint:errcheck // it was killed
	return nil
}

// children lists the processes of a server.
func children(parent int) []int {
	var all []int
	stats, _ := filepath.Glob("/proc/[0-9]*/stat")
	for _, name := range stats {
		text, err := os.ReadFile(name)
		if err != nil {
			continue // it has ended
		}
		_, rest, ok := bytes.Cut(text, []byte(") ")) // pid (name) state parent ...
		f := strings.Fields(string(rest))
		if ok && len(f) > 1 && f[1] == strconv.Itoa(parent) {
			if pid, err := strconv.Atoi(filepath.Base(filepath.Dir(name))); err == nil {
				all = append(all, pid)
			}
		}
	}
	return all
}

// Stop ends the server and takes its files away.
func (s *Server) Stop() {
	s.leash.Close()
	s.shell.Wait() //nolint:errcheck // it was told to quit
	os.RemoveAll(s.dir)
}

func (s *Server) url(schema string) string {
	q := url.Values{"host": {s.dir}, "user": {"railwright"}, "sslmode": {"disable"}}
	if schema != "" {
		q.Set("search_path", schema)
	}
	return "postgres:///postgres?" + q.Encode()
}

// Fresh makes an empty schema and returns the URL of a store in it.
func (s *Server) Fresh(t testing.TB) string {
	t.Helper()
	name := fmt.Sprint("t", s.schemas.Add(1))
	c, err := pgx.Connect(t.Context(), s.url(""))
	if err == nil {
		defer c.Close(t.Context()) //nolint:errcheck // it was used
		_, err = c.Exec(t.Context(), "CREATE SCHEMA "+name)
	}
	if err != nil {
		t.Fatal(err)
	}
	return s.url(name)
}
