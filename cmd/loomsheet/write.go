package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"

	"loomsheet/render"
)

// manifestName is written last; it lists what the program wrote, so that a later build may replace that and nothing else.
const manifestName = "written.json"

type manifest struct {
	Format string   `json:"format"`
	Files  []string `json:"files"`
}

const manifestFormat = "loomsheet written 1"

// writeAll puts files into dir, each under a temporary name first and then renamed, so that a file is whole or not there. It never
// replaces a file that an earlier build did not write, and follows no link out of dir.
func writeAll(dir string, files []render.File) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("cannot make the folder %s: %v", dir, plain(err))
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("cannot write into %s: %v", dir, plain(err))
	}
	defer root.Close()
	old := readManifest(root)
	for _, f := range append([]render.File{{Name: manifestName}}, files...) {
		mine := slices.Contains(old.Files, f.Name) || f.Name == manifestName && old.Format == manifestFormat
		if err := vacant(root, f.Name, mine); err != nil {
			return err
		}
	}
	next := manifest{Format: manifestFormat}
	for _, f := range files {
		next.Files = append(next.Files, f.Name)
	}
	// Until all is in place the manifest names the old files and the new: a build cut short can be repeated.
	both := manifest{Format: manifestFormat, Files: slices.Clone(next.Files)}
	for _, f := range old.Files {
		if !slices.Contains(both.Files, f) {
			both.Files = append(both.Files, f)
		}
	}
	if err := writeManifest(root, both); err != nil {
		return err
	}
	for _, f := range files {
		if err := writeIn(root, f.Name, f.Data); err != nil {
			return err
		}
	}
	for _, f := range old.Files {
		if !slices.Contains(next.Files, f) && ours.MatchString(f) {
			root.Remove(f)
		}
	}
	return writeManifest(root, next)
}

// ours is what a build may have written: a manifest that names anything else was not ours.
var ours = regexp.MustCompile(`^((bench|board)-[\w-]+\.pdf|shell\.pdf|lid\.pdf|review\.pdf|harness\.json|tables/[\w-]+\.csv|templates/[\w-]+\.(svg|dxf)|boards/[\w-]+\.svg)$`)

// vacant is nil if a file may be written under a name: nothing stands there, or a file of an earlier build, and its folder is no link.
func vacant(root *os.Root, name string, mine bool) error {
	at := filepath.Join(root.Name(), name)
	if folder := path.Dir(name); folder != "." {
		if info, err := root.Lstat(folder); err == nil && !info.IsDir() {
			return fmt.Errorf("%s is there already and is not a folder; give another folder with -o", filepath.Join(root.Name(), folder))
		}
	}
	info, err := root.Lstat(name)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("cannot write %s: %v", at, plain(err))
	case !mine || !info.Mode().IsRegular():
		return fmt.Errorf("%s is there already and was not written by a build; give another folder with -o", at)
	}
	return nil
}

func readManifest(root *os.Root) (m manifest) {
	data, err := readIn(root, manifestName)
	if err != nil || json.Unmarshal(data, &m) != nil || m.Format != manifestFormat {
		return manifest{}
	}
	return m
}

func writeManifest(root *os.Root, m manifest) error {
	data, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		return err
	}
	return writeIn(root, manifestName, append(data, '\n'))
}

// writeFile writes a file whole or not at all.
func writeFile(name string, data []byte) error {
	root, err := os.OpenRoot(filepath.Dir(name))
	if err != nil {
		return fmt.Errorf("cannot write %s: %v", name, plain(err))
	}
	defer root.Close()
	return writeIn(root, filepath.Base(name), data)
}

// writeIn writes a file below a folder whole or not at all.
func writeIn(root *os.Root, name string, data []byte) (err error) {
	fail := func(err error) error {
		return fmt.Errorf("cannot write %s: %v", filepath.Join(root.Name(), name), plain(err))
	}
	folder := path.Dir(name)
	if folder != "." {
		if err := root.MkdirAll(folder, 0o755); err != nil {
			return fail(err)
		}
	}
	mode := os.FileMode(0o644)
	if info, err := root.Stat(name); err == nil {
		mode = info.Mode().Perm()
	}
	temporary := path.Join(folder, fmt.Sprintf(".writing-%016x", rand.Uint64()))
	f, err := root.OpenFile(temporary, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return fail(err)
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(mode), f.Sync(), f.Close())
	if err == nil {
		err = root.Rename(temporary, name)
	}
	if err != nil {
		root.Remove(temporary)
		return fail(err)
	}
	return nil
}
