package bench

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// NotStated stands for what only the own sheet of a contact, lug or barrel tells.
const NotStated = "not stated: by the part's sheet"

// noContact stands where no contact is known for a cavity.
const noContact = "contact not chosen"

// Crimp is one set-up of the tool with every end that is crimped with it: one contact, lug or barrel on one wire, or on the same wires together.
type Crimp struct {
	Kind    string // contact, lug or barrel
	Contact string // as it is picked: "size-20 socket", "M8 lug", "barrel for 2.5 mm2"
	Part    string // of the library; empty: none
	Wires   []CrimpWire
	Wire    string // the wires in words: "thin-wall 0.5 mm2", "thin-wall 1.5 mm2 with 2 x 0.5 mm2"
	Ends    []CrimpEnd
	Count   int    // crimps that stay on the wires: len(Ends), of barrels one for all its wires
	Samples int    // crimps that are pulled off first; they use up as many contacts
	SameAs  string // contact of an earlier set-up of the same part, tool, setting and wire, whose samples hold for this one too; empty: none
	Scrap   int    // contacts more, for crimps that are spoiled
	// What the tool must make of it, in words; NotStated where the part says nothing.
	Strip, Height, Tool, Setting string
	Gap                          string // bare conductor to be seen between insulation and barrel, with its source
	Pull                         []Pull // least force of a sample, the figure that rules first; empty: none is published
	PullText                     string // the same in words
	Source                       string // of what the part says of this crimp, or of the part
}

// CrimpWire is how often one wire lies in a crimp.
type CrimpWire struct {
	Family string
	Size   unit.Size
	Count  int
}

// CrimpEnd is one crimp to make.
type CrimpEnd struct {
	Wires  []int  // of the net
	Label  string // of the wires
	Where  string // "A, cavity 4", "splice s-inj"
	Splice string // of a barrel
}

// Pull is a published force at which a crimp may part.
type Pull struct {
	Column data.PullColumn
	Force  unit.Force
	Size   unit.Size // the wire it holds for: of several in one barrel the smallest
	Info   data.Info
}

// crimps groups the ends of a section by set-up, in the order of its cut list within each: contacts, lugs, barrels, by name, tool and setting,
// thickest wire first.
func (m *maker) crimps(s *SectionPlan) []Crimp {
	var out []Crimp
	at := map[string]int{}
	seen := map[string]bool{}
	for _, i := range inOrder(s) {
		w := &m.net.Wires[i]
		for e := range w.Ends {
			t := &w.Ends[e]
			if m.fitted(t) {
				continue
			}
			var c Crimp
			group := m.alone(i)
			end := CrimpEnd{Where: m.endText(t)}
			switch t.Kind {
			case net.InCavity, net.InHalf:
				if t.Cavity != "" { // several wires in one contact are one crimp
					group = m.together(t, s.Name)
				}
				c.Kind, c.Contact, c.Part = "contact", or(m.contactText(i, e), noContact), m.contactPart(i, e)
			case net.OnStud, net.OnPost:
				c.Kind, c.Contact, c.Part = "lug", m.contactText(i, e), m.contactPart(i, e)
			case net.InSplice:
				group = m.jointOf(t.Splice, s.Name, i)
				c.Kind, end.Splice = "barrel", t.Splice
			default:
				continue
			}
			if len(group) > 1 || t.Kind == net.InSplice {
				k := end.Where + "\x00" + t.Splice
				if seen[k] {
					continue
				}
				seen[k] = true
			}
			end.Wires, end.Label = group, m.labels(group)
			c.Wires, c.Wire = m.crimpWires(group)
			if c.Kind == "barrel" {
				c.Contact, c.Part = m.barrel(t.Splice, s.Name)
			}
			m.tooling(&c, design.Scope{Section: s.Name})
			key := strings.Join([]string{c.Kind, c.Contact, c.Part, c.Tool, c.Setting, c.Wire}, "\x00")
			n, ok := at[key]
			if !ok {
				n = len(out)
				at[key], out = n, append(out, c)
			}
			out[n].Ends = append(out[n].Ends, end)
			out[n].Count++
		}
	}
	kinds := []string{"contact", "lug", "barrel"}
	slices.SortStableFunc(out, func(a, b Crimp) int {
		return cmp.Or(cmp.Compare(slices.Index(kinds, a.Kind), slices.Index(kinds, b.Kind)), design.Natural(a.Contact, b.Contact), design.Natural(a.Tool, b.Tool),
			design.Natural(a.Setting, b.Setting), bySize(largest(b.Wires), largest(a.Wires)), design.Natural(a.Wire, b.Wire))
	})
	// Pins and sockets of one part are crimped with one set-up: its samples are pulled off once.
	sampled := map[[4]string]string{}
	out = slices.Clone(out) // without the room it grew into
	for i := range out {
		c := &out[i]
		c.Ends = slices.Clone(c.Ends)
		m.texts.Texts(&c.PullText, &c.Gap, &c.Strip, &c.Height, &c.Tool, &c.Setting)
		m.samples(c, s.Name)
		k := [4]string{c.Part, c.Tool, c.Setting, c.Wire}
		switch first, ok := sampled[k]; {
		case c.Part == "" || c.Samples == 0:
		case ok:
			c.Samples, c.SameAs = 0, first
		default:
			sampled[k] = c.Contact
		}
	}
	return out
}

