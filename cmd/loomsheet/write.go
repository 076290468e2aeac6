package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

const (
	// aside is the folder, within that of the books, in which new ones wait until all are there.
	aside = ".loomsheet-writing"
	// markName is a file that stands beside the books while old ones are being replaced by new ones, and stays there if that is cut short.
	markName = "UNFINISHED.txt"
	markText = "A build was cut short while its files were moved here: some may be missing, others of an earlier build.\n" +
		"Make nothing from them. Build again; the source on each page tells which text a book is of.\n"
)

// folder puts the files of one build where they belong. Each is written aside as it comes; when all are there they are moved into place. So
// a folder holds the whole of one build, or a file that says that it does not. It never replaces or removes what an earlier build did not
// write or somebody changed since, and follows no link out of the folder.
type folder struct {
	dir    string
	made   bool // by this build
	root   *os.Root
	lock   io.Closer
	old    written
	next   written
	settle sync.RWMutex // held while files are written, several at once, or moved: a signal waits for it
	listed sync.Mutex   // held while one is entered in next
	closed bool
}

// afterStep is called after each change to a disk; tests end the process there.
var afterStep = func() {}

// openFolder makes the folder where it is missing, and clears away what a build that was cut short left aside.
func openFolder(dir, source string) (*folder, error) {
	_, err := os.Stat(dir)
	made := errors.Is(err, os.ErrNotExist)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("cannot make the folder %s: %v", dir, plain(err))
	}
	f := &folder{dir: dir, made: made, next: written{Source: source, Sums: map[string][]string{}}}
	f.next.Format = manifestFormat
	if f.root, err = os.OpenRoot(dir); err != nil {
		return nil, fmt.Errorf("cannot write into %s: %v", dir, plain(err))
	}
	if f.lock, err = lockFolder(f.root); err != nil {
		f.root.Close()
		return nil, fmt.Errorf("another build is writing into %s; wait until it is done", dir)
	}
	f.old = readManifest(f.root)
	for _, name := range []string{manifestName, markName} {
		if err = f.free(name); err != nil {
			break
		}
	}
	if err == nil {
		err = f.tidy()
	}
	if err != nil {
		f.close()
		return nil, err
	}
	return f, nil
}

// tidy removes what stands aside: files by the names of books in folders by the names of theirs, and nothing else.
func (f *folder) tidy() error {
	info, err := f.root.Lstat(aside)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err == nil && !info.IsDir() {
		return fmt.Errorf("%s is there already and was not written by a build; give another folder with -o", filepath.Join(f.dir, aside))
	}
	for _, at := range []string{"tables", "templates", "boards", "."} {
		d, err := f.root.Open(path.Join(aside, at))
		if err != nil {
			continue
		}
		names, _ := d.Readdirnames(-1)
		d.Close()
		for _, n := range names {
			if n = path.Join(at, n); ours.MatchString(n) || n == manifestName || n == markName {
				f.root.Remove(path.Join(aside, n))
			}
		}
		f.root.Remove(path.Join(aside, at))
	}
	if _, err := f.root.Lstat(aside); !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("cannot clear away %s, in which a build that was cut short left files; remove it", filepath.Join(f.dir, aside))
	}
	return nil
}

// add writes a file aside, beside others that are being added. Where something stands in its place that no build wrote, that is an error at once.
func (f *folder) add(name string, book io.WriterTo) error {
	f.settle.RLock()
	defer f.settle.RUnlock()
	if err := f.free(name); err != nil {
		return err
	}
	sum := sha256.New()
	if err := f.put(name, book, sum); err != nil {
		return err
	}
	f.listed.Lock()
	defer f.listed.Unlock()
	f.next.Sums[name] = []string{hex.EncodeToString(sum.Sum(nil))}
	return nil
}

// done moves the files that were added into place, and removes those of an earlier build that this one has not. Once it has begun a signal waits for its end.
func (f *folder) done(names []string) error {
	f.settle.Lock()
	defer f.settle.Unlock()
	defer f.close()
	f.next.Files = slices.Clone(names)
	for _, name := range append([]string{manifestName, markName}, slices.Concat(names, f.old.Files)...) {
		if err := f.free(name); err != nil {
			return err
		}
	}
	// While files are moved the list names both the old and the new: a build cut short can be repeated.
	both := f.next.and(f.old)
	if err := errors.Join(f.put(markName, strings.NewReader(markText), io.Discard), f.putManifest(both)); err != nil {
		return err
	}
	if err := f.move(manifestName); err != nil {
		return err
	}
	if err := f.move(markName); err != nil {
		return err
	}
	f.sync()
	for _, name := range names {
		if err := f.move(name); err != nil {
			return err
		}
	}
	for _, name := range f.old.Files {
		if !slices.Contains(names, name) && ours.MatchString(name) {
			if err := f.root.Remove(name); err != nil && !errors.Is(err, os.ErrNotExist) {
				return fmt.Errorf("cannot remove %s of an earlier build: %v", filepath.Join(f.dir, name), plain(err))
			}
			afterStep()
		}
	}
	if err := f.putManifest(f.next); err != nil {
		return err
	}
	if err := f.move(manifestName); err != nil {
		return err
	}
	f.sync()
	if err := f.root.Remove(markName); err != nil {
		return fmt.Errorf("cannot remove %s: %v", filepath.Join(f.dir, markName), plain(err))
	}
	afterStep()
	return nil
}

