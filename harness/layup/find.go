package layup

import (
	"math"
	"strconv"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// finder holds the inputs with what is looked up often.
type finder struct {
	job     *design.Job
	net     *net.Net
	geo     *space.Geometry
	scopes  []design.Scope // by edge
	sizes   size.Sizes
	bundles *bundle.Bundles
	cable   map[string]*design.Cable
	cores   cores
	rings   rings
	words   map[[2]string]string
	things  map[key][]*Thing
	passing map[Passage]*Passage
	packed  int // circles packed so far for the cross-sections of bundles that are not in layers
	plan    *Plan
}

// Find lays up every run. Where the outside of a wire is not known its bundle is laid by hand and nothing is drawn.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, bundles *bundle.Bundles) *Plan {
	p := &Plan{}
	if job == nil || nt == nil || nt.Space == nil || bundles == nil || len(bundles.Edges) < len(nt.Space.Edges) {
		return p
	}
	f := &finder{job: job, net: nt, geo: nt.Space, scopes: net.EdgeScopes(job, nt.Space), sizes: sizes, bundles: bundles, cable: map[string]*design.Cable{}, cores: cores{}, rings: rings{}, words: map[[2]string]string{}, things: map[key][]*Thing{}, passing: map[Passage]*Passage{}, plan: p}
	for _, c := range job.Cables {
		f.cable[c.Name] = c
	}
	p.lays = make([]Lay, len(f.geo.Edges))
	for e := range p.lays {
		p.lays[e] = f.lay(e)
	}
	for e := 0; e < len(f.geo.Edges); {
		end := e + 1
		for end < len(f.geo.Edges) && f.geo.Edges[end].Run == f.geo.Edges[e].Run && f.geo.Edges[end].Stretch == f.geo.Edges[e].Stretch {
			end++
		}
		stretch := make([]int, 0, end-e)
		for ; e < end; e++ {
			stretch = append(stretch, e)
		}
		for _, laden := range bundles.Laden(stretch) {
			f.laden(laden)
		}
	}
	for i := range p.Trunks {
		if t := &p.Trunks[i]; t.Kind != Layers {
			f.spans(t.Edges)
		}
	}
	f.name()
	p.Trunks = design.Exact(p.Trunks)
	same := design.Once{}
	for i := range p.Trunks {
		t := &p.Trunks[i]
		same.Texts(&t.Why)
		t.Changes, t.Edges = design.Exact(t.Changes), design.Exact(t.Edges)
		for k := range t.Changes {
			c := &t.Changes[k]
			c.Leave, c.Join = design.Exact(c.Leave), design.Exact(c.Join)
		}
	}
	return p
}

// lay is an edge with what lies in it, before anything is laid up.
func (f *finder) lay(edge int) Lay {
	e, m := &f.geo.Edges[edge], &f.bundles.Edges[edge]
	l := Lay{Edge: edge, Trunk: -1, From: f.geo.Text(e.From), To: f.geo.Text(e.To), Length: e.Length, Pieces: f.pieces(edge), Unknown: m.Unknown, bare: m.Bare()}
	if !l.Unknown {
		l.Trade = max(m.Most, bundle.Trade(diameters(l.Pieces)))
	}
	return l
}

func (f *finder) rules(edge int) *rules {
	at := f.scopes[edge]
	number := func(name string, low, high float64) float64 {
		x := f.job.Settings.Get(name, at).Value.Quantity.Value
		if !(x >= low) {
			return low
		}
		return min(x, high)
	}
	return &rules{at: at, ratio: net.LayRatio(f.job, at), gap: number("lay-gap", 0.01, 1), open: number("lay-open", 0, 10), over: number("lay-over", 0, 10),
		heavy: number("lay-heavy", 1, 1e6), fills: number("lay-fillers", 0, 1e6), width: number("lay-flat-width", 0.1, 1e6)}
}

