package reviewbook

import (
	"slices"
	"strconv"

	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// held is a load in a case with the limit that leaves it least room.
type held struct {
	c     *solve.CaseResult
	start string // the device that starts; empty for the steady state
	load  *solve.LoadResult
	limit fit.Limit
	has   bool // there is a limit
}

// take puts the limit with least room, and the load as it was solved where that limit is worst.
func (h *held) take(ls []fit.Limit) {
	if h.limit, h.has = least(ls); h.has && h.limit.Corner != nil {
		h.load = &h.limit.Corner.Load
	}
}

func (h *held) room() unit.Voltage { return -h.limit.Over() }

// of is the volts that a share of this load's drop refers to.
func (h *held) of() unit.Voltage {
	if h.limit.Of > 0 {
		return h.limit.Of
	}
	return h.load.At
}

// both is what is lost out and back.
func both(l *solve.LoadResult) unit.Voltage { return l.FeedDrop + l.ReturnDrop }

// tighter tells whether a leaves less room than o; without a limit the one that loses more.
func (h *held) tighter(o *held) bool {
	switch {
	case h.has != o.has:
		return h.has
	case h.has:
		return unit.WorseBy(o.room(), h.room(), alikeVolts)
	}
	return unit.WorseBy(both(h.load), both(o.load), alikeVolts)
}

// alikeVolts is what a difference of two voltages may be that are equal.
const alikeVolts unit.Voltage = 1e-9

type loadKey struct {
	device string
	coil   bool
	index  int
}

func keyOf(l *solve.LoadResult) loadKey { return loadKey{l.Device, l.Coil, l.Index} }

// stray tells whether current reaches a load only through other loads, as in lamps in series behind an open switch: it is off, not
// short of volts, and no limit is asked of it.
func stray(nw *solve.Network, l *solve.LoadResult) bool {
	if nw == nil {
		return false
	}
	for _, way := range [][]solve.Step{l.Feed, l.Return} {
		for _, s := range way {
			if s.Element < 0 || s.Element >= len(nw.Elements) {
				continue
			}
			if k := nw.Elements[s.Element].Kind; k == solve.Load || k == solve.Coil {
				return true
			}
		}
	}
	return false
}

// loadRow is a load over all cases: its worst, steady or starting, and its worst steady one.
type loadRow struct {
	name          string
	worst, steady *held
	most          *startRow // with the greatest current, while the load's own device starts
}

// startRow is a load while a device starts.
type startRow struct {
	held
	before *solve.LoadResult
	net    *solve.Network
	own    bool // it is a load of the device that starts
	others int  // of the one that dips most of so many that are not judged: of those no other is kept
}

// dip is the volts that a load loses to what starts.
func (s *startRow) dip() unit.Voltage { return s.before.Volts - s.load.Volts }

// least is the limit that leaves least room.
func least(ls []fit.Limit) (l fit.Limit, ok bool) {
	for i, x := range ls {
		if i == 0 || unit.WorseBy(x.Over(), l.Over(), alikeVolts) {
			l = x
		}
	}
	return l, len(ls) > 0
}

// judge holds every load against its limits in every case and while every device starts.
func (b *book) judge() {
	byKey := map[loadKey]*loadRow{}
	for _, c := range b.in.Cases {
		steady := map[loadKey]*solve.LoadResult{}
		for i := range c.Loads {
			l := &c.Loads[i]
			k := keyOf(l)
			steady[k] = l
			r := byKey[k]
			if r == nil {
				r = &loadRow{name: b.loadName(l)}
				byKey[k] = r
				b.loads = append(b.loads, r)
			}
			if !l.Fed || l.Rests || stray(c.Net, l) {
				continue
			}
			h := &held{c: c, load: l}
			limits := b.limits.Limits(c, i)
			b.steady.add(limits)
			h.take(limits)
			if r.steady == nil || h.tighter(r.steady) {
				r.steady = h
			}
		}
		told := c.StartLoads()
		for i := range c.Starts {
			st := &c.Starts[i]
			first, counts := len(b.starts), false
			var most startRow
			for _, j := range told[i] {
				l := st.Load(j)
				before := steady[keyOf(l)]
				if before == nil || stray(c.Net, before) || stray(st.Net, l) {
					continue
				}
				s := startRow{held: held{c: c, start: st.Device, load: l}, before: before, net: st.Net, own: l.Device == st.Device}
				s.take(b.limits.StartLimits(c, i, j))
				counts = counts || s.own && l.Fed || s.has && !s.limit.Met()
				switch {
				case s.own && s.load.Fed || s.has:
					b.starts = append(b.starts, s)
				case !s.load.Fed || !before.Fed || before.Rests:
				case most.others == 0 || unit.WorseBy(s.dip(), most.dip(), alikeVolts):
					s.others = most.others + 1
					most = s
				default:
					most.others++
				}
			}
			if most.others > 0 {
				b.starts = append(b.starts, most)
			}
			if !counts { // what starts is fed through other loads only
				b.starts = b.starts[:first]
			}
		}
	}
	for i := range b.starts {
		s := &b.starts[i]
		r := byKey[keyOf(s.load)]
		if s.has && (r.worst == nil || s.tighter(r.worst)) {
			r.worst = &s.held
		}
		if s.own && s.load.Fed && len(s.load.Feed)+len(s.load.Return) > 0 && (r.most == nil || unit.Worse(s.load.Amps, r.most.load.Amps)) {
			r.most = s
		}
	}
	for _, r := range b.loads {
		if r.steady != nil && (r.worst == nil || r.steady.tighter(r.worst)) {
			r.worst = r.steady
		}
	}
	slices.SortStableFunc(b.loads, func(x, y *loadRow) int { return unit.Compare(x.rank(), y.rank()) })
}

// rank sorts by room as a share of the volts of the load, least first; loads without a limit, then those never fed, come last.
func (r *loadRow) rank() float64 {
	switch {
	case r.worst == nil:
		return 3e9
	case !r.worst.has:
		return 2e9
	case !unit.Finite(r.worst.room()):
		return -1e9
	}
	return float64(r.worst.room()) / max(float64(r.worst.of()), 1e-3)
}

// asked counts limits, those that are broken, and the things that they are asked of.
type asked struct{ things, limits, broken int }

func (t *asked) add(limits []fit.Limit) {
	if len(limits) > 0 {
		t.things++
	}
	for i := range limits {
		t.limits++
		if !limits[i].Met() {
			t.broken++
		}
	}
}

func (b *book) steadyVerdict() string {
	return verdictText(b.steady.things, "load in a case", "loads in cases", b.steady.limits, b.steady.broken)
}

func (b *book) startVerdict() string {
	judged, broken := 0, 0
	for i := range b.starts {
		if s := &b.starts[i]; s.has {
			judged++
			if !s.limit.Met() {
				broken++
			}
		}
	}
	if judged == 0 {
		return "nothing was judged: no load that is fed while something starts has least-start-volts set"
	}
	return verdictText(judged, "load in a start", "loads in starts", judged, broken)
}

func verdictText(things int, one, many string, limits, broken int) string {
	if things == 0 {
		return "nothing was judged"
	}
	word := many
	if things == 1 {
		word = one
	}
	s := strconv.Itoa(things) + " " + word + " held against " + strconv.Itoa(limits) + plural(limits, " limit", " limits")
	switch broken {
	case 0:
		return s + ", each met"
	case 1:
		return s + ", 1 not met"
	}
	return s + ", " + strconv.Itoa(broken) + " not met"
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