// fitted tells whether an end comes with its plug, crimped by its maker: nothing is crimped, sealed or taken from the shelf for it.
func (m *maker) fitted(t *net.Termination) bool {
	switch t.Kind {
	case net.InCavity:
		d := m.device[t.Device]
		return d != nil && d.Fitted
	case net.InHalf:
		b := m.brk[t.Break]
		return b != nil && t.Half >= 0 && t.Half < len(b.Halves) && b.Halves[t.Half].Fitted
	}
	return false
}

// inOrder is the wires of a section in the order in which they are cut; cores with their cable.
func inOrder(s *SectionPlan) []int {
	var out []int
	for i := range s.Cuts {
		c := &s.Cuts[i]
		if len(c.Cores) == 0 {
			out = append(out, c.Wire)
		}
		for _, k := range c.Cores {
			out = append(out, k.Wire)
		}
	}
	return out
}

// together is the wires of a section that share the cavity of an end.
func (m *maker) together(t *net.Termination, section string) []int {
	list := m.onPin[[2]string{t.Device, t.Pin}]
	if t.Kind == net.InHalf {
		list = m.onHalf[halfCavity{t.Break, t.Half, t.Cavity}]
	}
	if len(list) == 1 && m.net.Wires[list[0].wire].Section == section {
		return m.alone(list[0].wire)
	}
	var out []int
	for _, a := range list {
		if m.net.Wires[a.wire].Section == section && !slices.Contains(out, a.wire) {
			out = append(out, a.wire)
		}
	}
	return out
}

// jointOf is the wires that meet in a splice; at least the wire itself.
func (m *maker) jointOf(splice, section string, wire int) []int {
	if j := m.joint[[2]string{splice, section}]; j != nil && slices.Contains(j.Wires, wire) {
		return slices.Clone(j.Wires)
	}
	return m.alone(wire)
}

func (m *maker) labels(wires []int) string {
	var out []string
	for _, i := range wires {
		out = append(out, or(m.net.Wires[i].Label, m.net.Wires[i].Name))
	}
	return strings.Join(out, ", ")
}

