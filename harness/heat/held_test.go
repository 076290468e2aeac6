package heat

import (
	"math/rand"
	"reflect"
	"runtime"
	"slices"
	"sync"
	"testing"
	"unsafe"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// vehicle is a solved trial job of about so many wires.
func vehicle(t *testing.T, seed uint64, wires int) (*design.Job, *net.Net, size.Sizes, []*solve.CaseResult) {
	text := trial.Text(seed, wires)
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	nt := net.Build(job, space.Lay(job), nil)
	sizes := size.Initial(job, nt)
	temps := slices.Repeat([]unit.Temperature{20}, len(nt.Wires))
	var cases []*solve.CaseResult
	for _, c := range job.Cases {
		cases = append(cases, solve.Case(job, nt, sizes, temps, c))
	}
	return job, nt, sizes, cases
}

// TestRoundsHoldNothing: what a round leaves standing keeps nothing of that round alive besides its own figures.
func TestRoundsHoldNothing(t *testing.T) {
	job, nt, sizes, cases := vehicle(t, 5, 400)
	k := Keep(job, nt, cases, nil)
	k.Judge(sizes)
	some := rand.New(rand.NewSource(3))
	live := func() uint64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	before := live()
	const rounds = 40
	for range rounds {
		sizes = slices.Clone(sizes)
		i := some.Intn(len(sizes))
		sizes[i].Resistance *= 1.01
		k.Judge(sizes)
	}
	clone := uint64(len(sizes)) * uint64(unsafe.Sizeof(size.Conductor{}))
	if after := live(); after > before+rounds/4*clone {
		t.Errorf("%d rounds hold %d bytes more, a net's conductors are %d", rounds, after-before, clone)
	}
	runtime.KeepAlive(k)
}

// Starts are listed at a place as they are found by looking at each wire for each start.
func TestLiftsAtAPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, starts := rapid.IntRange(1, 9).Draw(t, "wires"), rapid.IntRange(0, 6).Draw(t, "starts")
		l := lifts{from: []int32{0}}
		by := make([]map[int]unit.Current, n)
		for i := range n {
			by[i] = map[int]unit.Current{}
			for s := range starts {
				if rapid.Bool().Draw(t, "lifted") {
					by[i][s] = unit.Current(rapid.IntRange(1, 50).Draw(t, "amps"))
					l.all = append(l.all, lifted{int32(s), by[i][s]})
				}
			}
			l.from = append(l.from, int32(len(l.all)))
		}
		var wires []int
		for i := range n {
			if rapid.Bool().Draw(t, "there") {
				wires = append(wires, i)
			}
		}
		want := []liftedAt{}
		for s := range starts {
			for k, i := range wires {
				if a, ok := by[i][s]; ok {
					want = append(want, liftedAt{int32(k), lifted{int32(s), a}})
				}
			}
		}
		if got := l.at(wires, &desk{}); !slices.Equal(got, want) {
			t.Fatalf("%v, looked for one by one %v", got, want)
		}
	})
}

// plainOnsets works out all places in all cases and lists for each wire those of which any may be the worst.
func plainOnsets(t *Thermal) [][]onset {
	out := make([][]onset, len(t.nt.Wires))
	for pi := range t.places {
		p := &t.places[pi]
		from := make([]int, len(p.known))
		for k, i := range p.known {
			from[k] = len(out[i])
		}
		for ci, c := range t.cases {
			_, ta, m, _, sq := t.load(p, c, &t.cur[ci])
			others := m.neighbours(sq)
			for k, i := range p.known {
				if !(m.wires[k].r20 > 0) || !(float64(t.conds[i].Size.Area()) > 0) {
					continue
				}
				x := onset{m, k, ta, others[k], sq[k], pi, ci}
				covers := func(y onset) bool { return y.covers(&x) }
				same := func(y onset) bool { return y.covers(&x) && x.covers(&y) && y.model.wires[y.k] == m.wires[k] }
				if slices.ContainsFunc(out[i][from[k]:], covers) || slices.ContainsFunc(out[i][:from[k]], same) {
					continue
				}
				out[i] = append(out[i], x)
			}
		}
	}
	return out
}

// TestAskedInAnyOrder: wires asked by several at a time, again and again and in any order, more of them than are kept, are told what each is told that is
// asked alone, and of the places of which all are worked out.
func TestAskedInAnyOrder(t *testing.T) {
	job, nt, sizes, cases := vehicle(t, 6, 300)
	sizes[3].Resistance, sizes[8].Known = 0, false
	th := NewThermal(job, nt, sizes, cases, nil)
	type answer struct {
		known     bool
		steady    unit.Temperature
		sustained unit.Current
		spot      Spot
		after     unit.Temperature
		lasts     unit.Time
		ever      bool
	}
	ask := func(th *Thermal, i int) (a answer) {
		a.known, a.steady, a.sustained, a.spot = th.Known(i), th.Steady(i), th.Sustained(i, 120), th.Spot(i, 120)
		a.after = th.After(i, 60, 20)
		a.lasts, a.ever = th.Lasts(i, 90, 200)
		return a
	}
	const few = 1 << 16 // points that are kept
	th.most = few
	plain := plainOnsets(th)
	want := make([]answer, len(nt.Wires))
	points := 0
	for i := range want {
		want[i] = ask(th, i)
		for _, w := range th.upto(i, hottest) {
			points += len(w.temps)
		}
		got := th.onsets(i)
		if want[i].known != (len(plain[i]) > 0) || len(got) != len(plain[i]) {
			t.Fatalf("wire %d has %d onsets, of all places %d", i, len(got), len(plain[i]))
		}
		for n, x := range got {
			if y := plain[i][n]; x.k != y.k || x.ta != y.ta || x.others != y.others || x.sq != y.sq || x.place != y.place || x.given != y.given || !reflect.DeepEqual(x.model, y.model) {
				t.Fatalf("wire %d, onset %d: %+v, of all places %+v", i, n, x, y)
			}
		}
	}
	if points < 2*few {
		t.Fatalf("%d points: all are kept", points)
	}
	shared := NewThermal(job, nt, sizes, cases, nil)
	shared.most = few
	var all sync.WaitGroup
	for seed := range 3 {
		all.Go(func() {
			for _, i := range rand.New(rand.NewSource(int64(seed))).Perm(len(want)) {
				if got := ask(shared, i); got != want[i] {
					t.Errorf("wire %d: %+v, alone %+v", i, got, want[i])
				}
			}
		})
	}
	all.Wait()
	alone := NewThermal(job, nt, sizes, cases, nil)
	if got := ask(alone, 17); got != want[17] {
		t.Errorf("asked first %+v, among all %+v", got, want[17])
	}
}
