// Package word is the table of the words of the language as data. Checking, near-miss hints, the formatter and the reference
// are all driven by it; no other package spells a word's options.
package word

import "loomsheet/harness/unit"

// Kind is what sort of value is wanted.
type Kind uint8

// Sorts of values.
const (
	NewName   Kind = iota // a name declared here
	FreeName              // any name: a class, a revision, a key, a colour
	FreeText              // text in quotes
	Measure               // a quantity of one of Arg.Dims (any unit if Dims is empty), or one of Arg.Choices
	Spot                  // a place in round brackets, or the name of anything that has a place
	Coords                // a place in round brackets only
	Refer                 // the name of a thing of one of Arg.Things; "stud" is device.pin, "switch" a device or device.group
	End                   // an end of a wire, load, contact or fuse: device.pin, device, pin, splice, break
	Choice                // one of Arg.Choices
	SettingTo             // the value of a setting; its sort is the setting's own
	Any                   // checked by the resolver
)

// Arg says what values an option, or the subject of a word, takes.
type Arg struct {
	Kind    Kind
	Dims    []unit.Dim // of a Measure; the first is the one shown in the reference
	Things  []string   // of a Refer: words whose names are wanted: "section", "housing", "pin", "cavity", "state", ...
	Choices []string   // of a Choice
	Many    bool       // a comma list is allowed
	None    bool       // a subject may be left out
	// Least and Most bound the count of values of a list; 0 is no bound.
	Least, Most int
}

// Option is one option of a word.
type Option struct {
	Name    string
	Arg     Arg
	Repeats bool   // may stand more than once in a line (from .. to .. to)
	Default string // as printed in the reference; "set: wire" names a setting
	Doc     string // one sentence for a practitioner
}

// Word is one word of the language. In is the word in whose block it may stand; "" is the top level.
type Word struct {
	Name    string
	In      string
	About   Arg
	Options []Option
	Part    bool // describes parts, seldom met by an author
	Params  bool // its options are the parameters of the template it names
	Doc     string
	Example string // whole statements; the examples of all words together are one job
}
