package live

import (
	"fmt"
	"strings"

	"loomsheet/harness/unit"
)

// CalledOut is a cavity as it is called out: a wire for which none was left has none.
func (c *Cavity) CalledOut() string {
	if c.Name == "" {
		return "no cavity"
	}
	return c.Name
}

// Is is how live a cavity is, in a few words: "14.2 V, a short draws 456 A; pin, lies open".
func (c *Cavity) Is() string {
	if c.Bounded && len(c.Feeds) == 0 {
		return "not decided, take it as live: too many states to try all; " + c.lies()
	}
	upTo := ""
	if len(c.Feeds) > 1 { // each says its own with the state that proves it
		upTo = "up to "
	}
	out := upTo + volts(c.Volts) + ", a short draws " + upTo + amps(c.Amps)
	if c.Kind == Through {
		out = upTo + volts(c.Volts) + " through a load, a short draws " + upTo + amps(c.Amps)
	}
	if c.Bounded {
		out += ", perhaps more: too many states to try all"
	}
	if !c.Counts {
		out += ", not counted"
	}
	return out + "; " + c.lies()
}

func (c *Cavity) lies() string {
	if c.Exposed {
		return c.Contact + ", lies open"
	}
	return c.Contact
}

// From is where a feed comes from: "fuse box live - inj, 7.5 A", of what is live through loads these as well.
func (x *Feed) From() string {
	if len(x.Loads) == 0 {
		return x.Behind
	}
	return x.Behind + "; through " + strings.Join(x.Loads, ", ")
}

// Proof is the state that proves a feed, in one or two lines: the one with the fewest things switched, and where that one asks for relays the
// switches that make them pull in.
func (x *Feed) Proof() []string {
	if x.Attained != nil {
		return []string{x.State.Words, "by switches alone: " + x.Attained.Words}
	}
	return []string{x.proved()}
}

// proved is one state that proves a feed: by switches alone where one was found.
func (x *Feed) proved() string {
	switch {
	case x.Attained != nil:
		return x.Attained.Words
	case len(x.State.Against) > 0:
		return x.State.Words + " (the coil of " + strings.Join(x.State.Against, ", ") + " would not have it so in this state)"
	}
	return x.State.Words
}

// Row is one live place in one line, for the list of all breaks.
type Row struct {
	Cavity, Label, Wire string
	Volts, Short        string // "14.2 V", "456 A"; Short is of a dead short to the minus
	Behind              string // fuse and rating, or the source that none protects; loads on the way
	State               string // that proves it, by switches alone where one was found
	Contact             string // "pin, lies open"
	Counts              bool   // it must not lie open
}

// Figures are the volts and the amps of a short of one feed, in the state that proves it.
func (x *Feed) Figures() string { return volts(x.Volts) + ", a short draws " + amps(x.Amps) }

// Worst is the feed that gives most into a short, of equals the one with the fewest things switched; nil if there is none.
func (c *Cavity) Worst() *Feed {
	var worst *Feed
	for i := range c.Feeds {
		if x := &c.Feeds[i]; worst == nil || unit.Worse(x.Amps, worst.Amps) || !unit.Worse(worst.Amps, x.Amps) && unit.Worse(x.Volts, worst.Volts) {
			worst = x
		}
	}
	return worst
}

// Rows is what is live on a half, in the order of its cavities, a row each: of several feeds the worst, with its own figures and the number of the others.
func (h *Half) Rows() []Row {
	var out []Row
	for i := range h.Live {
		c := &h.Live[i]
		r := Row{Cavity: c.CalledOut(), Label: c.Label, Wire: c.Wire, Volts: volts(c.Volts), Short: amps(c.Amps), Contact: c.lies(), Counts: c.Counts}
		if len(c.Feeds) == 0 {
			r.Volts, r.Short, r.State = "?", "?", "not decided: take it as live"
		} else {
			x := c.Worst()
			r.Volts, r.Short, r.Behind, r.State = volts(x.Volts), amps(x.Amps), x.From(), x.proved()
			if n := len(c.Feeds) - 1; n > 0 {
				r.Behind += "; and " + unit.Number(float64(n), 0) + " more"
			}
		}
		out = append(out, r)
	}
	return out
}

// Rest is what else is on a half: its earths, and how many places are dead; empty if there is nothing.
func (h *Half) Rest() string {
	var out []string
	if e := h.EarthText(); e != "" {
		out = append(out, "earth: "+e)
	}
	if n := len(h.Dead); n > 0 {
		out = append(out, unit.Number(float64(n), 0)+" dead")
	}
	return strings.Join(out, "; ")
}

// EarthText is the earths of a half in one line, those that are earth only in some state with it; empty if there are none.
func (h *Half) EarthText() string {
	var out []string
	for i := range h.Earths {
		c := &h.Earths[i]
		s := c.CalledOut()
		if c.Earthed.Moved > 0 {
			s += " (" + c.Earthed.Words + ")"
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

// volts and amperes as a person reads them off: three figures.
func volts(v unit.Voltage) string { return unit.Number(float64(v), 1) + " V" }

func amps(a unit.Current) string {
	switch {
	case a >= 10:
		return unit.Number(float64(a), 0) + " A"
	case a >= 1:
		return unit.Number(float64(a), 1) + " A"
	}
	return fmt.Sprintf("%s mA", unit.Number(float64(a)*1000, 0))
}
