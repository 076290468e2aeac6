// Package lidchart makes the chart for the inside of a fuse box's lid: which fuse sits where, of what rating, and what it feeds. It prints
// what the checks found and decides nothing.
package lidchart

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
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
	return compose(common.HeadOf(in), in.Job, in.Net, in.Sizes, in.Protect)
}

func compose(h common.Head, job *design.Job, nt *net.Net, sizes size.Sizes, found *protect.Result) (*page.Doc, error) {
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
	c := chart{nt: nt, sizes: sizes, all: fuses, back: map[int]bool{}}
	for _, w := range found.Wires {
		c.back[w.Wire] = w.Return
	}
	fl := page.NewFlow(h.Frame(Title, ""))
	c.page(fl, places)
	doc, err := fl.Doc(Title, h.Day())
	if err != nil || len(doc.Pages) == 1 || len(places) == 1 {
		return doc, err
	}
	var sheets [][]place // a page for each box, one for all single holders
	var holders []place
	for _, p := range places {
		if len(p.fuses) >= lidFrom {
			sheets = append(sheets, []place{p})
		} else {
			holders = append(holders, p)
		}
	}
	if len(holders) > 0 {
		sheets = append(sheets, holders)
	}
	fl = page.NewFlow(h.Frame(Title, name(sheets[0])))
	for i, s := range sheets {
		if i > 0 {
			fl.SetFrame(h.Frame(Title, name(s)))
		}
		c.page(fl, s)
	}
	return fl.Doc(Title, h.Day())
}

// lidFrom is from how many fuses on a place has a lid of its own.
const lidFrom = 4

func name(ps []place) string {
	if len(ps) == 1 {
		return ps[0].device.Name
	}
	return "single holders"
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
