package heat

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

// plainRises looks at every wire of a place for every start there, each from the beginning.
func plainRises(s *solver, x *stand, limits, sq []float64) (out []rise) {
	p, m, ta := x.place, x.model, x.air()
	st := m.solve(ta, sq)
	most := make([]rise, len(p.known))
	for n, start := range s.cur[x.given].starts {
		amps, up, added := make([]unit.Current, len(sq)), slices.Clone(sq), 0.0
		for k, i := range p.known {
			for _, l := range s.cur[x.given].lifts.of(i) {
				if int(l.start) == n {
					amps[k] = l.amps
				}
			}
			if more := square(amps[k]) - sq[k]; more > unit.Alike*sq[k] {
				up[k] += share(start.d, 0, s.tau(p, m, k, ta, limits[k], 0)) * more
				added += (up[k] - sq[k]) * p.strands[k].r20 * factor(limits[k])
			}
		}
		slow, beside := m.solve(ta, up), 0.0
		if added > littleHeat {
			beside = math.Max(0, slow.inside(m)-st.inside(m))
		}
		for k, i := range p.known {
			top := st.temps[k]
			if full := square(amps[k]); unit.Worse(full, sq[k]) {
				top = after(top, full, p.strands[k].r20, copperCapacity*float64(data.Copper.HeatCapacity)*float64(s.conds[i].Size.Area())*1e-6, start.d)
			}
			top += beside
			if top > limits[k] && added > 0 {
				top = math.Min(top, slow.temps[k])
			}
			if r := top - st.temps[k]; unit.WorseBy(r, most[k].by, leastRise) {
				most[k] = rise{k: int32(k), start: int32(n), by: r}
			}
		}
	}
	return slices.DeleteFunc(most, func(r rise) bool { return !(r.by > 0) })
}

// What starts do at a place is what looking at all wires for all starts finds, to the bit, whatever lay on the desk before.
func TestRisesAsPlain(t *testing.T) {
	capped, beside := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		b, cases, duty := anywhere(t)
		k := Keep(b.job, b.nt, cases, duty)
		c := &k.cur[1]
		c.lifts = lifts{from: []int32{0}}
		c.starts = nil
		for range rapid.IntRange(1, 5).Draw(t, "starts") {
			c.starts = append(c.starts, start{device: "motor", d: unit.Time(rapid.SampledFrom([]float64{0.2, 1, 1, 30}).Draw(t, "for"))})
		}
		for i := range b.conds {
			for n := range c.starts {
				if rapid.IntRange(0, 2).Draw(t, "lifted") == 0 {
					c.lifts.all = append(c.lifts.all, lifted{int32(n), c.full[i] + unit.Current(rapid.SampledFrom([]float64{0.1, 5, 20, 20, 90}).Draw(t, "by"))})
				}
			}
			c.lifts.from = append(c.lifts.from, int32(len(c.lifts.all)))
		}
		k.Judge(b.conds)
		d := &desk{}
		for pi := range k.places {
			x := k.stand(&k.places[pi], 1, d)
			_, _, _, limits, sq := k.load(x.place, k.cases[1], c)
			want := plainRises(&k.solver, x, limits, sq)
			got := slices.Clone(x.rises)
			for n := range got {
				if m := int(got[n].k); got[n].hottest > limits[m] {
					capped++
				}
				got[n].hottest = 0
			}
			if len(got) > len(x.place.known)/2 {
				beside++
			}
			if !slices.Equal(got, want) {
				t.Fatalf("%+v\none by one %+v", got, want)
			}
		}
	})
	if capped == 0 || beside == 0 {
		t.Errorf("%d past their limit, %d places warmed: too few to tell", capped, beside)
	}
}
