// Command install brings the programs that tests ask for a second opinion: Debian packages through
// apt-get (as root, or with sudo), npm packages into the user's cache folder. It exits 1 when it could not.
package main

import (
	"fmt"
	"os"
	"os/exec"

	"railwright/internal/peer"
)

func main() {
	if err := install(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func install() error {
	debian, npm := peer.Missing()
	if len(debian) > 0 {
		if err := run("apt-get", "update", "-qq"); err != nil {
			return fmt.Errorf("apt-get update: %w; install these by hand: %v", err, debian)
		}
		args := append([]string{"install", "-y", "-qq", "--no-install-recommends"}, debian...)
		if err := run("apt-get", args...); err != nil {
			return fmt.Errorf("apt-get install: %w; install these by hand: %v", err, debian)
		}
	}
	if len(npm) > 0 {
		if _, err := exec.LookPath("npm"); err != nil {
			if err := run("apt-get", "install", "-y", "-qq", "--no-install-recommends", "nodejs", "npm"); err != nil {
				return fmt.Errorf("npm is missing: %w", err)
			}
		}
		if err := os.MkdirAll(peer.Modules(), 0o755); err != nil {
			return err
		}
		args := append([]string{"install", "--no-audit", "--no-fund", "--silent", "--prefix", peer.Modules()}, npm...)
		if err := run("npm", args...); err != nil {
			return fmt.Errorf("npm install: %w", err)
		}
	}
	debian, npm = peer.Missing()
	if len(debian)+len(npm) > 0 {
		return fmt.Errorf("still missing after installing: %v %v", debian, npm)
	}
	fmt.Println("all there")
	return nil
}

// run runs a command with root's rights where it is apt-get and the user is not root.
func run(name string, args ...string) error {
	if name == "apt-get" && os.Geteuid() != 0 {
		name, args = "sudo", append([]string{"-n", "apt-get"}, args...)
	}
	cmd := exec.Command(name, args...)
	cmd.Stdout, cmd.Stderr = os.Stderr, os.Stderr
	cmd.Env = append(os.Environ(), "DEBIAN_FRONTEND=noninteractive")
	return cmd.Run()
}
