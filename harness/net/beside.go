package net

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Beside lists for each cavity of a face those that lie beside it, in their order: no farther than so many times the least distance between
// any two of them, and always the nearest one, so that a heavy contact apart from the rest has its neighbour too. A cavity without a place has
// those before and after it in the list.
func Beside(cavities []design.HousingCavity, within unit.Ratio) [][]int {
	n := len(cavities)
	out := make([][]int, n)
	nearest := make([]float64, n)
	least := math.Inf(1)
	for i := range cavities {
		nearest[i] = math.Inf(1)
		for j := range cavities {
			if d := apart(&cavities[i], &cavities[j]); i != j && d > 0 {
				nearest[i] = min(nearest[i], d)
			}
		}
		least = min(least, nearest[i])
	}
	const hair = 1 + 1e-9
	for i := range cavities {
		for j := range i {
			x, y := &cavities[i], &cavities[j]
			d := apart(x, y)
			near := d <= max(float64(within)*least, nearest[i], nearest[j])*hair
			if !x.Placed || !y.Placed {
				near = i == j+1
			}
			if near {
				out[i], out[j] = append(out[i], j), append(out[j], i)
			}
		}
	}
	for i := range out {
		slices.Sort(out[i])
	}
	return out
}

// apart is the distance of two cavities in mm; without end where the place of one is not known.
func apart(x, y *design.HousingCavity) float64 {
	if !x.Placed || !y.Placed {
		return math.Inf(1)
	}
	return math.Hypot(float64(x.At[0]-y.At[0]), float64(x.At[1]-y.At[1]))
}

// BesideIn is the same for a break, by the names of the cavities that both its halves have, with the setting `cavity-beside`. Nil where its
// housing is not known.
func BesideIn(job *design.Job, of *design.Break) map[string][]string {
	b := &builder{job: job, housings: map[string]*design.Housing{}}
	for _, x := range job.Parts.Housings {
		first(b.housings, x.Name, x)
	}
	list := faceOf(b.cavities(of))
	if list == nil {
		return nil
	}
	out := map[string][]string{}
	for i, js := range Beside(list, besideWithin(job, of)) {
		for _, j := range js {
			out[list[i].Name] = append(out[list[i].Name], list[j].Name)
		}
	}
	return out
}

// faceOf is the cavities of a break as one face: the places of the half that states them.
func faceOf(cs []cavity) []design.HousingCavity {
	var out []design.HousingCavity
	for _, c := range cs {
		x := *c.halves[0]
		if o := c.halves[1]; !x.Placed && o.Placed {
			x.At, x.Placed = o.At, true
		}
		out = append(out, x)
	}
	return out
}

func besideWithin(job *design.Job, of *design.Break) unit.Ratio {
	return unit.Ratio(job.Settings.Get("cavity-beside", design.Scope{Break: of.Name, Class: of.Class, Panel: of.Panel}).Value.Quantity.Value)
}

// Together tells whether cavities hang together, each beside another of them.
func Together(beside [][]int, cavities []int) bool {
	if len(cavities) == 0 {
		return true
	}
	met := map[int]bool{cavities[0]: true}
	for todo := []int{cavities[0]}; len(todo) > 0; todo = todo[1:] {
		for _, j := range beside[todo[0]] {
			if !met[j] && slices.Contains(cavities, j) {
				met[j] = true
				todo = append(todo, j)
			}
		}
	}
	for _, c := range cavities {
		if !met[c] {
			return false
		}
	}
	return true
}
