package benchbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/live"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// stillLive is what of each connector of the section stays live once it is pulled, for whoever takes the section out: one block that is never broken for each.
func stillLive(fl *page.Flow, r *live.Result, section string) {
	if r == nil {
		return
	}
	first := true
	var quiet []string
	for i := range r.Breaks {
		u := &r.Breaks[i]
		if u.Halves[0].Section != section && u.Halves[1].Section != section {
			continue
		}
		if first {
			fl.Heading(1, "Pulled: what is still live")
			common.Intro(fl, "Over every state of every switch and relay, with every supply attached ("+r.Sources+"). Measure before touching all the same. "+
				"Amps are those of a dead short from there to minus.")
			first = false
		}
		if !u.Anything() {
			quiet = append(quiet, u.Title)
			continue
		}
		unplugged(fl, u)
	}
	if len(quiet) > 0 {
		fl.Para("Nothing live on either half, whatever is switched on: " + strings.Join(quiet, ", ") + ".")
	}
}

func unplugged(fl *page.Flow, u *live.Unplugged) {
	fl.Together(func() {
		fl.Heading(2, common.Sentence(u.Title))
		for _, c := range u.Cautions {
			fl.Say(page.Strong, c)
		}
		t := table.New(
			table.Column{Title: "Place", Type: page.Strong, Whole: true},
			table.Column{Title: "Wire", Weight: 4, Min: 30, Type: page.Tight},
			table.Column{Title: "V", Align: page.Right, Whole: true, Type: page.Strong},
			table.Column{Title: "A", Align: page.Right, Whole: true},
			table.Column{Title: "Behind", Weight: 4, Min: 30, Type: page.Tight},
			table.Column{Title: "In which state", Weight: 5, Min: 36, Type: page.Tight},
			table.Column{Title: "Off", Align: page.Centre, Whole: true},
		)
		t.Later, t.RowHeight, t.Pad, t.GroupEvery = common.Sentence(u.Title), 5.5, 0.5, 0
		for k := range u.Halves {
			h := &u.Halves[k]
			t.Sub(h.Title + ": " + summary(h))
			for _, c := range h.Live {
				liveRow(t, &c)
			}
		}
		fl.Add(t)
	})
}

func summary(h *live.Half) string {
	s := common.Count(len(h.Live), "live place", "live places")
	if len(h.Live) > 0 && h.Exposed {
		s += ", lying OPEN"
	}
	if n := len(h.Earths); n > 0 {
		var names []string
		for _, e := range h.Earths {
			names = append(names, e.Name)
		}
		s += "; earth " + strings.Join(names, ", ")
	}
	if n := len(h.Dead); n > 0 {
		s += "; " + strconv.Itoa(n) + " dead"
	}
	return s
}

func liveRow(t *table.Table, c *live.Cavity) {
	place := c.Name + " " + c.Contact
	for k, f := range c.Feeds {
		cells := []table.Cell{table.T(""), table.T(""), table.T(unit.Number(float64(f.Volts), 1)), table.T(unit.Number(float64(f.Amps), 0)), table.T(f.Behind), table.T(f.State.Words), {}}
		if len(f.Loads) > 0 {
			cells[4].Text += ", through " + strings.Join(f.Loads, ", ")
		}
		if k == 0 {
			cells[0], cells[1], cells[6] = table.T(place), table.T(or(c.Label, c.Wire)), table.Tick()
			t.Row(cells...)
			continue
		}
		t.Tied(cells...)
	}
	if len(c.Feeds) == 0 {
		t.Row(table.T(place), table.T(or(c.Label, c.Wire)), table.T("?"), table.T("?"), table.T("not all states could be tried: take it as live"), table.T(""), table.Tick())
	}
}
