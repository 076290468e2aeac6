package shellbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// The voices that the hand looks for.
var (
	figure = page.Big.Sized(16)
	mark   = page.Strong.Sized(12)
	place  = page.Strong.Sized(11.5)
)

// padHand is what stays free above and below the rows that the hand works from.
const padHand page.MM = 0.5

// coordinate is one figure of a place in millimetres.
func coordinate(l unit.Length, decimals int) string {
	if !unit.Finite(l) {
		return "?"
	}
	return unit.Number(float64(l), decimals)
}

// triple is a place in one line.
func triple(p design.Point3, decimals int) string {
	return coordinate(p.X, decimals) + ", " + coordinate(p.Y, decimals) + ", " + coordinate(p.Z, decimals)
}

// placeText is a place in one line, or that it is not known.
func placeText(p design.Point3, known bool, decimals int) string {
	if !known {
		return "no coordinates"
	}
	return triple(p, decimals)
}

// decimals of a place: a stated one is printed to the tenth it may have been stated to, a computed one to the millimetre.
func decimals(s design.Status) int {
	if s == design.Computed {
		return 0
	}
	return 1
}

// degrees of a turn.
func degrees(a unit.Angle) string {
	if !unit.Finite(a) {
		return "?"
	}
	return unit.Number(float64(a), 0) + "°"
}

// span is a band of figures, one figure where both are the same.
func span(least, most unit.Length) string {
	a, b := common.Tenths(least), common.Tenths(most)
	if a == b || !(least > 0) {
		return b
	}
	return a + "–" + b
}

// small is a cell in the voice for crowded columns.
func small(s string) table.Cell { return table.Cell{Text: s, Type: page.Tight} }

// tiny is a cell in the same voice a little smaller, for what is read when one stands still.
func tiny(s string) table.Cell { return table.Cell{Text: s, Type: page.Tight.Sized(9)} }

// sizeText is a drilled diameter, or width and height of a cut-out that is not round.
func sizeText(drill, high unit.Length) string {
	if high > 0 && unit.Finite(high) {
		return common.Tenths(drill) + " × " + common.Tenths(high)
	}
	return common.Tenths(drill)
}

// drillCell is the hole's diameter, large.
func drillCell(d, high unit.Length, fastener string) table.Cell {
	switch {
	case d > 0 && unit.Finite(d) && high > 0:
		return table.Cell{Text: sizeText(d, high), Type: mark}
	case d > 0 && unit.Finite(d):
		return table.Cell{Text: common.Tenths(d), Type: figure}
	case fastener != "":
		return table.Cell{Text: "no hole", Type: page.Strong}
	}
	return table.Cell{Text: "not\nknown", Type: page.Strong}
}

// fixing is the fastener, or that there is none yet.
func fixing(fastener string, drill unit.Length) string {
	switch {
	case fastener != "":
		return fastener
	case drill > 0:
		return "plain hole"
	}
	return "no fixing stated"
}

// kindText is the kind of a fixing in the trade's words.
func kindText(kind string) string { return strings.ReplaceAll(kind, "-", " ") }

// series shortens marks that count on: dash-1, dash-2, dash-3 become "dash-1 to 3".
func series(marks []string) []string {
	var out []string
	for i := 0; i < len(marks); {
		stem, first, ok := numbered(marks[i])
		j := i + 1
		for ok && j < len(marks) {
			s, n, more := numbered(marks[j])
			if !more || s != stem || n != first+j-i {
				break
			}
			j++
		}
		if j-i < 3 {
			j = i + 1
			out = append(out, marks[i])
		} else {
			out = append(out, marks[i]+" to "+strconv.Itoa(first+j-i-1))
		}
		i = j
	}
	return out
}

// numbered parts a mark from the number at its end.
func numbered(mark string) (stem string, n int, ok bool) {
	at := strings.LastIndexByte(mark, '-')
	if at < 0 {
		return mark, 0, false
	}
	n, err := strconv.Atoi(mark[at+1:])
	return mark[:at], n, err == nil && n > 0 && n < 1e6 && mark[at+1] != '0'
}

func stretchName(r *fix.RunPlan) string {
	s := "run " + r.Run
	if r.Stretch > 0 {
		s += ", stretch " + strconv.Itoa(r.Stretch+1)
	}
	return s
}

// joined is the texts that are not empty.
func joined(sep string, texts ...string) string {
	var out []string
	for _, s := range texts {
		if s != "" {
			out = append(out, s)
		}
	}
	return strings.Join(out, sep)
}

// after sets a lead before a text that is not empty.
func after(lead, s string) string {
	if s == "" {
		return ""
	}
	return lead + s
}
