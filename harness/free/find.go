package free

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// finder holds what all parts share.
type finder struct {
	job    *design.Job
	steady *design.Job // in which nothing starts: what is undone is weighed in steady states
	nt     *net.Net
	sizes  size.Sizes
	temps  map[string][]unit.Temperature
	held   *fix.Plan
	bodies *bodies
	g      *graph
	earths map[string]bool // nodes, device.pin

	devices  map[string]*design.Device
	breaks   map[string]*design.Break
	splice   map[string]string // section of each splice
	housings map[string]*design.Housing
	index    *index
	parts    *solve.Districts
	locals   map[int]*local
	grounds  map[string]*ground // by what stands still, and what no case lists
	same     design.Once
	rulings  map[design.Ruling]*design.Ruling
}

// part is a Part while it is made.
type part struct {
	*Part
	f    *finder
	undo []design.Undo

	stood      bool
	stillThere []string // what stands still, once that is known
}

// Find proves every removal, in its own order, and every section by itself, in an order of the program. Conductors keep the temperatures that
// they have in each case, by its name and the wire's index. Nothing that is passed in is changed.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, temps map[string][]unit.Temperature, held *fix.Plan) *Proof {
	return FindIn(job, nt, sizes, temps, held, nil)
}

// FindIn is Find where the districts of the net are known; nil: they are not.
func FindIn(job *design.Job, nt *net.Net, sizes size.Sizes, temps map[string][]unit.Temperature, held *fix.Plan, parts *solve.Districts) *Proof {
	return find(job, nt, sizes, temps, held, parts.For)
}

func find(job *design.Job, nt *net.Net, sizes size.Sizes, temps map[string][]unit.Temperature, held *fix.Plan,
	districts func(*design.Job, *net.Net, size.Sizes) *solve.Districts) *Proof {
	if job == nil || nt == nil {
		return &Proof{}
	}
	f := &finder{job: job, nt: nt, sizes: sizes, temps: temps, held: held, locals: map[int]*local{}, grounds: map[string]*ground{}, same: design.Once{}, rulings: map[design.Ruling]*design.Ruling{}}
	if held == nil {
		f.held = &fix.Plan{}
	}
	f.devices = map[string]*design.Device{}
	for _, d := range job.Devices {
		if !d.Pattern && f.devices[d.Name] == nil {
			f.devices[d.Name] = d
		}
	}
	f.breaks = design.Index(job.Breaks, func(b *design.Break) string { return b.Name })
	f.splice = map[string]string{}
	for i := range nt.Joints {
		f.splice[nt.Joints[i].Splice] = nt.Joints[i].Section
	}
	f.housings = design.Index(job.Parts.Housings, func(h *design.Housing) string { return h.Name })
	f.bodies = homes(job, nt)
	f.findEarths()
	f.findGraph()
	f.findIndex()
	f.steady = steady(job)
	f.parts = districts(f.steady, nt, sizes)
	out := &Proof{}
	for _, r := range job.Removals {
		p := f.part(&Part{Name: r.Name, Sections: r.Sections, Span: r.Span}, r.Undo)
		out.Removals = append(out.Removals, *p.Part)
	}
	if len(job.Sections) > 1 {
		for _, s := range job.Sections {
			p := &part{Part: &Part{Name: s.Name, Alone: true, Sections: []string{s.Name}, Span: s.Span}, f: f}
			out.Sections = append(out.Sections, *f.part(p.Part, p.order()).Part)
		}
	}
	return out
}

// steady is a job without what draws take as they start: each start costs one more solution of a case. A coil's own is kept, since it may go on drawing that.
func steady(job *design.Job) *design.Job {
	out := *job
	out.Devices = slices.Clone(job.Devices)
	for i, d := range out.Devices {
		if slices.ContainsFunc(d.Draws, func(l design.Draw) bool { return l.Start.Given }) {
			x := *d
			x.Draws = slices.Clone(d.Draws)
			for k := range x.Draws {
				x.Draws[k].Start = design.Fact[unit.Current]{}
			}
			out.Devices[i] = &x
		}
	}
	return &out
}

func (f *finder) part(x *Part, undo []design.Undo) *part {
	p := &part{Part: x, f: f, undo: undo}
	for _, i := range p.within(func(s *within) []int { return s.devices }) {
		p.Devices = append(p.Devices, f.job.Devices[i].Name)
	}
	slices.SortFunc(p.Devices, design.Natural)
	p.ties()
	p.steps()
	p.clips()
	p.bushes()
	p.halves()
	p.assume()
	slices.SortStableFunc(p.Ties, func(a, b Tie) int { return design.Natural(a.Group, b.Group) })
	p.Free = len(p.Ties) == 0
	p.Verdict = p.verdict()
	p.once()
	return p
}

// once holds what many steps say alike a single time, and lists without the room that they grew into.
func (p *part) once() {
	same := p.f.same
	var live []string // of the step before: most leave alive what that did
	for i := range p.Steps {
		s := &p.Steps[i]
		same.Texts(&s.Title, &s.Place, &s.Size, &s.PulledAt)
		for k := range s.Lines {
			same.Texts(&s.Lines[k].At)
		}
		for k := range s.Tails {
			same.Texts(&s.Tails[k].Half, &s.Tails[k].Holds, &s.Tails[k].Position)
		}
		for _, l := range []*[]string{&s.First, &s.After, &s.Cautions, &s.Live, &s.Feeds, &s.Returns, &s.Signals} {
			for k := range *l {
				same.Texts(&(*l)[k])
			}
			*l = design.Exact(*l)
		}
		if slices.Equal(s.Live, live) {
			s.Live = live
		}
		live = s.Live
		s.Lines, s.Tails = design.Exact(s.Lines), design.Exact(s.Tails)
	}
	p.Clips = design.Exact(p.Clips)
}

// verdict says in a sentence whether it comes free.
func (p *part) verdict() string {
	if p.Free {
		clips := 0
		for i := range p.Clips {
			clips += len(p.Clips[i].Marks)
		}
		s := fmt.Sprintf("Once %s undone no wire, screen, earth or shared clip ties it", are(len(p.Steps), "thing"))
		if clips > 0 {
			s += fmt.Sprintf("; then %s to be taken off", are(clips, "clip"))
		}
		return s + "."
	}
	var at []string
	for i := range p.Ties {
		if g := p.Ties[i].Group; !slices.Contains(at, g) {
			at = append(at, g)
		}
	}
	return fmt.Sprintf("Not free: still tied at %s.", strings.Join(at, ", "))
}

func are(n int, what string) string {
	if n == 1 {
		return "1 " + what + " is"
	}
	return fmt.Sprintf("%d %ss are", n, what)
}
