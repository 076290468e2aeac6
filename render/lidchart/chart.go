package lidchart

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/font"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// chart is what the rows are made from.
type chart struct {
	nt    *net.Net
	sizes size.Sizes
	all   []protect.FuseResult
	back  map[int]bool // wires on the return side
}

// rating is the figure that is read under a lid by torchlight.
var rating = page.Big.Sized(16)

// unread marks a colour that was not read in its document.
const unread = " *"

// page is the caution, what the marks mean, and the tables of some places.
func (c *chart) page(fl *page.Flow, places []place) {
	starred := false
	for _, p := range places {
		for _, f := range p.fuses {
			starred = starred || strings.HasSuffix(colour(f).Text, unread)
		}
	}
	text := "Wires: on the feed side, as far as the next fuse. Go by the rating: a colour alone tells none."
	if starred {
		text += " * colour from memory, not verified."
	}
	fl.Caution("Same rating, never a higher one",
		"Find the fault first. Disconnect the battery, minus first, before a bolted fuse is undone.", text)
	for i := range places {
		c.place(fl, &places[i])
	}
}

// place is the table of one device.
func (c *chart) place(fl *page.Flow, p *place) {
	fl.Heading(2, p.device.Name)
	t := table.New(table.Column{Title: "From – to", Type: page.Tight.Faced(font.NarrowBold), Min: 43}, table.Column{Title: "Ampere", Align: page.Right, Type: rating, Whole: true},
		table.Column{Title: "Fuse", Type: page.Tight, Min: 12}, table.Column{Title: "Colour", Type: page.Tight, Min: 21}, table.Column{Title: "Feeds", Type: page.Tight, Weight: 9, Min: 44},
		table.Column{Title: "Wires", Type: page.Tight, Min: 33})
	t.Later, t.RowHeight, t.Pad, t.GroupEvery = p.device.Name, 5, 0.01, 0
	if r := relays(p.device); r != "" {
		fl.Say(page.Tight, r)
	}
	for _, f := range p.fuses {
		amps := "?"
		if f.Rating > 0 {
			amps = unit.Number(float64(f.Rating), 1)
		}
		t.Row(table.T(f.From+" – "+f.To), table.T(amps), table.T(kind(f.Kind)), colour(f), table.T(c.feeds(f)), table.T(c.wires(f)))
	}
	fl.Add(t)
}

// kind is a type of ISO 8820 in plain words.
func kind(k string) string {
	switch k {
	case data.BladeF:
		return "small blade"
	case data.BladeC:
		return "blade"
	case data.BladeE:
		return "large blade"
	case data.BoltIn:
		return "bolted strip"
	case data.Link:
		return "large bolted strip"
	case "":
		return "not stated"
	}
	return k
}

// bodies are how the colours of fuses look on paper; the words rule.
var bodies = map[string][]page.Ink{
	"black": common.Inks("BK"), "grey": common.Inks("GY"), "violet": common.Inks("VT"), "pink": common.Inks("PK"), "tan": {page.RGB(205, 170, 125)}, "brown": common.Inks("BN"),
	"red": common.Inks("RD"), "blue": common.Inks("BU"), "yellow": common.Inks("YE"), "clear": common.Inks("WH"), "clear or white": common.Inks("WH"), "green": common.Inks("GN"),
	"blue-green": common.Inks("TQ"), "orange": common.Inks("OG"),
}

func colour(f *protect.FuseResult) table.Cell {
	word, info, ok := data.FuseColour(f.Kind, f.Rating)
	if !ok {
		return table.T("by figure")
	}
	text := word
	if info.Basis != data.Verified {
		text += unread
	}
	return table.Swatch(text, bodies[word]...)
}

