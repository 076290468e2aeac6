//go:build unix

package main

import (
	"syscall"
	"testing"
)

func makePipe(t *testing.T, name string) {
	t.Helper()
	if err := syscall.Mkfifo(name, 0o644); err != nil {
		t.Skip(err)
	}
}
