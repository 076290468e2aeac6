package solve

import (
	"slices"
	"sync"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// Laid is a case laid once, to be solved again and again with other figures. What joins what, and every name, is worked out once for each
// position of its relays. It may be asked from several goroutines.
type Laid struct {
	base   *values
	follow []follower

	mu     sync.Mutex
	frames map[string]*frame
	kin    *kin
}

// kin is what the cases laid together share.
type kin struct {
	mu   sync.Mutex
	last *frame // laid last: the next one has most of it
}

// frame is the net of the case in one position, with the figures it was laid with.
type frame struct {
	*builder
	*layout
	*joints
	seats seats
	memo  memo
}

// spots is where the elements lie whose figures follow from the sizes.
type spots struct {
	wire    []int    // by wire
	ends    [][2]int // by wire and end: the contact at a device, -1 where there is none
	crossed []int    // by crossing, -1 where nothing is mated
}

// Lay makes a case ready.
func Lay(job *design.Job, nt *net.Net, sizes size.Sizes, c *design.Case) *Laid {
	if c == nil {
		c = &design.Case{}
	}
	if job == nil {
		job = &design.Job{}
	}
	v := newValues(job, nt, sizes, nil, c)
	return &Laid{base: v, follow: v.followers(), frames: map[string]*frame{}, kin: &kin{}}
}

// LayAll is LayTogether of all cases of a job.
func LayAll(job *design.Job, nt *net.Net, sizes size.Sizes) []*Laid {
	return LayTogether(job, nt, sizes, job.Cases)
}

// LayTogether is Lay of several cases. They share what is the same in all.
func LayTogether(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*design.Case) []*Laid {
	out := make([]*Laid, len(cases))
	for i, c := range cases {
		if out[i] = Lay(job, nt, sizes, c); i > 0 {
			out[i].base.twin, out[i].kin = out[0].base.lay(), out[0].kin
		}
	}
	return out
}

// Figures is what a laid case is solved with. It may differ from what was laid in figures alone: sizes and the contacts chosen for them,
// temperatures, lengths of wires, what devices draw and their supplies give, and at which volts the case holds these; never in what there is, what joins
// what, how it stands, parts or settings.
type Figures struct {
	Job   *design.Job
	Net   *net.Net
	Sizes size.Sizes
	Temps []unit.Temperature
	Case  *design.Case
	// Only, where it is not empty, names the devices whose loads are wanted: of all others Loads holds no more than which they are.
	Only []string
}

// Case is that of the figures, as Case finds it.
func (l *Laid) Case(f Figures) *CaseResult {
	if f.Job == nil || f.Case == nil {
		return Case(f.Job, f.Net, f.Sizes, f.Temps, f.Case)
	}
	v := l.with(f)
	return v.result(v.settle())
}

// with is what the figures say, and that the net is laid, if it is.
func (l *Laid) with(f Figures) *values {
	v := l.base.but(f)
	if v.only = f.Only; slices.EqualFunc(v.followers(), l.follow, func(a, b follower) bool { return a.d.Name == b.d.Name && a.coil == b.coil }) {
		v.like = l
	}
	return v
}

// stand is the net with the followers as they are, and where they lie; where it was laid before the frame of that.
func (v *values) stand(fs []follower, on []bool) (*builder, *layout, seats, *frame) {
	pos := v.positions(fs, on)
	if v.like == nil {
		b := v.build(pos)
		return b, newLayout(len(b.Nodes), b.br), b.seats(fs), nil
	}
	f := v.like.frame(bits(on), pos)
	return v.refit(f, pos), f.layout, f.seats, f
}

func (l *Laid) frame(key string, pos positions) *frame {
	l.mu.Lock()
	defer l.mu.Unlock()
	f := l.frames[key]
	if f == nil {
		l.kin.mu.Lock()
		defer l.kin.mu.Unlock()
		f = l.base.framed(pos, l.follow, l.kin.last)
		l.frames[key], l.kin.last = f, f
	}
	return f
}

func (v *values) framed(pos positions, fs []follower, last *frame) *frame {
	var twin *builder
	if last != nil {
		twin = last.builder
	}
	b := v.buildBeside(pos, twin)
	b.share(twin)
	// To stay, and no more to come.
	b.nodes, b.known, b.items, b.twin = nil, nil, nil, nil
	b.Nodes, b.knobs, b.Elements, b.Ohms, b.br = slices.Clip(b.Nodes), slices.Clip(b.knobs), slices.Clip(b.Elements), slices.Clip(b.Ohms), slices.Clip(b.br)
	if l := v.laid; l != nil { // it lies at the front of the frame
		n := len(l.br)
		l.Nodes, l.Elements, l.Ohms, l.br = b.Nodes[:len(l.Nodes):len(l.Nodes)], b.Elements[:n:n], b.Ohms[:n:n], b.br[:n:n]
	}
	return &frame{builder: b, layout: newLayout(len(b.Nodes), b.br), joints: newJoints(b.Network), seats: b.seats(fs)}
}

// fitted is what a net is solved with and nobody keeps.
type fitted struct {
	br   []branch
	ohms []unit.Resistance
}

var fittings = sync.Pool{New: func() any { return new(fitted) }}

// done gives back the laws of a net that was fitted, and its resistances where nobody has the net.
func (b *builder) done(net bool) {
	if b.fitted == nil {
		return
	}
	b.fitted.br, b.br = b.br, nil
	if net {
		b.fitted.ohms, b.Ohms = b.Ohms, nil
	}
	fittings.Put(b.fitted)
	b.fitted = nil
}

// refit is a frame with the figures of v.
func (v *values) refit(f *frame, pos positions) *builder {
	room := fittings.Get().(*fitted)
	b := &builder{values: v, Network: &Network{Nodes: f.Nodes, Elements: f.Elements, Ohms: append(room.ohms[:0], f.Ohms...)}, br: append(room.br[:0], f.br...), knobs: f.knobs, spots: f.spots, pos: pos, fitted: room}
	room.br, room.ohms = nil, nil
	was := f.values
	var fresh []knob
	renewed := map[int]bool{}
	renew := func(e int, x branch, ohms unit.Resistance, ks ...knob) {
		x.from, x.to = b.br[e].from, b.br[e].to
		if x.law == ohmic {
			ohms = unit.Resistance(1 / x.g)
		}
		b.br[e], b.Ohms[e] = x, ohms
		if ks == nil {
			return
		}
		renewed[e] = true
		for _, k := range ks {
			if k.element = e; x.law != open && k.real() {
				fresh = append(fresh, k)
			}
		}
	}
	passive := func(e int, r ohms) { renew(e, resistor(0, 0, float64(r.now)), 0, ohmKnob(joint, r)) }
	changed := make([]bool, len(f.spots.wire))
	for i, e := range f.spots.wire {
		renew(e, resistor(0, 0, float64(v.wireOhms(i))), 0)
		for k := range f.spots.ends[i] {
			if contactOf(v.sizes, i, k) == contactOf(was.sizes, i, k) {
				continue
			}
			changed[i] = true
			if n := f.spots.ends[i][k]; n >= 0 {
				w := &v.nt.Wires[i]
				at := v.endScope(w, &w.Ends[k])
				passive(n, v.contact(i, k, at).aged(v.age(at)))
			}
		}
	}
	for i, e := range f.spots.crossed {
		c := &v.nt.Crossings[i]
		if e < 0 || !changed[c.Wires[0]] && !changed[c.Wires[1]] {
			continue
		}
		if _, r, ok := b.mated(c); ok {
			passive(e, r)
		}
	}
	for i, d := range v.devices {
		own := d != was.devices[i] || v.top != was.top || len(d.Supplies) > 0 && v.c != was.c
		if !own {
			continue
		}
		for e := int(f.begins[i]); e < int(f.begins[i+1]); e++ {
			switch x := &b.Elements[e]; x.Kind {
			case Supply:
				law, inside, ks := b.supplyLaw(d, x.Index)
				renew(e, law, inside, ks[0], ks[1])
			case Load:
				law, k := b.loadLaw(d, &d.Draws[x.Index])
				renew(e, law, 0, k)
			case Coil:
				law, k := b.coilLaw(d, &d.Coils[x.Index])
				renew(e, law, 0, k)
			}
		}
	}
	if len(renewed) > 0 {
		b.knobs = nil
		for _, k := range f.knobs {
			if !renewed[k.element] {
				b.knobs = append(b.knobs, k)
			}
		}
		b.knobs = append(b.knobs, fresh...)
		slices.SortStableFunc(b.knobs, func(x, y knob) int { return x.element - y.element })
	}
	return b
}

func contactOf(sizes size.Sizes, wire, end int) string {
	if wire < len(sizes) {
		return sizes[wire].Contacts[end]
	}
	return ""
}

// wanted tells whether the loads of a device are asked for.
func (v *values) wanted(device string) bool {
	return len(v.only) == 0 || slices.Contains(v.only, device)
}
