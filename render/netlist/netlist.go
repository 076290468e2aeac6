// Package netlist writes the net of a case in the open netlist form that general circuit simulators read, so that a reviewer can have
// one find the operating point and hold it against ours: R and V elements, and B elements (current by an expression of volts) for what
// is no straight line. The figures found here stand beside as comments, and once more as the place where a search may begin.
package netlist

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Input is one operating point. Laws and Point are of the elements of Net, in their order.
type Input struct {
	Job, Revision, Digest string
	Invented              bool
	NotForBuild           string // why; empty when nothing stands in the way
	Case                  string
	Start                 string // the device that starts; empty for the steady point
	Net                   *solve.Network
	Laws                  []solve.Law
	Point                 solve.Point
}

// writer holds what a netlist is made from.
type writer struct {
	Input
	strings.Builder
	part []int // by node
	zero []int // by part (its lowest node): the reference node; -1 where nothing live feeds it
	main int   // the part whose reference is node 0
	name []int // by node; -1 is left out
}

// Text is the netlist. Parts of the net that no live supply feeds, and elements that carry nothing by their state, are named in comments.
func Text(in Input) string {
	w := &writer{Input: in}
	w.parts()
	w.head()
	w.places()
	w.elements()
	w.line(".options reltol=1e-9 abstol=1e-12 vntol=1e-10 gmin=1e-15 itl1=1000")
	w.note("the operating point: the program lists the volts of every place")
	w.line(".op")
	w.begin()
	w.line(".end")
	return w.String()
}

// parts finds what hangs together, and a reference in each fed part: the minus of its first live supply.
func (w *writer) parts() {
	w.part = make([]int, len(w.Net.Nodes))
	for i := range w.part {
		w.part[i] = i
	}
	root := func(i int) int {
		for w.part[i] != i {
			w.part[i] = w.part[w.part[i]]
			i = w.part[i]
		}
		return i
	}
	for i, e := range w.Net.Elements {
		if w.Laws[i].Kind != solve.Open {
			a, b := root(e.From), root(e.To)
			w.part[max(a, b)] = min(a, b)
		}
	}
	size := make([]int, len(w.part))
	w.zero, w.name, w.main = make([]int, len(w.part)), make([]int, len(w.part)), -1
	for i := range w.part {
		w.part[i] = root(i)
		size[w.part[i]]++
		w.zero[i], w.name[i] = -1, -1
	}
	for i, e := range w.Net.Elements {
		if p := w.part[e.To]; w.Laws[i].Kind == solve.Source && w.zero[p] < 0 {
			w.zero[p] = e.To
			if w.main < 0 || size[p] > size[w.main] {
				w.main = p
			}
		}
	}
	n := 0
	for i, p := range w.part {
		switch {
		case w.zero[p] < 0:
		case p == w.main && i == w.zero[p]:
			w.name[i] = 0
		default:
			n++
			w.name[i] = n
		}
	}
}

func (w *writer) line(parts ...string) {
	w.WriteString(strings.Join(parts, " "))
	w.WriteByte('\n')
}

// note writes a comment line; what would end it is taken out.
func (w *writer) note(s string) {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' {
			return ' '
		}
		return r
	}, s)
	w.line(strings.TrimRight("* "+s, " "))
}

func (w *writer) head() {
	what := "case " + w.Case
	if w.Case == "" {
		what = "no case"
	}
	if w.Start != "" {
		what += ", while " + w.Start + " starts"
	}
	w.note(w.Job + ", revision " + orDash(w.Revision) + ": " + what)
	w.note("Source " + orDash(w.Digest))
	if w.Invented {
		w.note("INVENTED DEMONSTRATION JOB: nothing was ever built from it.")
	}
	if w.NotForBuild != "" {
		w.note("NOT FOR BUILD: " + w.NotForBuild + ".")
	}
	w.note("")
	w.note("A second opinion on volts and amps: the same net for another program to solve. It agrees or disagrees with the arithmetic, not with")
	w.note("what the job says of its loads, lengths and joints. It does not judge limits. Local codes, the vehicle maker's instructions and a")
	w.note("competent person's judgement come before it. Disconnect the battery before any work, and verify with a meter.")
	w.note("")
	w.note("R: wires, contacts, lugs, splices, fuses, switches and loads of constant resistance, in ohms; wires at the temperature of this case.")
	w.note("V with R and B: a supply. B carries what the source behind its resistance gives, never less than nothing and never more than its limit;")
	w.note("RB, 1 Gohm across it, gives volts to a supply that nothing loads.")
	w.note("B of a load: constant current, or constant power; below its knee the current falls with the volts. Diodes: volts beyond the forward volts over a resistance.")
	w.note("Volts are against the reference of each part that hangs together. \"found\" is what loomsheet found: compare line by line.")
}

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// places is the table of nodes.
func (w *writer) places() {
	w.note("")
	w.note("Places: number, volts found, name")
	left := 0
	for i, n := range w.name {
		switch {
		case n < 0:
			left++
		case w.zero[w.part[i]] == i:
			w.note(fmt.Sprintf("%4d  reference    %s", n, w.Net.Nodes[i]))
		default:
			w.note(fmt.Sprintf("%4d  %12.9f %s", n, float64(w.found(i)), w.Net.Nodes[i]))
		}
	}
	if left > 0 {
		w.note(fmt.Sprintf("%d more places are joined to no live supply in this case and left out.", left))
	}
}

