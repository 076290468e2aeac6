package benchbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/free"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// takeOut is how the section comes out of the vehicle: each removal it is part of, else the section by itself.
func takeOut(fl *page.Flow, p *free.Proof, section string) {
	if p == nil {
		return
	}
	var parts []*free.Part
	for i := range p.Removals {
		if has(p.Removals[i].Sections, section) {
			parts = append(parts, &p.Removals[i])
		}
	}
	if len(parts) == 0 {
		for i := range p.Sections {
			if has(p.Sections[i].Sections, section) {
				parts = append(parts, &p.Sections[i])
			}
		}
	}
	for n, k := range parts {
		if n == 0 {
			fl.Heading(1, "Taking it out")
		}
		removal(fl, k)
	}
}

func has(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func removal(fl *page.Flow, k *free.Part) {
	name := "Section " + k.Name + " by itself"
	if !k.Alone {
		name = "Removal " + k.Name
	}
	fl.Heading(2, name)
	verdict := "Proved from the wires and from space: after these steps nothing ties it."
	if !k.Free {
		verdict = "NOT FREE after these steps: " + common.Count(len(k.Ties), "thing still ties", "things still tie") + " it, named below."
	}
	common.Intro(fl, verdict)
	t := table.New(
		table.Column{Title: "Step", Align: page.Right, Whole: true, Type: page.Strong},
		table.Column{Title: "Do", Weight: 6, Min: 56},
		table.Column{Title: "Most through it A", Align: page.Right, Min: 16},
		table.Column{Title: "What goes with it", Weight: 5, Min: 50, Type: page.Tight},
		table.Column{Title: "Done", Align: page.Centre, Whole: true},
	)
	t.Later, t.Pad = name, 0.8
	for _, s := range k.Steps {
		do := s.Title
		for _, x := range [][2]string{{"", s.Place}, {"", s.Size}} {
			if x[1] != "" {
				do += "; " + x[1]
			}
		}
		for _, x := range s.First {
			do += "\nFirst: " + x
		}
		for _, x := range s.After {
			do += "\nThen: " + x
		}
		var loses []string
		for _, l := range s.Losses {
			loses = append(loses, l.Text)
		}
		text := strings.Join(loses, " ")
		if s.Dead {
			text = strings.TrimSpace(text + " All is dead from here on.")
		}
		t.Row(table.T(strconv.Itoa(s.Number)), table.T(do), table.T(ampsText(&s)), table.T(text), table.Tick())
	}
	for _, c := range k.Clips {
		t.Row(table.T(""), table.T(c.Text), table.T(""), table.T(""), table.Tick())
	}
	fl.Add(t)
	for _, x := range k.Ties {
		fl.List(x.Text + " " + x.Mend)
	}
	for _, a := range k.Assumed {
		fl.Say(page.Small, a)
	}
}

func ampsText(s *free.Step) string {
	if s.Pulled <= 0 {
		return "none"
	}
	return s.Pulled.String()
}
