// Package parts holds the built-in library of parts and device patterns, written in the language itself. It is read after a job's
// own files and gives way to them name by name.
//
// Every part says where it comes from: the document, "typical" for what makers commonly sell, or "from memory". In a line of
// wire sizes the source is that of the resistance. A figure whose source says typical or from memory is shown as unverified
// (data.BasisOf).
package parts

import "embed"

//go:embed library/*.loom
var library embed.FS

// order is the order of reading: one file for each kind of part, then the patterns that use them.
var order = []string{"wires", "cables", "contacts", "sealed", "plain", "round", "fuses", "fixings", "barrels", "devices"}

// File is one text of the library.
type File struct {
	Name string // as named in messages
	Text string
}

// Files is the whole library, always in the same order.
func Files() []File {
	out := make([]File, len(order))
	for i, n := range order {
		name := "library/" + n + ".loom"
		b, err := library.ReadFile(name)
		if err != nil {
			panic(err) // the file is part of the program
		}
		out[i] = File{Name: name, Text: string(b)}
	}
	return out
}
