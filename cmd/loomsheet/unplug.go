package main

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/live"
	"loomsheet/harness/unit"
)

func unplugCommand() *cobra.Command {
	format := formatFlag("text")
	c := &cobra.Command{
		Use:   "unplug FILE BREAK",
		Short: "What is still live when a plug is pulled or a stud undone",
		Long: `unplug undoes a break, a device with all its plugs, or one stud, and prints for each half which cavities are still live: with
every battery, alternator and charger of the job attached, in whatever state of whatever switch and relay is worst. For each it prints
the volts solved in that state, what a dead short would draw, the last fuse before it, and the state, with as few things switched as can be.
Volts and amps are with wires at 20 C. Fed is what a source reaches over metal; what it reaches only through a load is told apart.`,
		Example: `  loomsheet unplug car.loom A               a break: both halves
  loomsheet unplug car.loom alternator      a device, all its plugs and studs
  loomsheet unplug car.loom battery.neg     one stud
  loomsheet unplug car.loom A --format json`,
		RunE: func(c *cobra.Command, args []string) error {
			j, err := open(args[0], c.ErrOrStderr())
			if err != nil {
				return err
			}
			if j.Result == nil {
				if err := j.tell(c.OutOrStdout(), format, false); err != nil {
					return err
				}
				return j.status()
			}
			undo, err := undoOf(j.Job, args[1])
			if err != nil {
				return err
			}
			u := live.Of(j.Job, j.Net, j.Sizes, undo)
			if format == "json" {
				return unpluggedJSON(c.OutOrStdout(), u, j.Live)
			}
			printUnplugged(c.OutOrStdout(), u, j.Live)
			return nil
		},
		ValidArgsFunction: undoNames,
	}
	c.Flags().Var(&format, "format", "text or json")
	return c
}

// undoOf finds what a name undoes.
func undoOf(job *design.Job, name string) (design.Undo, error) {
	head, pin, dotted := strings.Cut(name, ".")
	for _, b := range job.Breaks {
		if b.Name == name {
			return design.Undo{Kind: "break", Name: name, Span: b.Span}, nil
		}
		if b.Name == head {
			return design.Undo{}, fmt.Errorf("%s is a break and is undone as a whole; write just %s", head, head)
		}
	}
	for _, d := range job.Devices {
		if d.Name != head || d.Pattern {
			continue
		}
		if !dotted {
			return design.Undo{Kind: "device", Name: head, Span: d.Span}, nil
		}
		var studs []string
		for i := range d.Pins {
			p := &d.Pins[i]
			if p.Name == pin && p.Stud != "" {
				return design.Undo{Kind: "stud", Name: head, Pin: pin, Span: p.Span}, nil
			}
			if p.Name == pin && !p.Inner {
				return design.Undo{}, fmt.Errorf("%s is no stud: a single contact is not undone by itself; undo the whole plug, %s", name, head)
			}
			if p.Stud != "" {
				studs = append(studs, head+"."+p.Name)
			}
		}
		if len(studs) == 0 {
			return design.Undo{}, fmt.Errorf("%s has no studs; undo it as a whole, %s", head, head)
		}
		return design.Undo{}, unknownName("stud", name, studs)
	}
	err := fmt.Errorf("there is no break, device or stud %s", name)
	if near := diag.Nearest(name, undoable(job)); len(near) > 0 {
		err = fmt.Errorf("%w; did you mean %s?", err, strings.Join(near, ", "))
	}
	return design.Undo{}, err
}

// undoable lists the names of all that can be undone.
func undoable(job *design.Job) []string {
	var out []string
	for _, b := range job.Breaks {
		out = append(out, b.Name)
	}
	for _, d := range job.Devices {
		if d.Pattern {
			continue
		}
		out = append(out, d.Name)
		for i := range d.Pins {
			if d.Pins[i].Stud != "" {
				out = append(out, d.Name+"."+d.Pins[i].Name)
			}
		}
	}
	return out
}

// undoNames completes what can be undone in the job that stands first on the line.
func undoNames(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	switch len(args) {
	case 0:
		return loomFiles(c, args, typed)
	case 1:
		return completed(args[0], typed, undoable)
	}
	return nil, cobra.ShellCompDirectiveNoFileComp
}

func printUnplugged(w io.Writer, u *live.Unplugged, all *live.Result) {
	title := u.Title
	if u.Place != "" {
		title += ", " + u.Place
	}
	fmt.Fprintf(w, "%s undone: what is still live\n", strings.ToUpper(title[:1])+title[1:])
	fmt.Fprintf(w, "Attached: %s. Over every state of %s and %s.\n", all.Sources, count(all.Switches, "switch set"), count(all.Relays, "relay"))
	for _, c := range u.Cautions {
		fmt.Fprintf(w, "CAUTION  %s\n", c)
	}
	for i := range u.Halves {
		h := &u.Halves[i]
		if h.Title == "" {
			continue
		}
		fmt.Fprintf(w, "\n%s: %s\n", h.Title, cavities(len(h.Live), "live"))
		for k := range h.Live {
			printCavity(w, &h.Live[k])
		}
		if len(h.Earths) > 0 {
			fmt.Fprintf(w, "  earth: %s\n", h.EarthText())
		}
		if len(h.Dead) > 0 {
			fmt.Fprintf(w, "  %s\n", cavities(len(h.Dead), "dead"))
		}
		if len(h.Live)+len(h.Earths)+len(h.Dead) == 0 {
			fmt.Fprintln(w, "  no wire ends here")
		}
	}
}

