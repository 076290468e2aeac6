package solve

import (
	"maps"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// group is one set of states of a device.
type group struct{ device, name string }

// nodeKey is the device and pin of a node, or a splice alone.
type nodeKey struct{ device, pin string }

// piece is an element before it is put in place.
type piece struct {
	Item
	From, To   int
	Resistance unit.Resistance
}

// positions is how the switches and relays stand, and which of the supplies that follow live.
type positions struct {
	state map[group]string // off where not named
	live  map[string]bool  // by device
}

// builder makes the network of a case in given positions.
//
// What joins a wire to what: at a device's cavity one mated contact pair, counted there and only there; at a stud one lug per
// wire; in a break one mated pair between the two wires of a crossing, the greater where their parts differ; at a stud post a
// lug per wire and the post between its halves; in a splice one crimp per wire.
type builder struct {
	*values
	*Network
	br     []branch
	knobs  []knob
	begins []int32           // by device: its first element, and at the end the one behind all
	nodes  map[nodeKey]int32 // until the net is laid
	known  map[nodeKey]int32 // those that were there before it, which others have too
	items  []Item            // room for those to come
	twin   *builder          // of another case or position, which has much of the same in the same order: that is shared
	met    int               // elements of the twin that were passed
	pos    positions
	spots  *spots
	fitted *fitted // what to give back
}

func (v *values) build(pos positions) *builder { return v.buildBeside(pos, nil) }

func (v *values) buildBeside(pos positions, twin *builder) *builder {
	l := v.lay()
	b := &builder{values: v, Network: &Network{Nodes: slices.Clone(l.Nodes)}, knobs: slices.Clone(l.knobs), nodes: map[nodeKey]int32{}, known: l.nodes, spots: l.spots, pos: pos,
		twin: twin, begins: make([]int32, 0, len(v.devices)+1)}
	n := 0
	for _, d := range v.devices {
		n += elementsOf(d)
	}
	b.room(n, l)
	for i, d := range v.devices {
		if twin != nil && i < len(twin.begins) {
			b.met = int(twin.begins[i])
		}
		b.begins = append(b.begins, int32(len(b.br)))
		b.device(d)
	}
	b.begins = append(b.begins, int32(len(b.br)))
	if v.bleeds {
		b.bleed()
	}
	return b
}

// lay is the wires, which lie the same in every position.
func (v *values) lay() *builder {
	if v.laid == nil {
		v.laid = &builder{values: v, Network: &Network{}, nodes: map[nodeKey]int32{}, spots: &spots{}, twin: v.twin}
		v.laid.wires()
		v.laid.share(v.twin)
		v.laid.items, v.laid.twin, v.twin = nil, nil, nil
	}
	return v.laid
}

// elementsOf is how many a device has at most.
func elementsOf(d *design.Device) int {
	n := len(d.Fuses) + len(d.Diodes) + 2*len(d.Supplies) + len(d.Draws) + len(d.Coils) // with what may bleed a supply
	for i := range d.Joins {
		n += len(d.Joins[i].Pins)
	}
	for i := range d.States {
		n += len(d.States[i].Pins)
	}
	return n
}

// room begins with the elements of another, nil: none, and makes room for some more.
func (b *builder) room(more int, l *builder) {
	n := more
	if l != nil {
		n += len(l.br)
	}
	b.Elements, b.Ohms, b.br = make([]Element, 0, n), make([]unit.Resistance, 0, n), make([]branch, 0, n)
	if l != nil {
		b.Elements, b.Ohms, b.br = append(b.Elements, l.Elements...), append(b.Ohms, l.Ohms...), append(b.br, l.br...)
	}
}

func (b *builder) fresh(name string) int {
	if k := len(b.Nodes); b.twin != nil && k < len(b.twin.Nodes) && b.twin.Nodes[k] == name {
		name = b.twin.Nodes[k]
	}
	b.Nodes = append(b.Nodes, name)
	return len(b.Nodes) - 1
}

func (b *builder) node(key nodeKey, name func() string) int {
	n, ok := b.known[key]
	if !ok {
		n, ok = b.nodes[key]
	}
	if !ok {
		n = int32(b.fresh(name()))
		b.nodes[key] = n
	}
	return int(n)
}

func (b *builder) pin(device, pin string) int {
	return b.node(nodeKey{device, pin}, func() string { return device + "." + pin })
}

func (b *builder) splice(name string) int {
	return b.node(nodeKey{pin: "splice\x00" + name}, func() string { return name }) // no pin has such a name
}

func (b *builder) ref(d *design.Device, p design.PinRef) int {
	if p.Device == "" {
		return b.pin(d.Name, p.Pin)
	}
	return b.pin(p.Device, p.Pin)
}

func (b *builder) put(e piece, x branch) {
	x.from, x.to = int32(e.From), int32(e.To)
	if x.law == ohmic {
		e.Resistance = unit.Resistance(1 / x.g)
	}
	b.Elements = append(b.Elements, Element{Item: b.item(&e.Item), From: e.From, To: e.To})
	b.Ohms = append(b.Ohms, e.Resistance)
	b.br = append(b.br, x)
}

// mostPassed is how many elements of its twin are looked through for one that is the same.
const mostPassed = 16

// share takes from another builder what came out the same, before anything is kept elsewhere.
func (b *builder) share(o *builder) {
	if o == nil {
		return
	}
	if len(b.Nodes) <= len(o.Nodes) && slices.Equal(b.Nodes, o.Nodes[:len(b.Nodes)]) {
		if b.Nodes = o.Nodes[:len(b.Nodes):len(b.Nodes)]; len(b.nodes) == len(o.nodes) && maps.Equal(b.nodes, o.nodes) {
			b.nodes = o.nodes
		}
	}
	if slices.Equal(b.Elements, o.Elements) {
		b.Elements = o.Elements
	}
	if b.spots != o.spots && slices.Equal(b.spots.wire, o.spots.wire) && slices.Equal(b.spots.ends, o.spots.ends) && slices.Equal(b.spots.crossed, o.spots.crossed) {
		b.spots = o.spots
	}
}

func (b *builder) item(x *Item) *Item {
	if b.twin != nil {
		rest := b.twin.Elements[min(b.met, len(b.twin.Elements)):]
		for k := range min(len(rest), mostPassed) {
			if *rest[k].Item == *x {
				b.met += k + 1
				return rest[k].Item
			}
		}
	}
	if len(b.items) == cap(b.items) { // in lots: nobody has one of them without the others
		b.items = make([]Item, 0, min(16+len(b.br), 512))
	}
	b.items = append(b.items, *x)
	return &b.items[len(b.items)-1]
}

// turned puts an element with the values that may vary; those without a spread are left out.
func (b *builder) turned(e piece, x branch, ks ...knob) {
	for _, k := range ks {
		if k.element = len(b.br); x.law != open && k.real() {
			b.knobs = append(b.knobs, k)
		}
	}
	b.put(e, x)
}

func (b *builder) passive(e piece, r ohms) {
	b.turned(e, resistor(0, 0, float64(r.now)), ohmKnob(joint, r))
}

// wires lays the wires with their terminations, then joins the halves of breaks and posts.
func (b *builder) wires() {
	if b.nt == nil {
		return
	}
	type post struct {
		name, cavity string
	}
	var posts []post
	halves := map[post][2]int{}
	ends := make([][2]int, len(b.nt.Wires))
	n := len(b.nt.Wires) + len(b.nt.Crossings)
	for i := range b.nt.Wires {
		for k := range b.nt.Wires[i].Ends {
			switch b.nt.Wires[i].Ends[k].Kind {
			case net.InCavity, net.OnStud, net.OnPost, net.InSplice:
				n++
			}
		}
	}
	b.room(n, nil)
	b.spots.wire, b.spots.ends = make([]int, 0, len(b.nt.Wires)), make([][2]int, 0, len(b.nt.Wires))
	for i := range b.nt.Wires {
		w := &b.nt.Wires[i]
		var joint [2]func()
		here := [2]int{-1, -1}
		for k := range w.Ends {
			t := &w.Ends[k]
			at := b.endScope(w, t)
			stop := piece{Item: Item{Wire: -1, Index: -1, Device: t.Device, Span: w.Span}}
			var r ohms
			far := -1
			switch t.Kind {
			case net.InCavity:
				stop.Kind, stop.Name = Contact, t.Device+"."+t.Pin
				far, r = b.pin(t.Device, t.Pin), b.contact(i, k, at)
			case net.OnStud:
				stop.Kind, stop.Name = Lug, t.Device+"."+t.Pin
				far, r = b.pin(t.Device, t.Pin), exactly(b.ohms("lug-resistance", at))
			case net.OnPost:
				p := post{t.Break, t.Cavity}
				h, ok := halves[p]
				if !ok {
					h = [2]int{-1, -1}
					posts = append(posts, p)
				}
				side := t.Half & 1
				if h[side] < 0 {
					h[side] = b.fresh(b.half(t.Break, side))
				}
				halves[p] = h
				stop.Kind, stop.Name = Lug, t.Break
				far, r = h[side], exactly(b.ohms("lug-resistance", at))
			case net.InSplice:
				stop.Kind, stop.Name = SpliceJoint, t.Splice
				far, r = b.splice(t.Splice), exactly(b.ohms("splice-resistance", at))
			case net.InHalf:
				ends[i][k] = b.fresh(b.half(t.Break+cavityOf(t.Cavity), t.Half&1))
				continue
			default:
				ends[i][k] = b.fresh(w.Name + " cut back")
				continue
			}
			ends[i][k] = b.fresh(w.Name + " at " + stop.Name)
			stop.From, stop.To = far, ends[i][k]
			if k == 1 {
				stop.From, stop.To = stop.To, stop.From
			}
			r = r.aged(b.age(at))
			joint[k] = func() {
				if stop.Kind == Contact {
					here[k] = len(b.Elements)
				}
				b.passive(stop, r)
			}
		}
		if joint[0] != nil {
			joint[0]()
		}
		b.spots.wire = append(b.spots.wire, len(b.Elements))
		b.passive(piece{Item: Item{Kind: Wire, Name: w.Name, Wire: i, Index: -1, Span: w.Span}, From: ends[i][0], To: ends[i][1]}, exactly(b.wireOhms(i)))
		if joint[1] != nil {
			joint[1]()
		}
		b.spots.ends = append(b.spots.ends, here)
	}
	for i := range b.nt.Crossings {
		before := len(b.Elements)
		if b.crossing(&b.nt.Crossings[i], ends); len(b.Elements) == before {
			before = -1
		}
		b.spots.crossed = append(b.spots.crossed, before)
	}
	for _, p := range posts {
		h := halves[p]
		brk := b.breaks[p.name]
		if h[0] < 0 || h[1] < 0 || brk == nil {
			continue
		}
		at := design.Scope{Break: p.name, Class: brk.Class, Panel: brk.Panel}
		b.passive(piece{Item: Item{Kind: Post, Name: p.name, Wire: -1, Index: -1, Span: brk.Span}, From: h[0], To: h[1]},
			b.post(brk, p.cavity, at).aged(b.age(at)))
	}
}

func cavityOf(c string) string {
	if c == "" {
		return ""
	}
	return "." + c
}

func (b *builder) half(name string, side int) string {
	base := name
	for i := range base {
		if base[i] == '.' {
			base = base[:i]
			break
		}
	}
	if brk := b.breaks[base]; brk != nil {
		return name + " " + brk.Halves[side].Section
	}
	return name
}

// crossing mates the two wires of a passage. Each crossing has contacts of its own, even where two want one cavity.
func (b *builder) crossing(c *net.Crossing, ends [][2]int) {
	at, r, ok := b.mated(c)
	if !ok {
		return
	}
	e := piece{Item: Item{Kind: Contact, Name: c.Break + cavityOf(c.Cavity), Wire: -1, Index: -1, Span: c.Span}, From: ends[c.Wires[0]][at[0]], To: ends[c.Wires[1]][at[1]]}
	b.passive(e, r)
}

// mated is the ends of the two wires that a crossing joins, and the contact there, the greater where their parts differ; not ok where
// there are none.
func (b *builder) mated(c *net.Crossing) (at [2]int, r ohms, ok bool) {
	for side, w := range c.Wires {
		if w < 0 || w >= len(b.nt.Wires) {
			return at, r, false
		}
		k := endIn(&b.nt.Wires[w], c, side)
		if k < 0 {
			return at, r, false
		}
		at[side] = k
		wire := &b.nt.Wires[w]
		where := b.endScope(wire, &wire.Ends[k])
		r = r.worse(b.contact(w, k, where).aged(b.age(where)))
	}
	return at, r, true
}

// endIn finds which end of a wire sits in a half of the crossing's break; -1 on a stud post, where the post joins.
func endIn(w *net.Wire, c *net.Crossing, side int) int {
	best := -1
	for k := range w.Ends {
		t := &w.Ends[k]
		if t.Kind != net.InHalf || t.Break != c.Break {
			continue
		}
		if t.Half == side && t.Cavity == c.Cavity {
			return k
		}
		if best < 0 || t.Half == side {
			best = k
		}
	}
	return best
}

func (b *builder) device(d *design.Device) {
	at := b.scope(d)
	between := func(kind ElementKind, i int, word, from, to string, span diag.Span) piece {
		name := d.Name
		if word != "" {
			name += " " + word
		}
		return piece{Item: Item{Kind: kind, Name: name + " " + from + " - " + to, Wire: -1, Device: d.Name, Index: i, Span: span}}
	}
	for i := range d.Joins {
		j := &d.Joins[i]
		r := exactly(b.ohms("joint-resistance", at)).aged(b.age(at))
		if j.Resistance.Given {
			r = spread(j.Resistance) // measured metal: age does not touch it
		}
		b.star(d, j.Pins, r, func(from, to string) piece { return between(Join, i, "joint", from, to, j.Span) })
	}
	for i := range d.States {
		s := &d.States[i]
		if b.standing(group{d.Name, s.Group}) != s.State {
			continue
		}
		r := exactly(b.ohms("contact-resistance", at))
		if s.Resistance.Given {
			r = spread(s.Resistance)
		}
		b.star(d, s.Pins, r.aged(b.age(at)), func(from, to string) piece { return between(Switch, i, s.StateRef.String(), from, to, s.Span) })
	}
	for i := range d.Fuses {
		f := &d.Fuses[i]
		r := exactly(b.ohms("fuse-resistance", at))
		if part := b.fuses[f.Part]; part.Given {
			r = spread(part)
		}
		e := between(Fuse, i, "fuse", f.From, f.To, f.Span)
		e.From, e.To = b.pin(d.Name, f.From), b.pin(d.Name, f.To)
		b.passive(e, r)
	}
	for i := range d.Diodes {
		x := &d.Diodes[i]
		e := between(Diode, i, "diode", x.From, x.To, x.Span)
		e.From, e.To = b.pin(d.Name, x.From), b.pin(d.Name, x.To)
		k := voltKnob(forward, diodeForward, diodeForward, diodeForward)
		if f := x.Forward; f.Given {
			k = voltKnob(forward, least(f), nominal(f), most(f))
		}
		e.Resistance = diodeResistance
		b.turned(e, branch{law: oneWay, g: 1 / float64(diodeResistance), e: k.value[asIs]}, k)
	}
	for i := range d.Supplies {
		s := &d.Supplies[i]
		e := between(Supply, i, "", written(d, s.From), written(d, s.To), s.Span)
		e.From, e.To = b.ref(d, s.From), b.ref(d, s.To)
		x, inside, ks := b.supplyLaw(d, i)
		e.Resistance = inside
		b.turned(e, x, ks[:]...)
	}
	for i := range d.Draws {
		b.load(d, &d.Draws[i], between(Load, i, "", written(d, d.Draws[i].From), written(d, d.Draws[i].To), d.Draws[i].Span))
	}
	for i := range d.Coils {
		l := &d.Coils[i].Draw
		b.coil(d, &d.Coils[i], between(Coil, i, "coil", written(d, l.From), written(d, l.To), l.Span))
	}
}

// supplyLaw is the law of a supply, and its inside as the job says it.
func (b *builder) supplyLaw(d *design.Device, i int) (x branch, stated unit.Resistance, ks [2]knob) {
	s := &d.Supplies[i]
	inside, set := ohmKnob(insideOhms, b.inside(d, i)), b.setSpread(d, i)
	x = branch{law: source, g: inside.value[asIs], e: set.value[asIs], most: math.Inf(1)}
	if s.Most.Given {
		x.most = within(float64(nominal(s.Most)), 0, mostAmps)
	}
	if !b.connected(d) && !b.pos.live[d.Name] {
		x.law = open
	}
	return x, unit.Resistance(inside.stated[asIs]), [2]knob{set, inside}
}

// coil is a load that takes its starting current until its armature has moved: a starter's solenoid must pull in at the volts which
// that leaves it, and one that does not goes on drawing it.
func (b *builder) coil(d *design.Device, c *design.Coil, e piece) {
	e.From, e.To = b.ref(d, c.From), b.ref(d, c.To)
	x, k := b.coilLaw(d, c)
	b.turned(e, x, k)
}

func (b *builder) coilLaw(d *design.Device, c *design.Coil) (branch, knob) {
	m := d.Moves(c)
	if !c.Start.Given || !(most(c.Start) > 0) || m.State == "" || b.off[d.Name] || b.stated[group{d.Name, m.Group}] || b.standing(group{d.Name, m.Group}) == m.State {
		return b.loadLaw(d, &c.Draw)
	}
	return b.values.starting(d, &c.Draw)
}

func (b *builder) load(d *design.Device, l *design.Draw, e piece) {
	e.From, e.To = b.ref(d, l.From), b.ref(d, l.To)
	x, k := b.loadLaw(d, l)
	b.turned(e, x, k)
}

func (b *builder) loadLaw(d *design.Device, l *design.Draw) (branch, knob) {
	x, k := b.values.load(d, l)
	if b.off[d.Name] {
		x = branch{law: open}
	}
	return x, k
}

// star joins pins: two by one resistance, more by one in each arm to a node inside.
func (b *builder) star(d *design.Device, pins []string, r ohms, name func(from, to string) piece) {
	if len(pins) == 2 {
		e := name(pins[0], pins[1])
		e.From, e.To = b.pin(d.Name, pins[0]), b.pin(d.Name, pins[1])
		b.passive(e, r)
		return
	}
	if len(pins) < 2 {
		return
	}
	middle := b.fresh(d.Name + " inside")
	for _, p := range pins {
		e := name(p, "inside")
		e.From, e.To = b.pin(d.Name, p), middle
		b.passive(e, r)
	}
}

// standing is the state of a group: as the case or a coil put it, else off.
func (b *builder) standing(g group) string {
	if s, ok := b.pos.state[g]; ok {
		return s
	}
	return "off"
}

// written is a pin as it was written inside its device.
func written(d *design.Device, p design.PinRef) string {
	if p.Device == "" || p.Device == d.Name {
		return p.Pin
	}
	return p.String()
}
