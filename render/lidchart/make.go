// Package lidchart makes the chart for the inside of a fuse box's lid: which fuse sits where, of what rating, and what it feeds. It prints
// what the checks found and decides nothing.
package lidchart

import (
	"loomsheet/harness/design"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/render/common"
	"loomsheet/render/export"
	"loomsheet/render/page"
)

// Title is the name of the chart.
const Title = "Fuse chart"

// place is a device in which fuses sit.
type place struct {
	device *design.Device
	fuses  []*protect.FuseResult
}

// Make is the chart of a compiled job: one page for all places where fuses sit, or one for each place where one page does not hold them all. It is nil for a job
// without fuses. Errors: a text of the job holds a character that cannot be printed; the error names the thing it belongs to.
func Make(in export.Input) (*page.Doc, error) {
	if in.Result == nil || in.Protect == nil {
		return nil, nil
	}
	return compose(common.HeadOf(in), in.Job, in.Sizes, in.Protect)
}

func compose(h common.Head, job *design.Job, sizes size.Sizes, found *protect.Result) (*page.Doc, error) {
	fuses := found.Fuses
	var places []place
	for _, d := range job.Devices {
		p := place{device: d}
		for i := range fuses {
			if fuses[i].Device == d.Name {
				p.fuses = append(p.fuses, &fuses[i])
			}
		}
		if len(p.fuses) > 0 && !d.Pattern {
			places = append(places, p)
		}
	}
	if len(places) == 0 {
		return nil, nil
	}
	if err := printable(h, places); err != nil {
		return nil, err
	}
	c := chart{sizes: sizes, all: fuses, back: map[int]bool{}}
	for _, w := range found.Wires {
		c.back[w.Wire] = w.Return
	}
	fl := page.NewFlow(h.Frame(Title, ""))
	c.open(fl)
	for i := range places {
		c.place(fl, &places[i])
	}
	c.close(fl, places)
	doc, err := fl.Doc(Title, h.Day())
	if err != nil || len(doc.Pages) == 1 || len(places) == 1 {
		return doc, err
	}
	fl = page.NewFlow(h.Frame(Title, places[0].device.Name))
	for i := range places {
		if i > 0 {
			fl.SetFrame(h.Frame(Title, places[i].device.Name))
		}
		c.open(fl)
		c.place(fl, &places[i])
		c.close(fl, places[i:i+1])
	}
	return fl.Doc(Title, h.Day())
}

// printable holds each text of the chart against the faces.
func printable(h common.Head, places []place) error {
	var g common.Gate
	h.Gate(&g)
	for _, p := range places {
		g.Text("device "+p.device.Name, p.device.Name)
		for _, f := range p.fuses {
			g.Text("fuse "+f.Part+" of "+f.Device, append([]string{f.Part, f.Kind, f.From, f.To}, f.Loads...)...)
			for _, a := range f.Ahead {
				g.Text("device "+a.Device, a.Device)
			}
		}
		for _, s := range p.device.States {
			g.Text("state "+s.String()+" of "+p.device.Name, s.Group, s.State)
		}
	}
	return g.Err()
}
