package rule

import (
	"loomsheet/harness/diag"
)

var classUnused = &Rule{
	Key: "class-unused", Title: "a class that no setting and no break uses", Severity: diag.Finding,
	Why:     "A class is a free word; misspelt, it silently loses the limits and the breaks that were meant for it.",
	Formula: "each class of a device, circuit or break is named by a `set` line or kept by a break; `signal` and `lamps` are known by themselves",
	Source:  "common practice",
	Do:      "Correct the word, set something for the class, or take it out.",
	Fires:   with(smallJob, "housing sealed-2 {", "housing sealed-2 class fule {") + "set drop to 3 % class fuel\n",
	Silent:  with(smallJob, "housing sealed-2 {", "housing sealed-2 class fuel {") + "set drop to 3 % class fuel\n",
	Check: func(m *Model, out *diag.List) {
		known := map[string]bool{"": true, "signal": true, "lamps": true} // patterns of the built-in library bring the last two
		var names []string
		for _, s := range m.Job.Settings.Lines {
			if c := s.Scope["class"]; c != "" {
				known[c] = true
				names = append(names, c)
			}
		}
		for _, b := range m.Job.Breaks {
			if b.Class != "" {
				known[b.Class] = true
				names = append(names, b.Class)
			}
		}
		said := map[string]bool{}
		tell := func(class string, span diag.Span, kind, name string) {
			if known[class] || said[class] {
				return
			}
			said[class] = true
			out.Finding(span, "", "class "+class+" is used by no setting and no break", "It changes nothing as it stands.", diag.Subject{Kind: kind, Name: name}).Near(diag.Nearest(class, names))
		}
		for _, d := range m.Job.Devices {
			if !d.Pattern {
				tell(d.Class, d.Span, "device", d.Name)
			}
		}
		for _, c := range m.Job.Circuits {
			tell(c.Class, c.Span, "circuit", c.Name)
			for _, l := range c.Links {
				tell(l.Class, l.Span, "circuit", c.Name)
			}
		}
	},
}
