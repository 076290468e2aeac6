package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"time"
)

// besides is the name under which a single file is written before it takes its place.
var besides = regexp.MustCompile(`^\.loomsheet-[0-9a-f]{16}$`)

// leftAfter is the age at which such a file is taken for one of a run that was cut short.
const leftAfter = time.Hour

var errChanged = errors.New("it was changed meanwhile; nothing was written")

// replaceFile writes a file whole or not at all. The file must still hold what was read of it, nil if there was none; it keeps its mode and
// its owner, and one that may only be read is left alone. A name that is a link goes on being one. Another name of the same file (a hard link) keeps the old text;
// parted tells that there was one.
func replaceFile(name string, old, data []byte) (parted bool, err error) {
	if to, e := filepath.EvalSymlinks(name); e == nil {
		name = to
	}
	fail := func(err error) error { return fmt.Errorf("cannot write %s: %v", name, plain(err)) }
	root, err := os.OpenRoot(filepath.Dir(name))
	if err != nil {
		return false, fail(err)
	}
	defer root.Close()
	tidyBesides(root)
	base := filepath.Base(name)
	unchanged := func() error {
		now, err := readIn(root, base)
		switch {
		case errors.Is(err, errNotThere) && old == nil:
			return nil
		case err != nil && !errors.Is(err, errNotThere):
			return err
		case err != nil || old == nil || !bytes.Equal(now, old):
			return errChanged
		}
		return nil
	}
	if err := unchanged(); err != nil {
		return false, fail(err)
	}
	if info, err := root.Lstat(base); err == nil && info.Mode()&os.ModeSymlink != 0 {
		return false, fail(errors.New("it is a link that leads nowhere"))
	}
	info, err := root.Stat(base)
	if err == nil {
		// Only who may write into a file may put another into its place.
		if info.Mode().Perm()&0o222 == 0 {
			return false, fail(errors.New("it is read-only"))
		}
		f, err := root.OpenFile(base, os.O_WRONLY, 0)
		if err != nil {
			return false, fail(err)
		}
		f.Close()
	} else {
		info = nil
	}
	aside := fmt.Sprintf(".loomsheet-%016x", rand.Uint64())
	f, err := root.OpenFile(aside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return false, fail(err)
	}
	if info != nil {
		parted = otherNames(info)
		err = errors.Join(keepOwner(f, info), f.Chmod(info.Mode().Perm()))
	}
	afterStep()
	_, e := f.Write(data)
	afterStep()
	if err = errors.Join(err, e, f.Sync(), f.Close()); err == nil {
		err = unchanged()
	}
	if err == nil {
		err = root.Rename(aside, base)
	}
	afterStep()
	if err != nil {
		root.Remove(aside)
		return false, fail(err)
	}
	return parted, nil
}

// replace is replaceFile; it says on errs that a hard link was parted.
func replace(errs io.Writer, name string, old, data []byte) error {
	parted, err := replaceFile(name, old, data)
	if parted && err == nil {
		fmt.Fprintf(errs, "loomsheet: %s had another name (a hard link); that one keeps the old text\n", name)
	}
	return err
}

// tidyBesides removes what runs that were cut short long ago left beside a file.
func tidyBesides(root *os.Root) {
	d, err := root.Open(".")
	if err != nil {
		return
	}
	defer d.Close()
	names, _ := d.Readdirnames(-1)
	for _, n := range names {
		if !besides.MatchString(n) {
			continue
		}
		if info, err := root.Lstat(n); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > leftAfter {
			root.Remove(n)
		}
	}
}
