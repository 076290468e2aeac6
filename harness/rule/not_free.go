package rule

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/free"
)

var notFree = &Rule{
	Key: "not-free", Title: "a section is not free after its breaks are undone", Severity: diag.Finding,
	Why:     "The engine hangs on the crane before anyone finds the wire that still ties it.",
	Formula: "no wire, core, screen, lug, splice, shared clip, bush or half of a break joins what comes away to what stays, once all that `undo` lists is undone; a section by itself must come free of all that it meets",
	Source:  "common practice",
	Do:      "Add what ties to `undo`, give the wire a break, or say with which `section` a device comes away.",
	Fires:   breakJob + "removal nose-off section nose undo battery.neg\n",
	Silent:  breakJob + "removal nose-off section nose undo battery.neg, P\n",
	Check: func(m *Model, out *diag.List) {
		said := map[string]bool{}
		eachPart(m, func(p *free.Part) {
			for i := 0; i < len(p.Ties); {
				n := i + 1
				for n < len(p.Ties) && p.Ties[n].Group == p.Ties[i].Group {
					n++
				}
				group := p.Ties[i:n]
				i = n
				first := &group[0]
				if p.Alone && said[first.Group] {
					continue // told of a removal
				}
				said[first.Group] = true
				what := counted(len(group), tieWord(first.Kind))
				d := out.Finding(p.Span, "", fmt.Sprintf("%s is still tied at %s, by %s", partName(p), first.Group, what),
					strings.Join(tieTexts(group), " ")+" "+first.Mend, tieSubject(p, first))
				if first.Place != "" {
					d.Detail += " It is at " + first.Place + "."
				}
			}
		})
	},
}

func tieWord(k free.TieKind) string {
	switch k {
	case free.ByClip, free.ByBush, free.ByHalf:
		return k.String()
	}
	return "wire"
}

// tieTexts says the first ties in full and names the others.
func tieTexts(group []free.Tie) (say []string) {
	var names []string
	for i := range group {
		if i < 3 {
			say = append(say, group[i].Text)
			continue
		}
		names = append(names, group[i].Name)
	}
	if len(names) > 0 {
		say = append(say, "Also "+strings.Join(names, "; ")+".")
	}
	return say
}

func tieSubject(p *free.Part, t *free.Tie) diag.Subject {
	kind, name, _ := strings.Cut(t.Group, " ")
	switch kind {
	case "break", "device", "splice", "run":
		return diag.Subject{Kind: kind, Name: name}
	case "stud":
		device, _, _ := strings.Cut(name, ".")
		return diag.Subject{Kind: "device", Name: device}
	}
	return aboutPart(p)
}

// eachPart goes through the removals, then the sections by themselves.
func eachPart(m *Model, do func(p *free.Part)) {
	if m.Free == nil {
		return
	}
	for _, list := range [][]free.Part{m.Free.Removals, m.Free.Sections} {
		for i := range list {
			do(&list[i])
		}
	}
}

// eachStep goes through the steps of every removal.
func eachStep(m *Model, do func(p *free.Part, s *free.Step)) {
	eachPart(m, func(p *free.Part) {
		for i := range p.Steps {
			if !p.Alone {
				do(p, &p.Steps[i])
			}
		}
	})
}

// lossesOf is the losses of a step of some kinds.
func lossesOf(s *free.Step, kinds ...free.LossKind) (out []*free.Loss) {
	for i := range s.Losses {
		if slices.Contains(kinds, s.Losses[i].Kind) {
			out = append(out, &s.Losses[i])
		}
	}
	return out
}

// lossTexts says what a step does to loads, the first in full.
func lossTexts(list []*free.Loss) string {
	s := ""
	for i, l := range list {
		if i == 4 {
			return s + fmt.Sprintf(" And %d more.", len(list)-i)
		}
		if i > 0 {
			s += " "
		}
		s += fmt.Sprintf("In case %s: %s", l.InCase, l.Text)
	}
	return s
}

func partName(p *free.Part) string {
	if p.Alone {
		return "section " + p.Name + " by itself"
	}
	return "removal " + p.Name
}

func stepName(s *free.Step) string {
	name := s.Undo.Name
	if s.Undo.Pin != "" {
		name += "." + s.Undo.Pin
	}
	return name
}

func aboutPart(p *free.Part) diag.Subject {
	if len(p.Sections) == 0 {
		return diag.Subject{}
	}
	return diag.Subject{Kind: "section", Name: p.Sections[0]}
}

func aboutStep(s *free.Step) diag.Subject {
	if s.Undo.Kind == "break" {
		return diag.Subject{Kind: "break", Name: s.Undo.Name}
	}
	return diag.Subject{Kind: "device", Name: s.Undo.Name}
}

// counted is a number of things.
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
