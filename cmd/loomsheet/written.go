package main

import (
	"encoding/json"
	"maps"
	"os"
	"regexp"
	"slices"
)

// manifestName lists what the program wrote, so that a later build may replace that and nothing else.
const manifestName = "written.json"

const manifestFormat = "loomsheet written 1"

type manifest struct {
	Format string   `json:"format"`
	Files  []string `json:"files"`
}

// written is the list with the SHA-256 of each file, so that a file that somebody changed is told from one that was left alone, and a set
// of one build from a mixed one. While files are being replaced a name has the sums of both.
type written struct {
	manifest
	Source string              `json:"source"` // digest of the text, as on each page
	Sums   map[string][]string `json:"sha256"`
}

// ours is what a build may have written: a list that names anything else was not ours.
var ours = regexp.MustCompile(`^((bench|board)-[\w-]+\.pdf|(shell|review)(-\d+)?\.pdf|lid\.pdf|harness\.json|tables/[\w-]+\.csv|templates/[\w-]+\.(svg|dxf)|boards/[\w.-]+\.svg)$`)

func readManifest(root *os.Root) (w written) {
	data, err := readIn(root, manifestName)
	if err != nil || json.Unmarshal(data, &w) != nil || w.Format != manifestFormat {
		return written{}
	}
	w.Files = slices.DeleteFunc(w.Files, func(name string) bool { return !ours.MatchString(name) })
	return w
}

// and is a list of what either list names.
func (w written) and(old written) written {
	w.Files, w.Sums = slices.Clone(w.Files), maps.Clone(w.Sums)
	for _, name := range old.Files {
		if !slices.Contains(w.Files, name) {
			w.Files = append(w.Files, name)
		}
		if len(old.Sums[name]) == 0 {
			delete(w.Sums, name) // an earlier list without sums
			continue
		}
		sums := slices.Concat(w.Sums[name], old.Sums[name])
		slices.Sort(sums)
		w.Sums[name] = slices.Compact(sums)
	}
	return w
}

func (w written) bytes() ([]byte, error) {
	data, err := json.MarshalIndent(w, "", "  ")
	return append(data, '\n'), err
}