// laden lays up neighbouring edges of a stretch, all of which hold wires.
func (f *finder) laden(edges []int) {
	at := f.scopes[edges[0]]
	long := f.long(edges)
	// An edge is laid in layers where the part of the run that can be is long enough; auto gives up on what comes out too thick or too short for a turn.
	given := make([]string, len(edges)) // why an edge is laid by hand after all
	for {
		var parts [][]int
		before := -2
		for k, e := range edges {
			l := &f.plan.lays[e]
			if kind, _ := net.LayOf(f.job, at, long, len(l.Pieces)); kind != net.InLayers || given[k] != "" || l.Unknown {
				continue
			}
			if k != before+1 {
				parts = append(parts, nil)
			}
			parts[len(parts)-1] = append(parts[len(parts)-1], k)
			before = k
		}
		again := false
		for _, part := range parts {
			own := make([]int, len(part))
			for i, k := range part {
				own[i] = edges[k]
			}
			auto := true
			for _, k := range part {
				kind, r := net.LayOf(f.job, at, f.long(own), len(f.plan.lays[edges[k]].Pieces))
				auto = r.Value.Name == "auto"
				if kind != net.InLayers {
					given[k], again = "the "+whole(f.long(own))+" of it with wires enough for layers are too short", true
				}
			}
			if again {
				continue
			}
			for i, why := range f.inLayers(own, auto) {
				if why != "" {
					given[part[i]], again = why, true
				}
			}
		}
		if !again {
			break
		}
		for _, e := range edges {
			f.plan.lays[e] = f.lay(e)
		}
	}
	for k, e := range edges {
		if f.plan.lays[e].Kind != Layers {
			f.loosely(e, at, long)
		}
		f.most(&f.plan.lays[e])
		f.trunk(edges, k, given[k], long)
	}
}

func (f *finder) long(edges []int) (sum unit.Length) {
	for _, e := range edges {
		sum += f.geo.Edges[e].Length
	}
	return sum
}

// trunk puts an edge to the trunk of the edge before it, or begins one.
func (f *finder) trunk(edges []int, k int, why string, long unit.Length) {
	l := &f.plan.lays[edges[k]]
	e := &f.geo.Edges[edges[k]]
	if k > 0 {
		if t := &f.plan.Trunks[len(f.plan.Trunks)-1]; t.Kind == l.Kind {
			l.Trunk = len(f.plan.Trunks) - 1
			t.Edges, t.Length, t.To = append(t.Edges, l.Edge), t.Length+l.Length, l.To
			if most := &f.plan.lays[t.Most]; len(l.Pieces) > len(most.Pieces) {
				t.Most = l.Edge
			}
			if c, ok := f.change(e.From, &f.plan.lays[edges[k-1]], l); ok {
				t.Changes = append(t.Changes, c)
			}
			return
		}
	}
	l.Trunk = len(f.plan.Trunks)
	f.plan.Trunks = append(f.plan.Trunks, Trunk{Run: e.Run, Stretch: e.Stretch, Section: e.Section, From: l.From, To: l.To, Kind: l.Kind, Edges: []int{l.Edge}, Length: l.Length, Most: l.Edge,
		Why: f.why(l, e, why, long)})
}

// inLayers lays up neighbouring edges in layers. It begins where most lies, and goes on from there both ways; what goes on keeps its layer where
// it can. With auto it says for each edge why it would rather be laid by hand, empty where it would not.
func (f *finder) inLayers(edges []int, auto bool) (why []string) {
	why = make([]string, len(edges))
	spans := f.spans(edges)
	begin := 0
	for k, e := range edges {
		if len(f.plan.lays[e].Pieces) > len(f.plan.lays[edges[begin]].Pieces) {
			begin = k
		}
	}
	stacks := make([]*stack, len(edges))
	rules := f.rules(edges[0])
	at := func(k, beside int) {
		l := &f.plan.lays[edges[k]]
		s := f.stacker(l, edges, spans, rules)
		order := f.order(l, edges, spans, rules)
		if beside >= 0 {
			stacks[k] = f.onFrom(s, order, &f.plan.lays[edges[beside]], stacks[beside], l)
		}
		many := func() bool { return float64(stacks[k].fills) > rules.fills*float64(len(order)) }
		if stacks[k] == nil || stacks[k].radius > s.limit*(1+1e-9) || many() {
			if x := s.search(order); stacks[k] == nil || s.better(x, stacks[k]) {
				stacks[k] = x
			}
		}
		if auto && many() {
			why[k] = "in layers it would take " + strconv.Itoa(stacks[k].fills) + " fillers"
		}
		if auto && stacks[k].radius > s.limit*(1+1e-9) {
			why[k] = "in layers it would be " + tenths(unit.Length(2*stacks[k].radius)) + " thick, " + percent(unit.Ratio(2*stacks[k].radius/float64(l.Trade))-1) + " more than by hand"
		}
	}
	at(begin, -1)
	for k := begin + 1; k < len(edges); k++ {
		at(k, k-1)
	}
	for k := begin - 1; k >= 0; k-- {
		at(k, k+1)
	}
	most := 0
	for _, s := range stacks {
		most = max(most, len(s.layers))
	}
	longest := unit.Length(0)
	for k, e := range edges {
		f.drawUp(&f.plan.lays[e], stacks[k], rules, most)
		for _, y := range f.plan.lays[e].Layers {
			longest = max(longest, y.Lay)
		}
	}
	if all := f.long(edges); auto && longest > all {
		for k := range why {
			why[k] = "its " + whole(all) + " are less than a turn of its outermost layer, " + whole(longest)
		}
	}
	return why
}