func cavities(n int, what string) string {
	switch n {
	case 0:
		return "nothing " + what
	case 1:
		return "1 place " + what
	}
	return fmt.Sprintf("%d places %s", n, what)
}

func printCavity(w io.Writer, c *live.Cavity) {
	wire := c.Wire
	if c.Label != "" {
		wire = c.Label + ", " + wire
	}
	if more := len(c.Wires) - 1; more > 0 {
		wire += fmt.Sprintf(" and %d more", more)
	}
	fmt.Fprintf(w, "  %-8s %s\n           %s\n", c.CalledOut(), wire, c.Is())
	for k := range c.Feeds {
		x := &c.Feeds[k]
		fmt.Fprintf(w, "           %s", x.From())
		if len(c.Feeds) > 1 {
			fmt.Fprintf(w, ": %s", x.Figures())
		}
		fmt.Fprintln(w)
		for _, line := range x.Proof() {
			fmt.Fprintf(w, "             %s\n", line)
		}
	}
}

// The JSON form of what is live.
type unpluggedDoc struct {
	Schema   int       `json:"schema"`
	Undo     string    `json:"undo"`
	Kind     string    `json:"kind"` // break, device or stud
	Attached string    `json:"attached"`
	Cautions []string  `json:"cautions"`
	Halves   []halfDoc `json:"halves"`
}

type halfDoc struct {
	Title    string      `json:"title"`
	Section  string      `json:"section"`
	Contacts string      `json:"contacts"`
	Places   []cavityDoc `json:"places"`
}

type cavityDoc struct {
	Name    string    `json:"name"`
	Wire    string    `json:"wire"`
	Label   string    `json:"label"`
	State   string    `json:"state"` // fed, through a load, earth, dead
	Contact string    `json:"contact"`
	Open    bool      `json:"open"`
	Counts  bool      `json:"counts"`
	Volts   float64   `json:"volts"`
	Amps    float64   `json:"amps"` // of a dead short
	Feeds   []feedDoc `json:"feeds"`
	Earthed string    `json:"earthed,omitempty"`
}

type feedDoc struct {
	Source  string   `json:"source"`
	Fuse    string   `json:"fuse"` // device and its index from 0; empty: none
	Rating  float64  `json:"rating,omitempty"`
	Behind  string   `json:"behind"`
	Loads   []string `json:"loads"`
	State   string   `json:"state"`
	Against []string `json:"against"` // relays that would stand otherwise
	Alone   string   `json:"alone,omitempty"`
	Volts   float64  `json:"volts"`
	Amps    float64  `json:"amps"`
	Minus   string   `json:"minus"`
}

func unpluggedJSON(w io.Writer, u *live.Unplugged, all *live.Result) error {
	doc := unpluggedDoc{Schema: 1, Undo: u.Undo.Name, Kind: u.Undo.Kind, Attached: all.Sources, Cautions: list(u.Cautions), Halves: []halfDoc{}}
	if u.Undo.Pin != "" {
		doc.Undo += "." + u.Undo.Pin
	}
	for i := range u.Halves {
		h := &u.Halves[i]
		d := halfDoc{Title: h.Title, Section: h.Section, Contacts: h.Contacts, Places: []cavityDoc{}}
		for _, c := range slices.Concat(h.Live, h.Earths, h.Dead) {
			d.Places = append(d.Places, placeDoc(&c))
		}
		doc.Halves = append(doc.Halves, d)
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(doc)
}

func placeDoc(c *live.Cavity) cavityDoc {
	p := cavityDoc{Name: c.Name, Wire: c.Wire, Label: c.Label, State: c.Kind.String(), Contact: c.Contact, Open: c.Exposed, Counts: c.Counts,
		Volts: rounded(float64(c.Volts)), Amps: rounded(float64(c.Amps)), Feeds: []feedDoc{}, Earthed: c.Earthed.Words}
	for k := range c.Feeds {
		x := &c.Feeds[k]
		f := feedDoc{Source: x.Source.Device, Rating: float64(x.Rating), Behind: x.Behind, Loads: list(x.Loads), State: x.State.Words, Against: list(x.State.Against),
			Volts: rounded(float64(x.Volts)), Amps: rounded(float64(x.Amps)), Minus: x.Against}
		if x.Fuse != nil {
			f.Fuse = fmt.Sprintf("%s %d", x.Fuse.Device, x.Fuse.Index)
		}
		if x.Attained != nil {
			f.Alone = x.Attained.Words
		}
		p.Feeds = append(p.Feeds, f)
	}
	return p
}

// list is never null in JSON.
func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

// rounded keeps what means something of a solved figure.
func rounded(x float64) float64 {
	if !unit.Finite(x) {
		return 0
	}
	r, _ := json.Number(unit.Number(x, 4)).Float64()
	return r
}
