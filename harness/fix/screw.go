package fix

import (
	"strconv"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// stack is one clip under the head of a screw.
type stack struct {
	part  string
	thick unit.Length // of the whole clip; 0 not known
}

// joint is what one screw or stud holds together.
type joint struct {
	clips    []stack
	fastener *design.Fastener
	panel    string
	sheet    unit.Length // thickness of the panel; 0 not known
	washer   unit.Length
	past     unit.Length
}

// sum is the length of the screw, or the least length of the stud, and how it came about. A screw with a nut passes clip, washer, panel and nut and
// stands past it; in a rivet nut it passes the sheet too, for the nut's thread lies behind it; a stud stands on the panel. Length 0: nothing is
// screwed, or a part of the sum is not known, and the text says which.
func (j *joint) sum() (length unit.Length, text string) {
	f := j.fastener
	if f == nil {
		return 0, ""
	}
	switch f.As {
	case "rivet-nut", "screw", "stud":
	case "bolt":
		if t := j.under(); t > 0 {
			return 0, "the bolt that is there, with " + number(t) + " more under its head"
		}
		return 0, "the bolt that is there"
	default:
		return 0, ""
	}
	var terms, lost []string
	add := func(name string, l unit.Length) {
		length += l
		terms = append(terms, name+" "+number(l))
	}
	for _, c := range j.clips {
		if c.thick <= 0 {
			lost = append(lost, "thickness of clip "+or(c.part, "part"))
			continue
		}
		add("clip", c.thick)
	}
	if j.washer > 0 {
		add("washer", j.washer)
	}
	if f.As != "stud" {
		if j.sheet > 0 {
			add("panel", j.sheet)
		} else if j.panel == "" {
			lost = append(lost, "panel")
		} else {
			lost = append(lost, "thickness of panel "+j.panel)
		}
	}
	engage := f.Engage
	if engage <= 0 {
		engage = diameter(f.Thread)
	}
	what := "nut"
	if f.As == "rivet-nut" {
		what = "thread"
	}
	if engage > 0 {
		add(what, engage)
	} else {
		lost = append(lost, what+" of "+f.Name)
	}
	if len(lost) > 0 {
		return 0, "not known: " + strings.Join(lost, ", ")
	}
	text = strings.Join(terms, " + ")
	if j.past > 0 {
		length += j.past
		text += " + " + number(j.past) + " past it"
	}
	if len(f.Screws) == 0 {
		return length, text
	}
	next := unit.Length(0)
	for _, x := range f.Screws {
		if x >= length-tiny && (next == 0 || x < next) {
			next = x
		}
	}
	if next == 0 {
		return 0, text + tooLong + f.Name
	}
	return next, text + ", next longer " + number(next)
}

// under is what lies under the head; 0 if a part of it is not known.
func (j *joint) under() (t unit.Length) {
	for _, c := range j.clips {
		if c.thick <= 0 {
			return 0
		}
		t += c.thick
	}
	return t
}

// tooLong stands in the sum of a screw that cannot be had.
const tooLong = ": longer than any of "

func number(l unit.Length) string { return unit.Number(float64(l), 2) }

// diameter of a metric thread, such as M5 or M10x1.5; 0 not known.
func diameter(thread string) unit.Length {
	d, ok := strings.CutPrefix(thread, "M")
	if !ok {
		return 0
	}
	d, _, _ = strings.Cut(d, "x")
	x, err := strconv.ParseFloat(d, 64)
	if err != nil || !unit.Finite(x) || x <= 0 {
		return 0
	}
	return unit.Length(x)
}
