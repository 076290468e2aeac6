package main

import (
	"cmp"
	"encoding/binary"
	"hash/fnv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// inPackage lists the mutants of the files in a folder that are not tests, files by name.
func inPackage(dir string) ([]Mutant, error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return nil, err
	}
	slices.Sort(files)
	var all []Mutant
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		src, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		found, err := Mutants(file, src)
		if err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	return all, nil
}

// shuffled gives the mutants in an order that seed and each mutant's own key alone decide: an edit of one function leaves the order of all others.
func shuffled(all []Mutant, dir string, seed uint64) []Mutant {
	rank := make([]uint64, len(all))
	order := make([]int, len(all))
	for i, m := range all {
		h := fnv.New64a()
		var s [8]byte
		binary.LittleEndian.PutUint64(s[:], seed)
		h.Write(s[:])
		h.Write([]byte(dir + "|" + m.Key))
		rank[i], order[i] = mix(h.Sum64()), i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(rank[a], rank[b]), cmp.Compare(a, b))
	})
	out := make([]Mutant, len(all))
	for i, o := range order {
		out[i] = all[o]
	}
	return out
}

// mix spreads a hash over all its bits: keys that differ at their end alone would else lie beside one another.
func mix(h uint64) uint64 {
	h ^= h >> 33
	h *= 0xff51afd7ed558ccd
	h ^= h >> 33
	h *= 0xc4ceb9fe1a85ec53
	return h ^ h>>33
}

// wanted is how many of n mutants to try: the share of them, or at most the number if one is given.
func wanted(n int, share float64, number int) int {
	k := int(math.Ceil(share * float64(n)))
	if number > 0 {
		k = number
	}
	return min(k, n)
}
