package face

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/unit"
)

// String is the view in a word.
func (v View) String() string {
	if v == MatingSide {
		return "mating side"
	}
	return "wire side"
}

// rowShare is how far apart in height two cavities of one row may lie, as a share of the least distance between two cavities.
const rowShare = 0.35

// Rows is the cavities as they are read in the view: rows from the top, each from left to right.
func (f Face) Rows() [][]Cavity {
	list := slices.Clone(f.Cavities)
	slices.SortStableFunc(list, func(a, b Cavity) int { return cmp.Or(cmp.Compare(b.Y, a.Y), cmp.Compare(a.X, b.X)) })
	within := f.least() * rowShare
	var rows [][]Cavity
	for _, c := range list {
		n := len(rows)
		if n == 0 || rows[n-1][0].Y-c.Y > within {
			rows = append(rows, nil)
			n++
		}
		rows[n-1] = append(rows[n-1], c)
	}
	for _, r := range rows {
		slices.SortStableFunc(r, func(a, b Cavity) int { return cmp.Compare(a.X, b.X) })
	}
	return rows
}

// least is the least distance between two cavities; 0 of fewer than two.
func (f Face) least() unit.Length {
	var least unit.Length
	for i, a := range f.Cavities {
		for _, b := range f.Cavities[:i] {
			if d := unit.Length(hypot(a.X-b.X, a.Y-b.Y)); d > 0 && (least == 0 || d < least) {
				least = d
			}
		}
	}
	return least
}

// Held says how a face is held to be seen from a side.
func (v View) Held() string {
	if v == WireSide {
		return "Wire side: held so that the wires come towards you, as the contacts are pushed in."
	}
	return "Mating side: held so that the wires go away from you, as the other half sees it."
}

// Reading says where each cavity is found in the view, for whoever cannot trust a picture; empty where none has a place.
func (f Face) Reading() string {
	rows := f.Rows()
	if len(rows) == 0 {
		return ""
	}
	var b strings.Builder
	if len(rows) == 1 {
		b.WriteString("Left to right: ")
	} else {
		b.WriteString("From the top, left to right: ")
	}
	for i, r := range rows {
		if i > 0 {
			b.WriteString("; ")
		}
		for k, c := range r {
			if k > 0 {
				b.WriteString(" ")
			}
			b.WriteString(c.Name)
		}
	}
	b.WriteString(".")
	return b.String()
}

// Words is both: how the view is held, and where each cavity is found in it.
func (f Face) Words() string { return strings.TrimSpace(f.View.Held() + " " + f.Reading()) }

func hypot(x, y unit.Length) float64 { return math.Hypot(float64(x), float64(y)) }
