package layup

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/pack"
	"loomsheet/harness/unit"
)

// How much is packed for the cross-sections of bundles that are not in layers, in circles: of one bundle, and of all together.
const (
	packOne = 24
	packAll = 600
)

// loosely lays up an edge that is not in layers: alone, flat or by hand.
func (f *finder) loosely(edge int, at design.Scope, long unit.Length) {
	l := &f.plan.lays[edge]
	l.Layers, l.Placed, l.packed = nil, false, false
	for i := range l.Pieces {
		p := &l.Pieces[i]
		p.Layer, p.TakeUp = 0, 0
		for _, x := range p.Wires {
			p.TakeUp = max(p.TakeUp, net.TakeUpAt(f.job, &f.net.Wires[x], f.scopes[edge]))
		}
		l.TakeUp = max(l.TakeUp, p.TakeUp)
	}
	kind, ruling := net.LayOf(f.job, at, long, 1)
	stated := ruling.Value.Name != "auto" // then more rows than one, where it must be
	switch {
	case len(l.Pieces) == 0 && !l.Unknown:
		l.Kind = Empty
	case len(l.Pieces) == 1 && !l.Unknown:
		l.Kind, l.Placed, l.Outside = Alone, true, l.Pieces[0].Diameter
	case kind == net.Flat && !l.Unknown && (stated || sum(l.Pieces) <= f.rules(edge).width):
		f.flat(l, f.rules(edge).width)
	default:
		l.Kind, l.Outside = ByHand, l.Trade
		if n := len(l.Pieces); !l.Unknown && n <= packOne && f.packed+n <= packAll {
			f.packed += n
			l.Placed = true
			if enough := l.Trade * (1 - 1e-6); !(pack.Within(diameters(l.Pieces), enough) <= enough) {
				l.place(f.cores) // it may come out thicker than the trade's figure
			}
		}
	}
}

// place packs what is laid by hand.
func (l *Lay) place(cores cores) {
	c := cores.of(radii(l.Pieces))
	l.Outside, l.packed = unit.Length(2*c.outside), true
	for i := range c.at {
		l.Pieces[i].X, l.Pieces[i].Y = c.at[i].X, c.at[i].Y
	}
}

// sum of the diameters, mm.
func sum(pieces []Piece) (wide float64) {
	for i := range pieces {
		wide += float64(pieces[i].Diameter)
	}
	return wide
}

// flat lays pieces side by side, thickest first, in as few rows as the width allows, and those about equally full.
func (f *finder) flat(l *Lay, width float64) {
	wide := sum(l.Pieces)
	var rows [][]int
	for n := max(1, int(math.Ceil(wide/width-1e-9))); ; n++ {
		var ok bool
		if rows, ok = l.rows(n, wide/float64(n), width); ok || n >= len(l.Pieces) {
			break
		}
	}
	l.Kind, l.Rows, l.Placed = Flat, len(rows), true
	heights := make([]float64, len(rows))
	for n, row := range rows {
		wide := 0.0
		for _, i := range row {
			wide += float64(l.Pieces[i].Diameter)
			heights[n] = max(heights[n], float64(l.Pieces[i].Diameter))
		}
		l.Width = max(l.Width, unit.Length(wide))
		l.Height += unit.Length(heights[n])
	}
	y := -float64(l.Height) / 2
	for n, row := range rows {
		wide := 0.0
		for _, i := range row {
			wide += float64(l.Pieces[i].Diameter)
		}
		x := -wide / 2
		for _, i := range row {
			p := &l.Pieces[i]
			r := float64(p.Diameter) / 2
			p.X, p.Y = unit.Length(x+r), unit.Length(y+r)
			x += 2 * r
		}
		y += heights[n]
	}
	l.Outside = l.Width
}

// rows deals pieces into n rows of about equal width; false where one is wider than it may be.
func (l *Lay) rows(n int, even, width float64) (rows [][]int, ok bool) {
	rows, ok = [][]int{nil}, true
	wide := 0.0
	for i := range l.Pieces {
		d := float64(l.Pieces[i].Diameter)
		if last := len(rows) - 1; len(rows[last]) > 0 && (wide+d > width+1e-9 || len(rows) < n && wide+d/2 > even) {
			rows, wide = append(rows, nil), 0
		}
		last := len(rows) - 1
		rows[last] = append(rows[last], i)
		wide += d
		ok = ok && (wide <= width+1e-9 || len(rows[last]) == 1)
	}
	return rows, ok && len(rows) <= n
}
