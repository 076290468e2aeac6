//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package main

import (
	"io"
	"os"
	"os/signal"
)

const noWait = 0

func lockFolder(*os.Root) (io.Closer, error) { return io.NopCloser(nil), nil }

// onStop runs a function when the user ends the program, which then ends.
func onStop(clear func()) (cancel func()) {
	c := make(chan os.Signal, 1)
	signal.Notify(c, os.Interrupt)
	go func() {
		if _, ok := <-c; ok {
			clear()
			os.Exit(exitMisuse)
		}
	}()
	return func() {
		signal.Stop(c)
		close(c)
	}
}

func otherNames(os.FileInfo) bool { return false }

func keepOwner(*os.File, os.FileInfo) error { return nil }