// feeds names the devices that get their current through a fuse and no later one; its own device stands for the coils of its relays. Where later
// fuses lie behind it, it names where its wires lead.
func (c *chart) feeds(f *protect.FuseResult) string {
	behind := map[string]bool{}
	count := 0
	for i := range c.all {
		o := &c.all[i]
		if !slices.Contains(o.Ahead, f.FuseRef) {
			continue
		}
		count++
		for _, l := range o.Loads {
			behind[l] = true
		}
	}
	var own []string
	for _, l := range f.Loads {
		switch {
		case behind[l]:
		case l == f.Device:
			own = append(own, "its own relays")
		default:
			own = append(own, l)
		}
	}
	text := runs(own)
	if count > 0 {
		if text != "" {
			text += "; "
		}
		text += c.leads(f, count)
	}
	if text == "" {
		return "nothing in any case"
	}
	return text
}

// leads names the devices at which the wires behind a fuse end.
func (c *chart) leads(f *protect.FuseResult, count int) string {
	var to []string
	for _, w := range f.Wires {
		if c.nt == nil || w < 0 || w >= len(c.nt.Wires) || c.back[w] {
			continue
		}
		for k := range c.nt.Wires[w].Ends {
			if d := c.nt.Wires[w].Ends[k].Device; d != "" && d != f.Device && !slices.Contains(to, d) {
				to = append(to, d)
			}
		}
	}
	slices.SortFunc(to, design.Natural)
	if len(to) == 0 {
		return common.Count(count, "fuse", "fuses") + " behind it"
	}
	return "leads to " + strings.Join(to, ", ")
}

// runs writes names that differ only in a running number as one: inj1 to inj4.
func runs(names []string) string {
	var out []string
	for i := 0; i < len(names); {
		stem, n, ok := numbered(names[i])
		k := i + 1
		for ok && k < len(names) {
			s, m, numbered := numbered(names[k])
			if !numbered || s != stem || m != n+k-i {
				break
			}
			k++
		}
		if k-i > 2 {
			out = append(out, names[i]+" to "+names[k-1])
		} else {
			out = append(out, names[i:k]...)
		}
		i = k
	}
	return strings.Join(out, ", ")
}

// numbered parts a name from the number at its end.
func numbered(s string) (stem string, n int, ok bool) {
	stem = strings.TrimRight(s, "0123456789")
	n, err := strconv.Atoi(s[len(stem):])
	return stem, n, err == nil && stem != "" && s[len(stem)] != '0'
}

// wires lists the sizes on the feed side for which a fuse is the last protector, the thinnest first. What lies on the return side is shared with
// other fuses and left out.
func (c *chart) wires(f *protect.FuseResult) string {
	var metric, gauge []unit.Size
	for _, w := range f.Wires {
		if w < 0 || w >= len(c.sizes) || c.back[w] || c.sizes[w].Size.IsZero() {
			continue
		}
		list := &metric
		if c.sizes[w].Size.AWG {
			list = &gauge
		}
		if !slices.Contains(*list, c.sizes[w].Size) {
			*list = append(*list, c.sizes[w].Size)
		}
	}
	var out []string
	for _, list := range [][]unit.Size{metric, gauge} {
		slices.SortFunc(list, func(a, b unit.Size) int { return cmp.Compare(a.Area(), b.Area()) })
		var figures []string
		what := ""
		for _, s := range list {
			figure, unit, _ := strings.Cut(common.SizeText(s), " ")
			figures, what = append(figures, figure), unit
		}
		if n := len(figures); n > 3 {
			figures = []string{figures[0] + " to " + figures[n-1]}
		}
		if len(list) > 0 {
			out = append(out, strings.Join(figures, ", ")+" "+what)
		}
	}
	if len(out) == 0 {
		return "none"
	}
	return strings.Join(out, "; ")
}

// relays names the contacts of a device that its coils move, with their ratings.
func relays(d *design.Device) string {
	var out []string
	for i := range d.Coils {
		m := d.Coils[i].Moves
		if m.State == "" {
			continue
		}
		for _, s := range d.States {
			if s.StateRef != m {
				continue
			}
			name := m.Group
			if name == "" {
				name = m.State
			}
			text := name
			if s.Rating.Given {
				text += " " + s.Rating.Nominal.String()
			}
			out = append(out, text)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "Relays in it: " + strings.Join(out, ", ") + "."
}