// crimpWires sums up the wires of one crimp, thickest first, and words them.
func (m *maker) crimpWires(wires []int) ([]CrimpWire, string) {
	var out []CrimpWire
	for _, i := range wires {
		w := &m.net.Wires[i]
		k := CrimpWire{or(m.conductor(i).Family, w.Family), m.conductor(i).Size, 1}
		if m.isBought(w) {
			k.Family = m.cable[w.Cable].Wire
		}
		if w.Kind == net.Screen {
			k = CrimpWire{Family: screenFamily, Count: 1}
		}
		if n := slices.IndexFunc(out, func(o CrimpWire) bool { return o.Family == k.Family && o.Size == k.Size }); n >= 0 {
			out[n].Count++
		} else {
			out = append(out, k)
		}
	}
	slices.SortStableFunc(out, func(a, b CrimpWire) int { return cmp.Or(bySize(b.Size, a.Size), design.Natural(a.Family, b.Family)) })
	var words []string
	for i, k := range out {
		s := k.Family
		if !k.Size.IsZero() {
			s += " " + k.Size.String()
		}
		if i > 0 && k.Family == out[0].Family && !k.Size.IsZero() {
			s = k.Size.String()
		}
		if k.Count > 1 {
			s = unit.Number(float64(k.Count), 0) + " x " + s
		}
		words = append(words, s)
	}
	if len(words) > 1 {
		return out, words[0] + " with " + strings.Join(words[1:], " and ")
	}
	return out, strings.Join(words, "")
}

func largest(ws []CrimpWire) unit.Size {
	if len(ws) == 0 {
		return unit.Size{}
	}
	return ws[0].Size
}

// barrel is what joins the wires of a splice, and its part.
func (m *maker) barrel(splice, section string) (text, part string) {
	if b := m.barrels[m.made[splice].Barrel]; b != nil {
		return b.Name, b.Name
	}
	var area unit.Area
	if j := m.joint[[2]string{splice, section}]; j != nil {
		for _, i := range j.Wires {
			area += m.conductor(i).Size.Area()
		}
	}
	return "barrel for " + area.String() + " in all", ""
}

// tooling fills in what the part and the tables say of a crimp.
func (m *maker) tooling(c *Crimp, at design.Scope) {
	c.Strip, c.Height, c.Tool, c.Setting = NotStated, NotStated, NotStated, NotStated
	part := m.contact[c.Part]
	if part != nil {
		c.Source = part.Source
		if part.Strip > 0 {
			c.Strip = part.Strip.String()
		}
		c.Tool = or(part.Tool, NotStated)
	}
	if b := m.barrels[c.Part]; c.Kind == "barrel" && b != nil {
		c.Source, c.Tool = b.Source, or(b.Tool, NotStated)
		if b.Strip > 0 {
			c.Strip = b.Strip.String()
		}
	}
	alone := len(c.Wires) == 1 && c.Wires[0].Count == 1
	if k := part.Crimp(largest(c.Wires)); k != nil && alone {
		least, most := k.Height[0], k.Height[1]
		switch {
		case least > 0 && most > least:
			c.Height = unit.Number(float64(least), 2) + " to " + unit.Number(float64(most), 2) + " mm"
		case most > 0:
			c.Height = "at most " + unit.Number(float64(most), 2) + " mm"
		}
		c.Setting = or(k.Setting, NotStated)
		c.Source = or(k.Source, c.Source)
	}
	smallest := unit.Size{}
	for _, w := range c.Wires {
		if !w.Size.IsZero() && (smallest.IsZero() || w.Size.Less(smallest)) {
			smallest = w.Size
		}
	}
	if smallest.IsZero() {
		c.PullText = "no figure is published for a screen"
		return
	}
	if alone {
		least, most, info := data.CrimpGap(smallest)
		c.Gap = unit.Number(float64(least), 2) + " to " + unit.Number(float64(most), 2) + " mm (" + info.String() + ")"
	}
	c.Pull = m.pulls(smallest, at)
	if len(c.Pull) == 0 {
		c.PullText = "no figure is published for " + smallest.String() + ": ask the maker of the contact"
		return
	}
	p := c.Pull[0]
	c.PullText = "at least " + p.Force.String() + " (" + p.Info.String() + ")"
	if !alone {
		c.PullText += ", on the smallest wire, " + smallest.String()
	}
	if want := data.PullColumn(m.get("pull-column", at).Name); p.Column != want {
		c.PullText += "; the column " + string(want) + " has none"
	}
}

