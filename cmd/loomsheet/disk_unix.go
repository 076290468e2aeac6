//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package main

import (
	"errors"
	"io"
	"os"
	"os/signal"
	"syscall"
)

// noWait lets a pipe be opened that nobody writes into.
const noWait = syscall.O_NONBLOCK

var errLocked = errors.New("in use")

// lockFolder keeps a folder to one build. The lock goes with the process, however that ends. A system that knows no locks on folders has none.
func lockFolder(root *os.Root) (io.Closer, error) {
	d, err := root.Open(".")
	if err != nil {
		return io.NopCloser(nil), nil
	}
	if err := syscall.Flock(int(d.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); errors.Is(err, syscall.EWOULDBLOCK) {
		d.Close()
		return nil, errLocked
	}
	return d, nil
}

// onStop runs a function when the user or the system ends the program, which then ends by that signal.
func onStop(clear func()) (cancel func()) {
	c := make(chan os.Signal, 1)
	for _, s := range []os.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP} {
		if !signal.Ignored(s) {
			signal.Notify(c, s)
		}
	}
	go func() {
		if s, ok := <-c; ok {
			clear()
			signal.Reset(s)
			syscall.Kill(syscall.Getpid(), s.(syscall.Signal))
		}
	}()
	return func() {
		signal.Stop(c)
		close(c)
	}
}

// otherNames tells whether a file has more than one name.
func otherNames(info os.FileInfo) bool {
	s, ok := info.Sys().(*syscall.Stat_t)
	return ok && s.Nlink > 1
}

// keepOwner gives a file the owner and the group of another.
func keepOwner(f *os.File, like os.FileInfo) error {
	want, ok := like.Sys().(*syscall.Stat_t)
	if !ok {
		return nil
	}
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if have, ok := info.Sys().(*syscall.Stat_t); ok && have.Uid == want.Uid && have.Gid == want.Gid {
		return nil
	}
	return f.Chown(int(want.Uid), int(want.Gid))
}