// drop ends the writing where it stands, with nothing replaced. After done it does nothing.
func (f *folder) drop() {
	f.settle.Lock()
	defer f.settle.Unlock()
	f.close()
}

// stop is drop for a program that is about to end: nothing is written after it.
func (f *folder) stop() {
	f.settle.Lock()
	f.close()
}

// close removes what stands aside, and the folder if this build made it and nothing is in it.
func (f *folder) close() {
	if f.closed {
		return
	}
	f.closed = true
	f.tidy()
	if f.made {
		os.Remove(f.dir)
	}
	f.lock.Close()
	f.root.Close()
}

// put writes a file aside, and its bytes to sum too. Its mode is that of the file whose place it takes.
func (f *folder) put(name string, from io.WriterTo, sum io.Writer) error {
	at := path.Join(aside, name)
	if err := f.root.MkdirAll(path.Dir(at), 0o777); err != nil {
		return f.fail(name, err)
	}
	afterStep()
	f.root.Remove(at)
	out, err := f.root.OpenFile(at, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return f.fail(name, err)
	}
	afterStep()
	if info, e := f.root.Stat(name); e == nil {
		err = out.Chmod(info.Mode().Perm())
	}
	_, e := from.WriteTo(io.MultiWriter(out, sum))
	if err = errors.Join(err, e, out.Sync(), out.Close()); err != nil {
		f.root.Remove(at)
		return f.fail(name, err)
	}
	afterStep()
	return nil
}

func (f *folder) putManifest(w written) error {
	data, err := w.bytes()
	if err != nil {
		return err
	}
	return f.put(manifestName, bytes.NewReader(data), io.Discard)
}

// move brings a file from aside into its place.
func (f *folder) move(name string) error {
	if at := path.Dir(name); at != "." {
		if err := f.root.MkdirAll(at, 0o777); err != nil {
			return f.fail(name, err)
		}
	}
	if err := f.root.Rename(path.Join(aside, name), name); err != nil {
		return f.fail(name, err)
	}
	afterStep()
	return nil
}

// sync asks the disk to keep what was moved so far. Not every system can; then the order is the disk's own.
func (f *folder) sync() {
	if d, err := f.root.Open("."); err == nil {
		d.Sync()
		d.Close()
	}
}

func (f *folder) fail(name string, err error) error {
	return fmt.Errorf("cannot write %s: %v", filepath.Join(f.dir, name), plain(err))
}

// free is nil if a name may be written to: nothing stands there, or a file of an earlier build as that build wrote it, and its folder is no link.
func (f *folder) free(name string) error {
	at := filepath.Join(f.dir, name)
	if in := path.Dir(name); in != "." {
		if info, err := f.root.Lstat(in); err == nil && !info.IsDir() {
			return fmt.Errorf("%s is there already and is not a folder; give another folder with -o", filepath.Join(f.dir, in))
		}
	}
	info, err := f.root.Lstat(name)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("cannot write %s: %v", at, plain(err))
	}
	same, mine := f.wrote(name)
	switch {
	case !mine || !info.Mode().IsRegular():
		return fmt.Errorf("%s is there already and was not written by a build; give another folder with -o", at)
	case info.Mode().Perm()&0o222 == 0:
		return fmt.Errorf("%s is read-only; let it be written, or give another folder with -o", at)
	case !same:
		return fmt.Errorf("%s was changed since a build wrote it; move it elsewhere, or give another folder with -o", at)
	}
	return nil
}

// wrote tells whether an earlier build wrote what stands under a name, and whether it is still as it was.
func (f *folder) wrote(name string) (same, mine bool) {
	switch name {
	case manifestName:
		return true, f.old.Format == manifestFormat
	case markName:
		text, err := readIn(f.root, markName)
		return true, err == nil && string(text) == markText
	}
	if !slices.Contains(f.old.Files, name) {
		return false, false
	}
	want := f.old.Sums[name]
	if len(want) == 0 {
		return true, true
	}
	in, err := f.root.Open(name)
	if err != nil {
		return false, true
	}
	defer in.Close()
	h := sha256.New()
	_, err = io.Copy(h, in)
	return err == nil && slices.Contains(want, hex.EncodeToString(h.Sum(nil))), true
}
