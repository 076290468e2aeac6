package benchbook

import (
	"fmt"
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
	if k.Free {
		common.Intro(fl, k.Verdict)
	} else {
		fl.Say(page.Strong, k.Verdict)
	}
	t := table.New(
		table.Column{Title: "Step", Align: page.Right, Whole: true, Type: page.Strong},
		table.Column{Title: "Do; what is lost with it", Weight: 6, Min: 56, Type: page.Tight},
		table.Column{Title: "Most through it", Align: page.Right, Width: 20, Type: page.Tight},
		table.Column{Title: "Done", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad, t.GroupEvery = name, 5, 0.5, 0
	for i := range k.Steps {
		s := &k.Steps[i]
		t.Row(table.T(strconv.Itoa(s.Number)), table.T(strings.Join(orders(s), "\n")), table.T(ampsText(s)), table.Tick())
	}
	for _, c := range k.Clips {
		t.Row(table.T(""), table.T(c.Text), table.T(""), table.Tick())
	}
	if t.Len() > 0 {
		fl.Add(t)
	}
	for _, x := range k.Ties {
		fl.List(strings.TrimSpace(x.Text + " " + x.Mend))
	}
	for _, a := range k.Assumed {
		fl.Say(page.Small, a)
	}
}

// orders is what is done in a step, a line each: what to heed, what comes before, the act, what comes after, what is lost with it.
func orders(s *free.Step) []string {
	var out []string
	for _, x := range s.Cautions {
		out = append(out, "CAUTION: "+x)
	}
	for _, x := range s.First {
		out = append(out, "First: "+x)
	}
	act := s.Title
	for _, x := range []string{s.Place, s.Size} {
		if x != "" {
			act += "; " + x
		}
	}
	out = append(out, act)
	for _, x := range s.After {
		out = append(out, "Then: "+x)
	}
	for _, l := range lost(s.Losses) {
		out = append(out, "Lost: "+l)
	}
	if s.Why != "" {
		out = append(out, "Not needed: "+s.Why)
	}
	return out
}

// mostLost is how many loads of a step are named that are off, or relays that let go; of more, as a battery takes with it, someLost are.
const (
	mostLost = 30
	someLost = 20
)

// lost is what is lost with a step, a sentence each, but relays that let go, and loads that are simply off, together.
func lost(all []free.Loss) (out []string) {
	together := func(what string, of func(l *free.Loss) bool) {
		var names []string
		last := ""
		for i := range all {
			if of(&all[i]) {
				names, last = append(names, strings.TrimSuffix(all[i].Load, ",")), all[i].Text
			}
		}
		n := len(names)
		switch {
		case n == 1:
			out = append(out, last)
		case n > mostLost:
			out = append(out, fmt.Sprintf("%d %s: %s; and %d more, all named in harness.json, bench, removals.", n, what, strings.Join(names[:someLost], "; "), n-someLost))
		case n > 1:
			out = append(out, fmt.Sprintf("%d %s: %s.", n, what, strings.Join(names, "; ")))
		}
	}
	relay := func(l *free.Loss) bool { return l.Kind == free.Relay }
	off := func(l *free.Loss) bool { return l.Kind == free.Off && !l.Switched }
	for i := range all {
		if !relay(&all[i]) && !off(&all[i]) {
			out = append(out, all[i].Text)
		}
	}
	together("relays let go", relay)
	together("loads are off", off)
	return out
}

func ampsText(s *free.Step) string {
	if s.Pulled <= 0 {
		return "none"
	}
	return s.Pulled.String()
}
