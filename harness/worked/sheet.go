package worked

import (
	"math"
	"strconv"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// Of is the sheet of one wire of the net; nil for an index that is none.
func Of(m *Model, wire int) *Sheet {
	if m == nil || m.Net == nil || wire < 0 || wire >= len(m.Net.Wires) || wire >= len(m.Sizes) {
		return nil
	}
	w := &m.Net.Wires[wire]
	k := &maker{Model: m, wire: wire, w: w, c: &m.Sizes[wire], s: &Sheet{Wire: wire, Name: w.Name, Label: w.Label, Span: w.Span, Decided: Decided(&m.Sizes[wire])}}
	k.length()
	k.resistance()
	k.current()
	k.volts()
	k.heat()
	k.contacts()
	k.protection()
	return k.s
}

// Find lists the wires that a text names: the wire of that name, or those of that label or circuit.
func Find(nt *net.Net, text string) []int {
	for i := range nt.Wires {
		if nt.Wires[i].Name == text {
			return []int{i}
		}
	}
	var out []int
	for i := range nt.Wires {
		if w := &nt.Wires[i]; w.Label == text || w.Circuit == text {
			out = append(out, i)
		}
	}
	return out
}

// maker writes one sheet.
type maker struct {
	*Model
	wire   int
	w      *net.Wire
	c      *size.Conductor
	s      *Sheet
	number int
	metres float64 // length of the copper
	r20    float64 // mohm
}

func (k *maker) part(title string) { k.s.Parts = append(k.s.Parts, Part{Title: title}) }

// put adds a line to the last part and returns its number.
func (k *maker) put(l Line) int {
	k.number++
	l.Number = k.number
	p := &k.s.Parts[len(k.s.Parts)-1]
	p.Lines = append(p.Lines, l)
	return l.Number
}

// from names an earlier line as the source of a number.
func from(line int) string { return "line " + strconv.Itoa(line) }

// sig prints x with so many significant digits, never with an exponent unless it must.
func sig(x float64, digits int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return unit.Number(x, 0)
	}
	d := digits - 1 - int(math.Floor(math.Log10(math.Abs(x))))
	if d > 15 {
		return strconv.FormatFloat(x, 'e', digits-1, 64)
	}
	return unit.Number(x, max(d, 0))
}

// val is a number with its unit to six digits: what is printed can be worked with.
func val(x float64, u string) string { return strings.TrimSpace(sig(x, 6) + " " + u) }

// short is a result or limit to five digits.
func short(x float64, u string) string { return strings.TrimSpace(sig(x, 5) + " " + u) }

func in(name string, x float64, u, source string) Input {
	return Input{Name: name, Value: val(x, u), Source: source}
}

func at(i Input, span diag.Span) Input {
	i.Span = span
	return i
}

// Decided puts the reason for a size into words.
func Decided(c *size.Conductor) string {
	switch c.Why {
	case size.ByHand:
		return "stated in the text"
	case size.ByMechanical:
		return "the least size: nothing asks for more"
	case size.ByHeat:
		return "heat: its ampacity in the bundle"
	case size.ByProtection:
		return "protection: an overload or a short that its fuse lets pass, or a loop too weak to clear"
	case size.ByRating:
		return "the rating of a contact, which falls with a thinner wire"
	case size.ByDrop:
		return "volts: a limit on its way asks for it"
	case size.ByContact:
		return "the contacts at its ends take no thinner one"
	case size.ByCable:
		return "the bought cable has it"
	case size.ByParallel:
		return "parallel wires are alike"
	case "":
		return "not known"
	}
	return string(c.Why)
}
