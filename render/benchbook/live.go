package benchbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/live"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// stillLive is what of each connector of the section stays live once it is pulled, for whoever takes the section out: a list of one page at most for each.
func stillLive(fl *page.Flow, r *live.Result, section string, body page.Box) {
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
				"Short is what a dead short from there to minus draws. Of several states that prove a place live the one with the fewest things switched stands here.")
			first = false
		}
		if !u.Anything() {
			quiet = append(quiet, u.Title)
			continue
		}
		unplugged(fl, u, body)
	}
	if len(quiet) > 0 {
		fl.Para("Nothing live on either half, whatever is switched on: " + strings.Join(quiet, ", ") + ".")
	}
}

// unplugged is the list of one connector: a row for each place, or, where they would take more than a page, one for all that are live by the same state.
func unplugged(fl *page.Flow, u *live.Unplugged, body page.Box) {
	above := page.Heading2.Leading() + 8
	for _, c := range u.Cautions {
		above += page.Strong.Height(len(page.Strong.Wrap(c, body.W))) + 2
	}
	t := liveTable(u, false, 1)
	settle(t, body.W, 0, 4, 5)
	for _, size := range []page.Pt{1, 0.85, 0.75} {
		if h, err := page.Height(t, body.W); err == nil && h+above <= body.H {
			break
		}
		t = liveTable(u, true, size)
		settle(t, body.W, 0, 4, 5)
	}
	fl.Together(func() {
		fl.Heading(2, common.Sentence(u.Title))
		for _, c := range u.Cautions {
			fl.Say(page.Strong, c)
		}
		fl.Add(t)
	})
}

func liveTable(u *live.Unplugged, joined bool, scale page.Pt) *table.Table {
	tight, strong := page.Tight.Sized(page.Tight.Size*scale), page.Strong.Sized(page.Strong.Size*scale)
	t := table.New(
		table.Column{Title: "Place", Type: strong, Min: 18, Weight: 3},
		table.Column{Title: "Wire", Weight: 3, Min: 22, Type: tight},
		table.Column{Title: "Volts", Align: page.Right, Whole: true, Type: strong},
		table.Column{Title: "Short", Align: page.Right, Whole: true, Type: tight},
		table.Column{Title: "Behind", Weight: 4, Min: 30, Type: tight},
		table.Column{Title: "In which state", Weight: 5, Min: 34, Type: tight},
		table.Column{Title: "Off", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad, t.GroupEvery, t.Notes = common.Sentence(u.Title), 5, 0.3, 0, tight
	for k := range u.Halves {
		h := &u.Halves[k]
		t.Sub(summary(h))
		rows := h.Rows()
		for i := 0; i < len(rows); i++ {
			r := rows[i]
			place, wire, all := r.Cavity+" "+r.Contact, or(r.Label, r.Wire), ""
			if same := alikes(rows[i:], joined); len(same) > 1 {
				i += len(same) - 1
				place, wire, all = strconv.Itoa(len(same))+" places: "+r.Contact, "named below", strings.Join(same, ", ")
			}
			state := r.State
			if !r.Counts {
				state += " (not counted)"
			}
			t.Row(table.T(place), table.T(wire), table.T(r.Volts), table.T(r.Short), table.T(r.Behind), table.T(state), table.Tick())
			t.Note(all)
		}
	}
	return t
}

// alikes is the places from the first on that are live alike, each with its wire.
func alikes(rows []live.Row, joined bool) []string {
	var out []string
	for _, r := range rows {
		if len(out) > 0 && (!joined || !alike(r, rows[0])) {
			break
		}
		out = append(out, r.Cavity+" "+or(r.Label, r.Wire))
	}
	return out
}

// alike tells whether two places are live by the same state from the same fuse.
func alike(a, b live.Row) bool {
	return a.Volts == b.Volts && a.Short == b.Short && a.Behind == b.Behind && a.State == b.State && a.Contact == b.Contact && a.Counts == b.Counts
}

// summary is a half with what is on it.
func summary(h *live.Half) string {
	s := h.Title + ": " + common.Count(len(h.Live), "live place", "live places")
	if len(h.Live) > 0 && h.Exposed {
		s += ", lying OPEN"
	}
	if rest := h.Rest(); rest != "" {
		s += "; " + rest
	}
	return s
}
