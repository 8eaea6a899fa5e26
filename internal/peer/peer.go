package peer

import (
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"testing"
)

// Need returns the path of a listed program. Where it is missing the test is skipped, but fails under
// ./test, which sets RAILWRIGHT_PEERS=1 after installing them all.
func Need(t testing.TB, name string) string {
	t.Helper()
	if !listed(name) {
		t.Fatalf("peer %q is not in internal/peer/list.go", name)
	}
	path, err := find(name)
	if err == nil {
		return path
	}
	if os.Getenv("RAILWRIGHT_PEERS") == "1" {
		t.Fatalf("%s is missing although ./test installs it: %v", name, err)
	}
	t.Skipf("%s is not installed (./test installs it)", name)
	return ""
}

// Missing returns the sources of the listed programs that this machine lacks: Debian packages, and npm
// packages as PACKAGE@VERSION; each sorted, none twice.
func Missing() (debian, npm []string) {
	seen := map[string]bool{}
	for _, p := range list {
		if _, err := find(p.name); err == nil || seen[p.from] {
			continue
		}
		seen[p.from] = true
		if pkg, ok := strings.CutPrefix(p.from, "npm:"); ok {
			npm = append(npm, pkg)
		} else {
			debian = append(debian, p.from)
		}
	}
	sort.Strings(debian)
	sort.Strings(npm)
	return debian, npm
}

// Modules is the folder that holds the npm packages of peers: one per user, outside the repository.
func Modules() string {
	cache, err := os.UserCacheDir()
	if err != nil {
		cache = os.TempDir()
	}
	return filepath.Join(cache, "railwright-peers")
}

func listed(name string) bool {
	for _, p := range list {
		if p.name == name {
			return true
		}
	}
	return false
}

// find looks a program up: an npm package by its folder, PostgreSQL's server programs where Debian puts them.
func find(name string) (string, error) {
	for _, p := range list {
		if pkg, ok := strings.CutPrefix(p.from, "npm:"); ok && p.name == name {
			path := filepath.Join(Modules(), "node_modules", pkg[:strings.LastIndex(pkg, "@")])
			_, err := os.Stat(path)
			return path, err
		}
	}
	path, err := exec.LookPath(name)
	if err == nil {
		return path, nil
	}
	if found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/" + name); len(found) > 0 {
		return found[len(found)-1], nil
	}
	return "", err
}
