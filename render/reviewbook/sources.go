package reviewbook

import (
	"slices"
	"strings"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// sources lists the documents behind the figures that were used.
func (b *book) sources(fl *page.Flow) {
	fl.Heading(1, "Sources")
	fl.Say(prose, "The documents behind the figures in this book. “Verified” figures were read in a copy of the document or an exact transcription; the others are typical values or from memory, and a verdict that rests on one carries a *.")
	t := table.New(typed([]table.Column{{Title: "Source", Weight: 3, Type: bold}, {Title: "Used for", Weight: 3}, {Title: "How sure", Min: 30}}, plain)...)
	t.RowHeight, t.Close = 5, true
	for _, s := range b.gather() {
		t.Row(table.T(common.Squared(s.text)), table.T(s.uses()), table.T(s.basis))
	}
	fl.Add(t)
}

// origin is one source with what it was used for.
type origin struct {
	text, basis string
	used        []use
}

// use is one kind of figure with the things it belongs to.
type use struct {
	kind  string
	items []string
	has   map[string]bool
}

func (o *origin) uses() string {
	var out []string
	for _, u := range o.used {
		out = append(out, strings.TrimSpace(u.kind+" "+list(u.items)))
	}
	return strings.Join(out, "; ")
}

func (o *origin) add(kind, item string) {
	i := slices.IndexFunc(o.used, func(u use) bool { return u.kind == kind })
	if i < 0 {
		i, o.used = len(o.used), append(o.used, use{kind: kind})
	}
	u := &o.used[i]
	if u.has == nil {
		u.has = map[string]bool{}
	}
	if item != "" && !u.has[item] {
		u.has[item] = true
		u.items = append(u.items, item)
	}
}

// gather collects the sources of conductors, joints, tables and defaults, in the order of the book.
func (b *book) gather() []*origin {
	var out []*origin
	put := func(text, kind, item, basis string) {
		if text == "" {
			text = "no source given"
		}
		i := slices.IndexFunc(out, func(o *origin) bool { return o.text == text && o.basis == basis })
		if i < 0 {
			i, out = len(out), append(out, &origin{text: text, basis: basis})
		}
		out[i].add(kind, item)
	}
	add := func(text, kind, item string, verified bool) {
		basis := "from memory or typical"
		if verified {
			basis = "verified"
		}
		put(text, kind, item, basis)
	}
	for i := range b.in.Sizes {
		if c := &b.in.Sizes[i]; c.Resistance > 0 {
			add(c.Source, "resistance of wire", c.Family+" "+common.SizeText(c.Size), c.Verified)
		}
	}
	used := map[string]bool{}
	for i := range b.in.Sizes {
		for _, p := range b.in.Sizes[i].Contacts {
			used[p] = true
		}
	}
	for _, p := range b.in.Job.Parts.Contacts {
		if used[p.Name] && p.Resistance.Given {
			s := first(p.Resistance.Source, p.Source)
			add(s, "resistance of contact", p.Name, data.BasisOf(s) == data.Verified)
		}
	}
	fuses := map[string]bool{}
	for _, d := range b.in.Job.Devices {
		for i := range d.Fuses {
			fuses[d.Fuses[i].Part] = fuses[d.Fuses[i].Part] || !d.Pattern
		}
	}
	for _, p := range b.in.Job.Parts.Fuses {
		if fuses[p.Name] && p.Resistance.Given {
			s := first(p.Resistance.Source, p.Source)
			add(s, "resistance of fuse", p.Name, data.BasisOf(s) == data.Verified)
		}
	}
	add(data.Copper.Document, "resistance of copper over temperature", "", data.Copper.Basis == data.Verified)
	if b.in.Heat != nil {
		for i := range b.in.Heat.Wires {
			if t := b.in.Heat.Wires[i].Table; t != nil {
				add(string(t.Method), "ampacity by table", "", t.Verified)
			}
		}
	}
	for i := range design.SettingDefs {
		d := &design.SettingDefs[i]
		if r := b.in.Job.Settings.Get(d.Name, design.Scope{}); !r.Set && r.Known {
			put(d.Source, "default of", d.Name, practice(d.Source))
		}
	}
	return out
}

// practice tells how sure the source of a default is.
func practice(source string) string {
	switch {
	case strings.Contains(source, "memory"):
		return "from memory or typical"
	case strings.Contains(source, "common practice"):
		return "common practice, no document"
	}
	return "as the source says"
}

func first(words ...string) string {
	for _, w := range words {
		if w != "" {
			return w
		}
	}
	return ""
}
