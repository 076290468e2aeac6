// Package reviewbook makes the book that the reviewer reads to sign: the findings, the limits in force, the volts of every load
// with the ladders behind them, the heat of every wire, and how to work a line by hand. Every figure comes from the stages; what
// can be worked again from what is printed beside it.
package reviewbook

import (
	"errors"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/export"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// Title is the name of the book.
const Title = "Review book"

// book is a compiled job with what is looked up again and again.
type book struct {
	in       export.Input
	limits   *fit.Judge
	steady   asked // of the limits on loads at rest
	loads    []*loadRow
	starts   []startRow
	ladders  []ladder
	sections []section
	devices  map[string]*design.Device
	fuses    map[protect.FuseRef]*protect.FuseResult
	shorts   map[protect.FuseRef]unit.Current // the least that a fuse has to clear
	widths   struct{ worst, cases, heat, contacts, shorts, wires table.Measures }
}

// Make is the review book of a compiled job. Errors: nothing was compiled, or a text of the job holds a character that cannot be
// printed; the error names the thing it belongs to.
func Make(in export.Input) (*page.Doc, error) { return common.Drawn(Open(in)) }

// Open is the book laid out and not yet drawn.
func Open(in export.Input) (*common.Book, error) {
	if in.Result == nil || in.Job == nil || in.Net == nil {
		return nil, errors.New("there is nothing to review: the job was not compiled")
	}
	b := &book{in: in, limits: fit.NewJudge(in.Job, in.Net)}
	h := common.HeadOf(in)
	if err := b.printable(h); err != nil {
		return nil, err
	}
	b.judge()
	b.choose()
	b.sections = b.bundleSections()
	h.NotForBuild = "" // nothing is built from this book; its verdict says why nothing may be
	return common.Settle(h, Title, func(contents *common.Contents) (*page.Flow, error) {
		fl := page.NewFlow(h.Frame(Title, ""))
		b.cover(fl, h, contents) // chapters that grow with the job are made when their turn comes
		b.verdict(fl)
		fl.Later(b.findings)
		b.tightest(fl)
		b.powerPicture(fl)
		b.settings(fl)
		b.cases(fl)
		b.drops(fl)
		b.ladderPages(fl)
		b.supplies(fl)
		b.charge(fl)
		b.cranking(fl)
		b.reading(fl)
		fl.Later(b.ampacity)
		b.crossSections(fl)
		fl.Later(b.contacts)
		b.protection(fl)
		b.byHand(fl)
		fl.Later(b.appendix)
		b.sources(fl)
		signature(fl)
		return fl, nil
	})
}

// wire of the net, nil for an index that is none.
func (b *book) wire(i int) *net.Wire {
	if i < 0 || i >= len(b.in.Net.Wires) {
		return nil
	}
	return &b.in.Net.Wires[i]
}

// conductor of a wire; the zero conductor for an index that is none.
func (b *book) conductor(i int) size.Conductor {
	if i < 0 || i >= len(b.in.Sizes) {
		return size.Conductor{}
	}
	return b.in.Sizes[i]
}

// temp is the mean temperature of a wire's conductor in a case, at which its resistance was taken.
func (b *book) temp(c string, wire int) (unit.Temperature, bool) {
	if b.in.Heat == nil || wire < 0 || wire >= len(b.in.Heat.Temps[c]) {
		return 0, false
	}
	return b.in.Heat.Temps[c][wire], true
}

// wireLength is the length that the resistance of a wire was taken over.
func wireLength(w *net.Wire) unit.Length { return max(w.Copper, w.Length, w.LooseLength) }

func (b *book) device(name string) *design.Device {
	if b.devices == nil {
		b.devices = map[string]*design.Device{}
		for _, d := range b.in.Job.Devices {
			if b.devices[d.Name] == nil && !d.Pattern {
				b.devices[d.Name] = d
			}
		}
	}
	return b.devices[name]
}

// fuse is what was found of a fuse, nil for one of which nothing was.
func (b *book) fuse(f protect.FuseRef) *protect.FuseResult {
	if b.fuses == nil {
		b.fuses = map[protect.FuseRef]*protect.FuseResult{}
		for i := range b.in.Protect.Fuses {
			if x := &b.in.Protect.Fuses[i]; b.fuses[x.FuseRef] == nil {
				b.fuses[x.FuseRef] = x
			}
		}
	}
	return b.fuses[f]
}

// loadName is the device, with what tells the load from the device's others.
func (b *book) loadName(l *solve.LoadResult) string {
	name, many := l.Device, false
	if d := b.device(l.Device); d != nil {
		many = len(d.Draws) > 1
		if l.Coil {
			many = len(d.Coils) > 1
		}
	}
	if l.Coil {
		name += " coil"
	}
	if many {
		name += " " + l.From + " - " + l.To
	}
	return name
}

// printable holds the texts of the job that this book sets against the faces.
func (b *book) printable(h common.Head) error {
	var g common.Gate
	h.Gate(&g)
	for _, m := range b.in.Messages {
		where := m.Code + " at " + b.at(m.Span)
		g.Text(where, lines(m.Title)...)
		g.Text(where, lines(m.Detail)...)
		for _, r := range m.Related {
			g.Text(where, lines(r.Text)...)
		}
		if m.Accepted != nil {
			g.Text("the acceptance of "+where, m.Accepted.By, m.Accepted.Reason, m.Accepted.Until)
		}
	}
	for i := range b.in.Net.Wires {
		w := &b.in.Net.Wires[i]
		c := b.conductor(i)
		g.Text("wire "+w.Name, w.Name, w.Zone, c.Family, c.Source)
	}
	for _, c := range b.in.Job.Cases {
		g.Text("case "+c.Name, c.Name)
	}
	for _, d := range b.in.Job.Devices {
		g.Text("device "+d.Name, d.Name)
	}
	for i := range b.in.Job.Settings.Lines {
		l := &b.in.Job.Settings.Lines[i]
		g.Text("setting "+l.Name, l.ScopeText(), l.Value.String(), l.Note, l.Source)
	}
	for _, c := range b.in.Cases {
		if c.Net == nil {
			continue
		}
		for i := range c.Net.Elements {
			g.Text("joint "+c.Net.Elements[i].Name, c.Net.Elements[i].Name)
		}
	}
	return g.Err()
}
