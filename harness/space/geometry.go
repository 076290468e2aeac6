package space

import (
	"fmt"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// near is the distance under which two stations are one place.
const near unit.Length = 1e-6

// layer is the state of laying out one job.
type layer struct {
	job  *design.Job
	runs []*design.Run         // in natural order
	keys map[*design.Run][]way // stretches by their node keys
	at   map[string]design.Point3
	// settled splices by run and stretch
	seats   map[seatKey][]seat
	aliases map[string]string
	geo     *Geometry
}

// way is the node keys of one stretch.
type way []string

type seatKey struct {
	run     *design.Run
	stretch int
}

// seat is a splice on a stretch.
type seat struct {
	key   string
	after unit.Length
}

// Lay works out the graph of all runs. Nodes are the named places on runs, waypoints without a name (keys such as tunnel#2: the
// second waypoint without a name of run tunnel), and splices that sit part-way along a run. A piece of a stretch is straight between
// its coordinates; where the whole stretch was measured by string, the measured length is shared out over its pieces by their
// straight lengths, and so is slack. A length that cannot be known is marked Unknown and reported as Unplaced.
func Lay(job *design.Job) *Geometry {
	l := &layer{job: job, keys: map[*design.Run][]way{}, at: map[string]design.Point3{}, geo: &Geometry{}}
	for _, r := range job.Runs {
		l.runs = append(l.runs, r)
	}
	slices.SortStableFunc(l.runs, func(a, b *design.Run) int { return design.Natural(a.Name, b.Name) })
	l.name()
	l.places()
	l.seat()
	l.build()
	l.nowhere()
	return l.geo
}

// name gives every node of every stretch its key.
func (l *layer) name() {
	for _, r := range l.runs {
		n := 0
		for _, s := range r.Stretches {
			var w way
			for _, spot := range s.Nodes {
				key := spot.Node
				if key == "" {
					n++
					key = fmt.Sprintf("%s#%d", r.Name, n)
				}
				if p, ok := place(spot); ok {
					if _, have := l.at[key]; !have {
						l.at[key] = p
					}
				}
				w = append(w, key)
			}
			l.keys[r] = append(l.keys[r], w)
		}
	}
}

// place is the coordinates of a spot, if they are known and sane.
func place(s design.Spot) (design.Point3, bool) {
	p := s.At
	return p, s.Known && unit.Finite(p.X) && unit.Finite(p.Y) && unit.Finite(p.Z)
}

// places adds the coordinates of everything that sits at a node by name.
func (l *layer) places() {
	add := func(name string, s design.Spot) {
		key := s.Node
		if key == "" {
			key = name
		}
		if p, ok := place(s); ok && key != "" {
			if _, have := l.at[key]; !have {
				l.at[key] = p
			}
		}
	}
	// A thing's own place comes before what only shares its node.
	for _, p := range l.job.Points {
		add(p.Name, p.Spot)
	}
	for _, b := range l.job.Breaks {
		add(b.Name, b.Spot)
	}
	for _, d := range l.job.Devices {
		if d.Pattern {
			continue
		}
		add(d.Name, d.Spot)
		for _, h := range d.Housings {
			add("", h.Spot)
		}
		for _, p := range d.Pins {
			add(d.Name+"."+p.Name, p.Spot)
		}
	}
	for _, s := range l.job.Splices {
		add(s.Name, s.Spot)
	}
}

// straight is the distance of two nodes; ok is false when one has no coordinates.
func (l *layer) straight(a, b string) (d unit.Length, ok bool) {
	p, okP := l.at[a]
	q, okQ := l.at[b]
	d = Between(p, q)
	return d, okP && okQ && unit.Finite(d)
}

// piece is one straight part of a stretch.
type piece struct {
	length  unit.Length
	share   float64 // of the stretch; of its slack
	unknown bool
}

// pieces works out the parts of a stretch between its nodes. Whole is the straight length of the stretch, known if all of it is.
func (l *layer) pieces(w way, s *design.Stretch) (out []piece, whole unit.Length, known bool) {
	n := len(w) - 1
	if n < 1 {
		return nil, 0, false
	}
	out = make([]piece, n)
	known = true
	for i := range out {
		d, ok := l.straight(w[i], w[i+1])
		if !ok {
			known, out[i].unknown = false, true
			continue
		}
		out[i].length = d
		whole += d
	}
	known = known && unit.Finite(whole)
	for i := range out {
		out[i].share = 1 / float64(n)
		if known && whole > 0 {
			out[i].share = float64(out[i].length / whole)
		}
	}
	if m, ok := measured(s); ok {
		for i := range out {
			out[i].length, out[i].unknown = unit.Length(float64(m)*out[i].share), false
		}
	}
	return out, whole, known
}

// measured is the length by string.
func measured(s *design.Stretch) (unit.Length, bool) {
	m := s.Length.Nominal
	return m, s.Length.Given && unit.Finite(m) && m > 0
}

// seat finds where splices along runs sit. A run may start at such a splice, so places are found until no new one turns up.
func (l *layer) seat() {
	var along []*design.Splice
	for _, s := range l.job.Splices {
		if s.Along != "" && l.run(s.Along) != nil {
			along = append(along, s)
		}
	}
	slices.SortStableFunc(along, func(a, b *design.Splice) int { return design.Natural(a.Name, b.Name) })
	for range len(along) + 1 {
		l.seats, l.aliases = map[seatKey][]seat{}, map[string]string{}
		l.geo.Beyond = nil
		news := false
		for _, s := range along {
			news = l.seatOne(s) || news
		}
		if !news {
			break
		}
	}
	for _, s := range along {
		key := spliceKey(s)
		if !l.seated(key) {
			l.geo.Unplaced = append(l.geo.Unplaced, Unplaced{Node: key, Run: s.Along, Span: s.Span})
		}
	}
}

func (l *layer) run(name string) *design.Run {
	for _, r := range l.runs {
		if r.Name == name {
			return r
		}
	}
	return nil
}

func spliceKey(s *design.Splice) string {
	if s.Node != "" {
		return s.Node
	}
	return s.Name
}

func (l *layer) seated(key string) bool {
	if _, ok := l.aliases[key]; ok {
		return true
	}
	for _, w := range l.keys {
		for _, keys := range w {
			if slices.Contains(keys, key) {
				return true
			}
		}
	}
	for _, seats := range l.seats {
		if slices.ContainsFunc(seats, func(s seat) bool { return s.key == key }) {
			return true
		}
	}
	return false
}

// seatOne seats a splice by its distance from the run's beginning, counted on through stretches that go on where the one before
// ended. It tells whether coordinates became known that were not.
func (l *layer) seatOne(s *design.Splice) (news bool) {
	r, key := l.run(s.Along), spliceKey(s)
	left := s.After
	if !(left > 0) || !unit.Finite(left) {
		left = 0
	}
	var gone unit.Length
	end, endStretch := "", -1
	for i, w := range l.keys[r] {
		if i > 0 && (len(w) == 0 || w[0] != end) {
			break
		}
		ps, _, _ := l.pieces(w, &r.Stretches[i])
		var station unit.Length
		for j, p := range ps {
			if p.unknown {
				return false
			}
			if left <= p.length+near {
				return l.put(r, i, w, j, p, station, left, key)
			}
			left -= p.length
			station += p.length
		}
		gone += station
		if len(w) > 0 {
			end, endStretch = w[len(w)-1], i
		}
	}
	if endStretch < 0 || end == "" {
		return false
	}
	l.geo.Beyond = append(l.geo.Beyond, Beyond{Splice: s.Name, Run: r.Name, After: s.After, Length: gone, Span: s.Span})
	return l.alias(key, end)
}

// put seats a splice on piece j of a stretch, or at the node it falls on.
func (l *layer) put(r *design.Run, i int, w way, j int, p piece, station, into unit.Length, key string) bool {
	if slices.Contains(w, key) {
		return false
	}
	switch {
	case into <= near:
		return l.alias(key, w[j])
	case into >= p.length-near:
		return l.alias(key, w[j+1])
	}
	k := seatKey{r, i}
	for _, other := range l.seats[k] {
		if d := other.after - (station + into); d <= near && d >= -near {
			return l.alias(key, other.key)
		}
	}
	l.seats[k] = append(l.seats[k], seat{key, station + into})
	a, okA := l.at[w[j]]
	b, okB := l.at[w[j+1]]
	if !okA || !okB {
		return false
	}
	return l.know(key, on(a, b, float64(into/p.length)))
}

// alias lets a splice share a node.
func (l *layer) alias(key, node string) bool {
	if key == node {
		return false
	}
	l.aliases[key] = node
	if p, ok := l.at[node]; ok {
		return l.know(key, p)
	}
	return false
}

func (l *layer) know(key string, p design.Point3) bool {
	if old, ok := l.at[key]; ok && old == p {
		return false
	}
	l.at[key] = p
	return true
}

// node is the key under which a place is a node.
func (l *layer) node(key string) string {
	for range len(l.aliases) + 1 {
		n, ok := l.aliases[key]
		if !ok {
			return key
		}
		key = n
	}
	return key
}

// Between is the distance of two points.
func Between(a, b design.Point3) unit.Length {
	return unit.Length(math.Hypot(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)), float64(a.Z-b.Z)))
}

// on is the point at a share of the way from a to b.
func on(a, b design.Point3, share float64) design.Point3 {
	s := unit.Length(share)
	return design.Point3{X: a.X + unit.Length(s*(b.X-a.X)), Y: a.Y + unit.Length(s*(b.Y-a.Y)), Z: a.Z + unit.Length(s*(b.Z-a.Z))}
}