// pulls is every published figure for a wire: that of the setting pull-column first, then the strictest.
func (m *maker) pulls(size unit.Size, at design.Scope) []Pull {
	want := data.PullColumn(m.get("pull-column", at).Name)
	var out []Pull
	for _, col := range data.PullColumns {
		if f, info, ok := data.CrimpPull(size, col); ok {
			out = append(out, Pull{col, f, size, info})
		}
	}
	slices.SortStableFunc(out, func(a, b Pull) int {
		if a.Column == want || b.Column == want {
			return map[bool]int{true: -1, false: 1}[a.Column == want]
		}
		return cmp.Compare(b.Force, a.Force)
	})
	return out
}

// samples counts what a set-up uses up beyond what stays. A screen has no figure to hold a sample against, and no samples.
func (m *maker) samples(c *Crimp, section string) {
	at := design.Scope{Section: section}
	if !largest(c.Wires).IsZero() && c.Contact != noContact {
		c.Samples = int(min(1000, math.Ceil(positive(m.get("pull-samples", at).Quantity.Value)-1e-9)))
	}
	if share := positive(m.get("crimp-scrap", at).Quantity.Value); share > 0 {
		c.Scrap = int(min(1e6, math.Ceil(share*float64(c.Count)-1e-9)))
	}
}

// Sample is wire that is cut for crimps to be pulled off.
type Sample struct {
	Family string
	Size   unit.Size   // zero for a bought cable
	Colour string      // the one of which most is cut; empty for a bought cable
	Count  int         // pieces
	Length unit.Length // of each
	For    string      // "size-20 pin on thin-wall 0.5 mm2"
}

// sampleCuts is the wire for the samples of a section, in the order of its crimps. A bought cable gives as many samples of a piece as it has cores of the
// size.
func (m *maker) sampleCuts(s *SectionPlan) []Sample {
	long := m.length("pull-sample", design.Scope{Section: s.Name})
	if long <= 0 {
		return nil
	}
	most := map[CrimpWire]map[string]unit.Length{}
	for i := range s.Cuts {
		c := &s.Cuts[i]
		k := CrimpWire{Family: c.Family, Size: c.Size}
		if most[k] == nil {
			most[k] = map[string]unit.Length{}
		}
		most[k][c.Colour] += c.Length
	}
	var out []Sample
	for _, c := range s.Crimps {
		for _, w := range c.Wires {
			n := c.Samples * w.Count
			if n == 0 || w.Size.IsZero() {
				continue
			}
			k := Sample{Family: w.Family, Size: w.Size, Count: n, Length: unit.Length(math.Ceil(float64(long))), For: c.Contact + " on " + c.Wire}
			if part := m.wire[w.Family]; part != nil && len(part.Cores) > 0 {
				cores := 0
				for _, x := range part.Cores {
					if x.Size == w.Size {
						cores++
					}
				}
				k.Size, k.Count = unit.Size{}, (n+max(cores, 1)-1)/max(cores, 1)
			} else {
				k.Colour = mostOf(most[CrimpWire{Family: w.Family, Size: w.Size}])
			}
			out = append(out, k)
		}
	}
	return out
}

// mostOf is the colour of which most is used; of equals the first by name.
func mostOf(by map[string]unit.Length) string {
	var names []string
	for n := range by {
		names = append(names, n)
	}
	slices.SortFunc(names, design.Natural)
	best := ""
	for i, n := range names {
		if i == 0 || unit.Worse(by[n], by[best]) {
			best = n
		}
	}
	return or(best, DefaultColour)
}
