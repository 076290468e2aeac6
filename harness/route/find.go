package route

import (
	"cmp"
	"slices"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// finder holds the inputs with what is looked up often.
type finder struct {
	job      *design.Job
	net      *net.Net
	geo      *space.Geometry
	bundles  *bundle.Bundles
	held     *fix.Plan
	run      map[string]*design.Run
	wire     map[string]*design.Wire
	zone     map[string]*design.Zone
	ways     [][]int // edges of each stretch
	arc      map[bendKey]*space.Bend
	turnsAt  [][]int
	ends     []bool // by node: a wire ends there in something other than a splice
	clips    map[stretchKey][]fix.Clip
	rulings  *design.Rulings
	profiles map[int][]unit.Length // heights by edge
}

// Find looks at every laid bundle. It changes none of its inputs, and claims nothing of what lies at unknown coordinates.
func Find(job *design.Job, nt *net.Net, bundles *bundle.Bundles, held *fix.Plan) *Result {
	f := newFinder(job, nt, bundles, held)
	r := &Result{Bends: f.bends(), Moves: f.moves(), Waters: f.waters()}
	r.Nears, r.Edges = f.nears()
	same := design.Once{}
	r.Bends = design.Exact(r.Bends)
	for i := range r.Bends {
		same.Texts(&r.Bends[i].Rule, &r.Bends[i].Source)
	}
	return r
}

func newFinder(job *design.Job, nt *net.Net, bundles *bundle.Bundles, held *fix.Plan) *finder {
	f := &finder{job: job, net: nt, geo: nt.Space, bundles: bundles, held: held, run: map[string]*design.Run{}, wire: map[string]*design.Wire{},
		zone: map[string]*design.Zone{}, rulings: design.NewRulings(&job.Settings), profiles: map[int][]unit.Length{}}
	if f.geo == nil {
		f.geo = &space.Geometry{}
	}
	if f.bundles == nil || len(f.bundles.Edges) != len(f.geo.Edges) {
		f.bundles = &bundle.Bundles{Edges: make([]bundle.MakeUp, len(f.geo.Edges))}
	}
	if f.held == nil {
		f.held = &fix.Plan{}
	}
	for _, r := range job.Runs {
		f.run[r.Name] = r
	}
	for _, z := range job.Zones {
		f.zone[z.Name] = z
	}
	for _, w := range job.Parts.Wires {
		if f.wire[w.Name] == nil {
			f.wire[w.Name] = w
		}
	}
	f.ways, f.arc = f.stretches(), f.arcs()
	f.indexClips()
	f.turnsAt = make([][]int, len(f.geo.Nodes))
	for i, t := range f.bundles.Turns() {
		if t.Node >= 0 {
			f.turnsAt[t.Node] = append(f.turnsAt[t.Node], i)
		}
	}
	f.ends = make([]bool, len(f.geo.Nodes))
	for i := range nt.Wires {
		for _, t := range nt.Wires[i].Ends {
			if t.Kind != net.InSplice && t.Kind != net.CutBack && t.Node >= 0 && t.Node < len(f.ends) {
				f.ends[t.Node] = true
			}
		}
	}
	return f
}

// inOrder sorts by run and station; the runs stand in the geometry in their order.
func inOrder[T any](f *finder, list []T, at func(*T) (run string, stretch int, after unit.Length)) {
	first := map[string]int{}
	for i := range f.geo.Edges {
		if _, ok := first[f.geo.Edges[i].Run]; !ok {
			first[f.geo.Edges[i].Run] = i
		}
	}
	slices.SortStableFunc(list, func(a, b T) int {
		ra, sa, aa := at(&a)
		rb, sb, ab := at(&b)
		return cmp.Or(cmp.Compare(first[ra], first[rb]), cmp.Compare(sa, sb), cmp.Compare(aa, ab))
	})
}