// onFrom keeps the layers of a neighbouring edge; nil where they cannot be kept.
func (f *finder) onFrom(s *stacker, order []int, from *Lay, of *stack, l *Lay) *stack {
	here := map[key]int{}
	for i := range l.Pieces {
		here[keyOf(&l.Pieces[i])] = i
	}
	kept := make([]bool, len(l.Pieces))
	layers := make([][]int, len(of.layers))
	// The pieces of from may stand in another order by now: it was drawn up only after this.
	for n, layer := range of.layers {
		for _, p := range layer {
			if i, ok := here[keyOf(&from.Pieces[p])]; ok && !kept[i] {
				layers[n], kept[i] = append(layers[n], i), true
			}
		}
	}
	var join []int
	for _, i := range order {
		if !kept[i] {
			join = append(join, i)
		}
	}
	return s.keep(layers, join)
}

// drawUp gives the layers of an edge their places, hands, lays and take-ups. The outermost of as many layers as the trunk has anywhere is
// left-hand, and each within it turns against the one around it: so a layer keeps its hand where those outside it have left.
func (f *finder) drawUp(l *Lay, s *stack, rules *rules, most int) {
	l.Kind, l.Placed = Layers, true
	pieces := l.Pieces
	l.Pieces, l.Layers = make([]Piece, 0, len(pieces)), make([]Layer, 0, len(s.layers))
	inside := 0.0
	for n, layer := range s.layers {
		y := Layer{Number: n + 1, Inside: unit.Length(2 * inside), Pieces: make([]int, 0, len(layer))}
		put := func(i int, x, yy float64) {
			p := pieces[i]
			p.X, p.Y, p.Layer = unit.Length(x), unit.Length(yy), n+1
			y.Pieces = append(y.Pieces, len(l.Pieces))
			l.Pieces = append(l.Pieces, p)
		}
		pitch, outside := 0.0, 0.0
		if n == 0 {
			c := f.cores.of((&stacker{r: radii(pieces)}).radii(layer))
			for k, i := range layer {
				put(i, float64(c.at[k].X), float64(c.at[k].Y))
			}
			pitch, outside = c.pitch, c.outside
		} else {
			ring := s.rings[n-1]
			angles, _ := spread(ring.base, ring.r)
			k := 0
			for i, a := range angles {
				from := ring.base + ring.r[i]
				x, yy := float64(from*math.Sin(a)), float64(from*math.Cos(a))
				if ring.fill[i] {
					y.Fillers, y.Diameter = append(y.Fillers, Filler{unit.Length(x), unit.Length(yy), unit.Length(2 * ring.r[i])}), unit.Length(2*ring.r[i])
				} else {
					put(layer[k], x, yy)
					k++
				}
				pitch, outside = max(pitch, from), max(outside, from+ring.r[i])
			}
			if ring.base > ring.in+slight {
				y.Built = unit.Length(2 * ring.base)
			}
			y.Gap = unit.Ratio(ring.gap)
		}
		y.Pitch, y.Outside = unit.Length(2*pitch), unit.Length(2*outside)
		if pitch > 0 {
			y.Lay = unit.Length(math.Ceil(float64(rules.ratio)*float64(y.Outside) - 1e-9))
			y.TakeUp = unit.Ratio(math.Hypot(1, math.Pi*float64(y.Pitch/y.Lay)) - 1)
			y.Hand = Left
			if (most-n-1)%2 == 1 {
				y.Hand = Right
			}
		}
		for _, k := range y.Pieces {
			l.Pieces[k].TakeUp = y.TakeUp
		}
		l.TakeUp = max(l.TakeUp, y.TakeUp)
		l.Layers = append(l.Layers, y)
		inside = outside
		l.Outside = y.Outside
	}
}

func diameters(pieces []Piece) []unit.Length {
	out := make([]unit.Length, len(pieces))
	for i := range pieces {
		out[i] = pieces[i].Diameter
	}
	return out
}

func radii(pieces []Piece) []float64 {
	out := make([]float64, len(pieces))
	for i := range pieces {
		out[i] = float64(pieces[i].Diameter) / 2
	}
	return out
}
