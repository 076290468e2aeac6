package space

import (
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
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
	held map[string]bool // keys at which a way keeps its corner
	// settled splices by run and stretch
	seats   map[seatKey][]seat
	aliases map[string]string
	named   map[string]bool // keys that ways lead over or splices sit at, once all seats are found
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
// second waypoint without a name of run tunnel), and splices that sit part-way along a run. Waypoints are rounded, things are passed
// through: see the package. Where the whole stretch was measured by string, the measured length is shared out over its pieces by their
// lengths along the coordinates, and so is slack. A length that cannot be known is marked Unknown and reported as Unplaced.
func Lay(job *design.Job) *Geometry {
	l := &layer{job: job, keys: map[*design.Run][]way{}, at: map[string]design.Point3{}, geo: &Geometry{}}
	for _, r := range job.Runs {
		l.runs = append(l.runs, r)
	}
	slices.SortStableFunc(l.runs, func(a, b *design.Run) int { return design.Natural(a.Name, b.Name) })
	l.name()
	l.places()
	l.hold()
	l.seat()
	l.build()
	l.geo.buildIndex()
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
	return p, s.Known && solid.Known(p)
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

// most is the longest length that is taken for one, a million kilometres: sums of such are finite.
const most unit.Length = 1e12

// measured is the length by string.
func measured(s *design.Stretch) (unit.Length, bool) {
	m := s.Length.Nominal
	return m, s.Length.Given && m > 0 && m <= most
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
	l.named = map[string]bool{}
	for _, w := range l.keys {
		for _, keys := range w {
			for _, k := range keys {
				l.named[k] = true
			}
		}
	}
	for _, seats := range l.seats {
		for _, s := range seats {
			l.named[s.key] = true
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
	if i, ok := slices.BinarySearchFunc(l.runs, name, func(r *design.Run, n string) int { return design.Natural(r.Name, n) }); ok {
		return l.runs[i]
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
	return l.named[key]
}

// seatOne seats a splice by its distance from the run's beginning, counted on through stretches that go on where the one before
// ended, or from the beginning of the first stretch that ends where it says. It tells whether coordinates became known that were not.
func (l *layer) seatOne(s *design.Splice) (news bool) {
	r, key := l.run(s.Along), spliceKey(s)
	left := s.After
	if !(left > 0) || !unit.Finite(left) {
		left = 0
	}
	var gone unit.Length
	end, endStretch := "", -1
	for i, w := range l.keys[r] {
		if s.To != "" {
			if endStretch >= 0 {
				break
			}
			if len(w) == 0 || w[len(w)-1] != s.To {
				continue
			}
		} else if i > 0 && (len(w) == 0 || w[0] != end) {
			break
		}
		var station unit.Length
		for j, p := range l.course(r, i).pieces {
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
	return l.alias(key, end, piece{}, 0)
}

// put seats a splice on piece j of a stretch, or at the node it falls on.
func (l *layer) put(r *design.Run, i int, w way, j int, p piece, station, into unit.Length, key string) bool {
	if slices.Contains(w, key) {
		return false
	}
	switch {
	case into <= near:
		return l.alias(key, w[j], p, 0)
	case into >= p.length-near:
		return l.alias(key, w[j+1], p, p.length)
	}
	k := seatKey{r, i}
	after := even(station + into)
	for _, other := range l.seats[k] {
		if d := other.after - after; d <= near && d >= -near {
			return l.alias(key, other.key, p, into)
		}
	}
	l.seats[k] = append(l.seats[k], seat{key, after})
	if len(p.way) == 0 {
		return false
	}
	at, _ := p.way.At(p.on(into))
	return l.know(key, at)
}

// alias lets a splice share a node. It sits on the way all the same: in the middle of the arc, where the node is a waypoint.
func (l *layer) alias(key, node string, p piece, into unit.Length) bool {
	if key == node {
		return false
	}
	l.aliases[key] = node
	if len(p.way) > 0 {
		at, _ := p.way.At(p.on(into))
		return l.know(key, at)
	}
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
func Between(a, b design.Point3) unit.Length { return solid.Between(a, b) }