// found is the volts of a node against the reference of its part.
func (w *writer) found(node int) unit.Voltage {
	return w.Point.Volts[node] - w.Point.Volts[w.zero[w.part[node]]]
}

func (w *writer) elements() {
	w.note("")
	var open, apart []string
	for i := range w.Net.Elements {
		e := &w.Net.Elements[i]
		switch {
		case w.Laws[i].Kind == solve.Open:
			open = append(open, e.Kind.String()+" "+e.Name)
		case w.name[e.From] < 0:
			apart = append(apart, e.Kind.String()+" "+e.Name)
		default:
			w.element(i, e)
		}
	}
	for i, p := range w.part {
		if i == p && i != w.main && w.zero[i] >= 0 {
			w.note("nothing joins this part to the rest; its reference is held at none")
			w.line("VREF"+strconv.Itoa(w.name[w.zero[i]]), strconv.Itoa(w.name[w.zero[i]]), "0 DC 0")
		}
	}
	w.list("Carries nothing in this case:", open)
	w.list("Joined to no live supply:", apart)
}

func (w *writer) list(title string, names []string) {
	if len(names) == 0 {
		return
	}
	w.note("")
	w.note(title)
	for _, n := range names {
		w.note("  " + n)
	}
}

func (w *writer) element(i int, e *solve.Element) {
	l := &w.Laws[i]
	id, a, b := strconv.Itoa(i+1), strconv.Itoa(w.name[e.From]), strconv.Itoa(w.name[e.To])
	v := "V(" + a + "," + b + ")"
	w.note(fmt.Sprintf("%s %s: found %.6g A", e.Kind, e.Name, float64(w.Point.Amps[i])))
	switch l.Kind {
	case solve.Ohmic:
		w.line("R"+id, a, b, full(l.Resistance))
	case solve.Source:
		inner := "s" + id
		w.line("V"+id, inner, b, "DC", full(l.Volts))
		give := "max(V(" + inner + "," + a + "),0)/" + full(l.Resistance)
		if l.Limited {
			give = "min(" + give + "," + full(l.Most) + ")"
		}
		w.line("B"+id, inner, a, "I="+give)
		w.line("RB"+id, a, b, bleed)
	case solve.OneWay:
		w.line("B"+id, a, b, "I=max("+v+"-"+full(l.Volts)+",0)/"+full(l.Resistance))
	case solve.SteadyCurrent:
		w.line("B"+id, a, b, "I="+full(l.Most)+"*max(-1,min(1,"+v+"/"+full(l.Volts)+"))")
	case solve.SteadyPower:
		w.line("B"+id, a, b, "I="+full(l.Watts)+"*"+v+"/max("+v+"*"+v+","+full(l.Volts*l.Volts)+")")
	}
}

// bleed lies across each supply, so that one without any load has volts that follow from the elements.
const bleed = "1e9"

// full is a number with all its digits.
func full[T ~float64](x T) string { return strconv.FormatFloat(float64(x), 'g', -1, 64) }

// begin is where the search begins. The elements bend sharply (a supply that idles, one at its limit, a load below its knee), and a search
// from nothing may stop where no element's current answers to the volts.
func (w *writer) begin() {
	w.note("")
	w.note("Where the search begins: at the volts found. What is found must satisfy every element all the same; with * before these lines a")
	w.note("program searches from nothing, and may find no answer, or stop at one that adds up nowhere.")
	for i, n := range w.name {
		if n > 0 {
			w.line(fmt.Sprintf(".nodeset v(%d)=%s", n, full(w.found(i))))
		}
	}
}
