package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
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
// replaces a file that an earlier build did not write.
func writeAll(dir string, files []render.File) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("cannot make the folder %s: %v", dir, plain(err))
	}
	old := readManifest(dir)
	for _, f := range append([]render.File{{Name: manifestName}}, files...) {
		_, err := os.Lstat(filepath.Join(dir, f.Name))
		mine := slices.Contains(old.Files, f.Name) || f.Name == manifestName && old.Format == manifestFormat
		if err == nil && !mine {
			return fmt.Errorf("%s is there already and was not written by a build; give another folder with -o", filepath.Join(dir, f.Name))
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
	if err := writeManifest(dir, both); err != nil {
		return err
	}
	for _, f := range files {
		if err := writeFile(filepath.Join(dir, f.Name), f.Data); err != nil {
			return err
		}
	}
	for _, f := range old.Files {
		if !slices.Contains(next.Files, f) && filepath.IsLocal(f) {
			os.Remove(filepath.Join(dir, f))
		}
	}
	return writeManifest(dir, next)
}

func readManifest(dir string) (m manifest) {
	data, err := os.ReadFile(filepath.Join(dir, manifestName))
	if err != nil || json.Unmarshal(data, &m) != nil || m.Format != manifestFormat {
		return manifest{}
	}
	return m
}

func writeManifest(dir string, m manifest) error {
	data, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		return err
	}
	return writeFile(filepath.Join(dir, manifestName), append(data, '\n'))
}

// writeFile writes a file whole or not at all.
func writeFile(path string, data []byte) (err error) {
	fail := func(err error) error { return fmt.Errorf("cannot write %s: %v", path, plain(err)) }
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fail(err)
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".writing-*")
	if err != nil {
		return fail(err)
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name())
		}
	}()
	mode := os.FileMode(0o644)
	if info, err := os.Stat(path); err == nil {
		mode = info.Mode().Perm()
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(mode), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return fail(err)
	}
	return nil
}
