package section

import (
	"math"
	"slices"

	"loomsheet/render/font"
	"loomsheet/render/page"
)

// thinOut finds the pieces that have to go without a number: where circles are too small for theirs, numbers lie over their neighbours, and two that
// meet can neither be read. Those that have room in their circles stand; of the others one of each layer comes first, then round numbers.
func (p *picture) thinOut() {
	if !p.numbers {
		return
	}
	s, fits := p.spread(touching)
	met := false
	for i := range s.boxes {
		met = met || !s.try(i)
	}
	if !met {
		return
	}
	s, fits = p.spread(apart)
	for i := range s.boxes {
		if fits[i] {
			s.put(i)
		}
	}
	for l := range p.lay.Layers {
		for _, i := range p.lay.Layers[l].Pieces {
			if s.try(i) {
				break
			}
		}
	}
	for _, step := range []int{10, 5, 1} {
		for i := step - 1; i < len(s.boxes); i += step {
			s.try(i)
		}
	}
	if k := slices.Index(s.stands, false); k >= 0 {
		p.stands = s.stands
	}
}

// spread is the numbers that stand.
type spread struct {
	p      *picture
	boxes  []page.Box // of all
	stands []bool
	wide   page.MM
	cells  map[[2]int][]int // those that stand, by where their middle lies: none meets another from further off than the next cell
}

// spread has the boxes of all numbers, so far apart; fits tells which have room in their circles. None stands yet.
func (p *picture) spread(apart page.MM) (s *spread, fits []bool) {
	n := len(p.lay.Pieces)
	s, fits = &spread{p: p, boxes: make([]page.Box, n), stands: make([]bool, n), cells: map[[2]int][]int{}, wide: 1}, make([]bool, n)
	for i := range s.boxes {
		fits[i] = s.measure(i, apart)
		s.wide = max(s.wide, s.boxes[i].W, s.boxes[i].H)
	}
	return s, fits
}

// measure finds the box of a number, and whether it has room in its circle.
func (s *spread) measure(i int, apart page.MM) (fits bool) {
	p, piece := s.p, &s.p.lay.Pieces[i]
	name, _, t, _, fits := p.voices(i)
	across, half, high := p.paper(p.wide)+2*margin, t.Width(name)/2, font.CapHeight(t.Face, t.Size)
	x, y := across/2+p.paper(piece.X), -p.paper(piece.Y)
	if !fits {
		x = max(half, min(x, across-half))
	}
	s.boxes[i] = page.Box{X: x - half - apart/2, Y: y - high/2 - apart/2, W: 2*half + apart, H: high + apart}
	return fits
}

func (s *spread) cell(i int) (x, y int) {
	at := s.boxes[i].Mid()
	return int(math.Floor(float64(at.X / s.wide))), int(math.Floor(float64(at.Y / s.wide)))
}

func (s *spread) put(i int) {
	x, y := s.cell(i)
	s.stands[i], s.cells[[2]int{x, y}] = true, append(s.cells[[2]int{x, y}], i)
}

// try sets a number that meets none; true where it stands then.
func (s *spread) try(i int) bool {
	if s.stands[i] {
		return true
	}
	x, y := s.cell(i)
	for k := range 9 {
		for _, o := range s.cells[[2]int{x + k%3 - 1, y + k/3 - 1}] {
			if s.boxes[i].Meets(s.boxes[o]) {
				return false
			}
		}
	}
	s.put(i)
	return true
}

// sparse tells whether few numbers stand.
func (p *picture) sparse() bool {
	n := 0
	for _, ok := range p.stands {
		if ok {
			n++
		}
	}
	return 2*n < len(p.stands)
}

// The distance between two numbers below which they are said to meet, and, where any do, the least that is kept.
const (
	touching page.MM = 0.2
	apart    page.MM = 0.9
)
