package word

import (
	"slices"
	"strings"

	"loomsheet/harness/diag"
)

var all = slices.Concat(jobWords, decisionWords, blockWords, deviceBlockWords, partWords, partBlockWords)

// All is every word, those of the job before those of parts, a word of the top level before those of its block.
func All() []Word {
	var out []Word
	for _, w := range all {
		if w.In != "" {
			continue
		}
		out = append(out, w)
		for _, b := range all {
			if b.In == w.Name {
				out = append(out, b)
			}
		}
	}
	return out
}

// Top is every word that may begin a statement of its own.
func Top() []Word { return InBlock("") }

// IsTop tells whether a statement of its own may begin with name.
func IsTop(name string) bool { return topNames[name] }

var topNames = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range all {
		if w.In == "" {
			m[w.Name] = true
		}
	}
	return m
}()

// Known tells whether name is a word, or an option of a word, anywhere.
func Known(name string) bool { return known[name] }

var known = func() map[string]bool {
	m := map[string]bool{}
	for _, o := range Common {
		m[o.Name] = true
	}
	for _, w := range all {
		m[w.Name] = true
		for _, o := range w.Options {
			m[o.Name] = true
		}
	}
	return m
}()

// notInTemplate are the words that a template's block may not hold.
var notInTemplate = []string{"harness", "include", "template", "use"}

// InBlock is the words that may stand in the block of a top-level word; "" gives those of the top level. The block of a line
// that stands in a block itself holds no words of its own, only further options. A template holds statements.
func InBlock(outer string) []Word {
	in := outer
	if outer == "template" {
		in = ""
	}
	var out []Word
	for _, w := range all {
		if w.In == in && (outer != "template" || !slices.Contains(notInTemplate, w.Name)) {
			out = append(out, w)
		}
	}
	return out
}

// Find looks a word up in the block of a top-level word, or at the top level if outer is "". It is nil if there is none there; the
// line may then still go on with options of the outer word (Word.Option).
func Find(outer, name string) *Word {
	if outer == "template" {
		if slices.Contains(notInTemplate, name) {
			return nil
		}
		outer = ""
	}
	return byName[[2]string{outer, name}]
}

// byName is all words by the word in whose block they stand and their own name.
var byName = func() map[[2]string]*Word {
	m := make(map[[2]string]*Word, len(all))
	for i := range all {
		if k := [2]string{all[i].In, all[i].Name}; m[k] == nil {
			m[k] = &all[i]
		}
	}
	return m
}()

// Option looks an option of the word up, those common to all words included; nil if the word has none of that name.
func (w *Word) Option(name string) *Option {
	for i := range w.Options {
		if w.Options[i].Name == name {
			return &w.Options[i]
		}
	}
	for i := range Common {
		if Common[i].Name == name {
			return &Common[i]
		}
	}
	return nil
}

// OptionNames lists the names of the word's options, then of those common to all words.
func (w *Word) OptionNames() []string {
	var out []string
	for _, o := range w.Options {
		out = append(out, o.Name)
	}
	for _, o := range Common {
		out = append(out, o.Name)
	}
	return out
}

// Names lists the names of words, for near names.
func Names(words []Word) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = w.Name
	}
	return out
}

// LineNames lists all with which a line in the block of a top-level word may begin: block words and, where the outer word's options
// may go on, those options. For "" it lists the words of the top level.
func LineNames(outer string) []string {
	out := Names(InBlock(outer))
	if w := Find("", outer); w != nil && outer != "template" {
		for _, n := range w.OptionNames() {
			if !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	return out
}

// OwnersOf names the words, as a person would look for them, that have an option or a block line of the given name: the
// answer to "`cavity` does not belong here".
func OwnersOf(name string) []string {
	var out []string
	for _, w := range All() {
		has := w.In != "" && w.Name == name
		owner := w.In
		if !has && slices.ContainsFunc(w.Options, func(o Option) bool { return o.Name == name }) {
			has, owner = true, w.Name
			if w.In != "" {
				owner = w.In + " " + w.Name
			}
		}
		if has && !slices.Contains(out, owner) {
			out = append(out, owner)
		}
	}
	return out
}

// Wants says in a few words what values are wanted: "a length, such as 300 mm", "one of fixed, free".
func (a Arg) Wants() string {
	switch a.Kind {
	case NewName:
		if a.Many {
			return "a name, or several with commas between"
		}
		return "a name"
	case FreeName:
		if a.Many {
			return "one or more names of your own choice"
		}
		return "a name of your own choice"
	case FreeText:
		return "text, in quotes if it has blanks in it"
	case Measure:
		return a.wantsMeasure()
	case Spot:
		return "a place such as (1180, -440, 470 mm), or the name of something that has a place"
	case Coords:
		return "coordinates such as (1180, -440, 470 mm)"
	case Refer:
		what := "the name of a " + strings.Join(a.Things, ", or of a ")
		if a.Many {
			return what + "; several with commas between"
		}
		return what
	case End:
		return "an end such as pump.1: a pin of a device, a splice or a break"
	case Choice:
		if len(a.Choices) == 1 {
			return a.Choices[0]
		}
		if a.Many {
			return "one or more of " + strings.Join(a.Choices, ", ")
		}
		return "one of " + strings.Join(a.Choices, ", ")
	case SettingTo:
		return "the value of the setting"
	}
	return "a value"
}

func (a Arg) wantsMeasure() string {
	if len(a.Dims) == 0 {
		return "a quantity with its unit"
	}
	var kinds []string
	for _, d := range a.Dims {
		if u := d.Units(); len(u) > 0 {
			kinds = append(kinds, d.String()+" in "+u[0])
		} else {
			kinds = append(kinds, "a plain number")
		}
	}
	kinds = append(kinds, a.Choices...)
	return strings.Join(kinds, " or ")
}

// NearOption picks options of the word that may have been meant.
func (w *Word) NearOption(name string) []string { return diag.Nearest(name, w.OptionNames()) }
