package export

import (
	"encoding/json"
	"math"
	"reflect"
	"strconv"

	"loomsheet/harness"
	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/rule"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Input is what the exports and the books are made from.
type Input struct {
	*harness.Result
	Messages diag.List // of the text and of the rules, sorted
	Digest   string    // of the sources
	Locate   func(diag.Span) string
}

// least is below what any quantity of a job can be in its unit: a smaller number is what a sum left, and differs between processors.
const least = 1e-12

func num[T ~float64](x T) Num {
	if math.IsNaN(float64(x)) || math.IsInf(float64(x), 0) || math.Abs(float64(x)) < least {
		return 0
	}
	v, err := strconv.ParseFloat(strconv.FormatFloat(float64(x), 'g', 9, 64), 64)
	if err != nil || v == 0 {
		return 0
	}
	return Num(v)
}

func point(p design.Point3) [3]Num { return [3]Num{num(p.X), num(p.Y), num(p.Z)} }

// JSON is the document as text, with a fixed layout.
func (d *Doc) JSON() ([]byte, error) {
	out, err := json.MarshalIndent(d, "", " ")
	return append(out, '\n'), err
}

// Make gathers a compiled job, all of it in memory; Write does not.
func Make(in Input) *Doc {
	d := &Doc{Sections: []Section{}, Wires: []Wire{}, Cases: []Case{}}
	for i := range allParts {
		p := &allParts[i]
		if p.fill != nil {
			p.whole(in, d)
			continue
		}
		all := reflect.ValueOf(d).Elem().FieldByName(p.first)
		for k := range p.count(in) {
			x := p.element(in, k)
			for _, l := range p.listsOf(in, k) {
				l.fill(x, 0, l.n)
			}
			all.Set(reflect.Append(all, x))
		}
	}
	return d
}

// head is what stands first: the job, the verdict and the messages.
func head(in Input, d *Doc) {
	d.Format = Format
	d.Job = Job{Title: in.Job.Title, Revision: in.Job.Revision, Date: in.Job.Date, Datum: in.Job.Datum, Digest: in.Digest}
	d.Verdict, d.Findings = Verdict{NotForBuild: in.NotForBuild(), NotRun: []NotRun{}}, []Finding{}
	if d.Verdict.NotForBuild == nil {
		d.Verdict.NotForBuild = []string{}
	}
	for _, r := range rule.Missing() {
		d.Verdict.NotRun = append(d.Verdict.NotRun, NotRun{r.Key, r.NotRun})
	}
	for _, m := range in.Messages {
		f := Finding{Code: m.Code, Severity: m.Severity.String(), Title: m.Title, Detail: m.Detail, Where: in.Locate(m.Span),
			Kind: m.Subject.Kind, Subject: m.Subject.Name, From: m.Subject.From, To: m.Subject.To, Case: m.Case}
		if m.HasValue {
			f.Value, f.Limit = m.Value.String(), m.Limit.String()
		}
		switch {
		case m.Accepted != nil:
			f.AcceptedBy, f.Reason, f.Until = m.Accepted.By, m.Accepted.Reason, m.Accepted.Until
			d.Verdict.Accepted++
		case m.Severity > diag.Note:
			d.Verdict.Open++
		}
		d.Findings = append(d.Findings, f)
	}
}

func cables(in Input) []Cable {
	out := []Cable{}
	for _, c := range in.Job.Cables {
		out = append(out, Cable{c.Name, c.As, c.Wire, some(c.Holds), num(c.Twist)})
	}
	return out
}

func bought(in Input) []Part {
	out := []Part{}
	for _, p := range in.Plan.Parts {
		out = append(out, Part{p.Kind, p.Name, p.Count, num(p.Length), p.Own, p.Source})
	}
	return out
}

func some(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

func (in Input) names(wires []int) []string {
	out := []string{}
	for _, w := range wires {
		if w >= 0 && w < len(in.Net.Wires) {
			out = append(out, in.Net.Wires[w].Name)
		}
	}
	return out
}

func section(in Input, s *bench.SectionPlan) Section {
	x := Section{Name: s.Name, Cuts: []Cut{}, Connectors: []Connector{}, Splices: []Splice{}, Sleeves: []Sleeve{}}
	for _, c := range s.Cuts {
		x.Cuts = append(x.Cuts, cut(&c))
	}
	for _, c := range s.Connectors {
		k := Connector{Title: c.Title, Break: c.Break, Device: c.Device, Housing: c.Housing, Contacts: c.Contacts, Key: c.Key, Mount: c.Mount, Panel: c.Panel, Cavities: c.Cavities, Free: c.Free, Rows: []Pin{}}
		for _, r := range c.Rows {
			p := Pin{Cavity: r.Cavity, Pin: r.Pin, Wires: in.names(r.Wires), Label: r.Label, Code: r.Code, GoesTo: r.GoesTo, Contact: r.Contact, Seal: r.Seal, Status: r.Status.String(), Blank: r.Blank}
			if len(r.Wires) > 0 {
				p.Size = r.Size.String()
			}
			k.Rows = append(k.Rows, p)
		}
		x.Connectors = append(x.Connectors, k)
	}
	for _, p := range s.Splices {
		k := Splice{Name: p.Name, Where: p.Where, Status: p.Status.String(), AreaMM2: num(p.Area), Sleeve: p.Sleeve, Wires: []string{}}
		for _, w := range p.Wires {
			k.Wires = append(k.Wires, w.Name)
		}
		x.Splices = append(x.Splices, k)
	}
	for _, c := range s.Sleeves {
		x.Sleeves = append(x.Sleeves, Sleeve{c.Part, c.Run, c.From, c.To, num(c.Over), num(c.Length)})
	}
	cutting(&x, s)
	return x
}

func cut(c *bench.Cut) Cut {
	x := Cut{Wire: c.Name, Label: c.Label, Family: c.Family, Size: c.Size.String(), Colour: c.Colour, Code: c.Code, LengthMM: num(c.Length), Terms: []Term{}, Cable: c.Cable, Cores: []Core{}, Note: c.Note}
	for _, t := range c.Terms.All() {
		x.Terms = append(x.Terms, Term{t.What, num(t.Length)})
	}
	x.Ends = ends(c.Ends)
	for _, k := range c.Cores {
		x.Cores = append(x.Cores, Core{k.Name, k.Label, k.Code, k.Size.String(), k.Screen, ends(k.Ends)})
	}
	return x
}

func ends(ks [2]bench.CutEnd) (out [2]End) {
	for e, k := range ks {
		out[e] = End{k.Text, k.Contact, k.Seal, num(k.Strip), k.Tool}
	}
	return out
}

var termKinds = map[net.TermKind]string{net.InCavity: "cavity", net.OnStud: "stud", net.InHalf: "half", net.OnPost: "post", net.InSplice: "splice", net.CutBack: "cut back"}

var wireKinds = map[net.WireKind]string{net.Plain: "plain", net.Screen: "screen", net.Spare: "spare"}

func wire(in Input, i int) Wire {
	g := in.Net.Space
	w, c := &in.Net.Wires[i], &in.Sizes[i]
	x := Wire{Name: w.Name, Circuit: w.Circuit, From: w.From, To: w.To, Label: w.Label, LabelBy: w.LabelStatus.String(), Kind: wireKinds[w.Kind],
		Section: w.Section, Class: w.Class, Cable: w.Cable, Family: w.Family, Size: c.Size.String(), SizeWhy: string(c.Why), AreaMM2: num(c.Size.Area()),
		OhmPerM: num(c.Resistance), OhmSource: c.Source, Verified: c.Verified, OutsideMM: num(c.Outside), LengthMM: num(w.Length), CopperMM: num(w.Copper), Ohm20: num(c.Resistance.Over(max(w.Copper, w.Length))),
		Zones: some(w.Zones(g)), Way: []Stretch{}}
	for _, s := range w.Path {
		e := &g.Edges[s.Edge]
		from, to := g.Nodes[e.From].Key, g.Nodes[e.To].Key
		if s.Reverse {
			from, to = to, from
		}
		x.Way = append(x.Way, Stretch{e.Run, from, to, num(e.Length + e.Slack), e.Zone, e.Status.String()})
	}
	for e := range w.Ends {
		t := &w.Ends[e]
		x.Ends[e] = WireEnd{termKinds[t.Kind], t.Device + t.Break + t.Splice + t.Near, t.Pin, t.Cavity, c.Contacts[e], t.Status.String()}
	}
	for _, k := range in.Cases {
		if i < len(k.WireAmps) {
			if a := unit.Current(math.Abs(float64(k.WireAmps[i]))); num(a) > x.AmpsMost {
				x.AmpsMost, x.AmpsCase = num(a), k.Case
			}
		}
	}
	if in.Heat != nil && i < len(in.Heat.Wires) {
		h := &in.Heat.Wires[i]
		x.HeatCase, x.HeatZone, x.AmbientC, x.Bundle, x.HottestC, x.HeatLimitC = h.Case, h.Zone, num(h.Ambient), h.Count, num(h.Hottest), num(h.Limit)
		x.HeatA, x.RestC, x.StartBy, x.PeakC, x.FreeAirA = num(h.Effective), num(h.Rest), h.Start, num(h.Peak), num(h.FreeAir)
		x.Ampacity, x.AmpacityBy, x.AmpacityOK, x.BalanceA, x.HeatNote, x.HeatSure = num(h.Ampacity), string(h.Ruled), h.Met, num(h.Balance), h.Why, h.Verified
		if h.Table != nil {
			x.TableA, x.TableAs, x.TableWhy = num(h.Table.Amps), h.Table.Taken, h.Table.Condition
		}
	}
	return x
}

// oneCase is a case without its long lists.
func oneCase(c *solve.CaseResult) Case {
	x := Case{Name: c.Case, Supplies: []Supply{}, Loads: []Load{}, Relays: []Relay{}, Starts: []Start{}, Amps: []Flow{}, Bundles: []Bundle{}, Residual: num(c.Point.Residual)}
	for _, s := range c.Supplies {
		x.Supplies = append(x.Supplies, Supply{s.Device, s.Live, num(s.Volts), num(s.Amps), s.Limited, s.Idle})
	}
	for _, r := range c.Relays {
		x.Relays = append(x.Relays, Relay{r.Device, r.State, num(r.Volts), num(r.PullIn), num(r.DropOut), r.Assumed, r.On, r.Stated, r.Against})
	}
	return x
}

// caseLists is the long lists of a case.
func caseLists(in Input, c *solve.CaseResult) []list {
	j := fit.NewJudge(in.Job, in.Net)
	told := c.StartLoads()
	return []list{
		listOf("Loads", len(c.Loads), func(i int) Load { return load(c.Net, &c.Loads[i], "steady", j.Limits(c, i)) }),
		listOf("Starts", len(c.Starts), func(i int) Start { return Start{c.Starts[i].Device, loadsMeanwhile(j, c, i, told[i])} }),
		listOf("Amps", min(len(c.WireAmps), len(c.WireWatts)), func(i int) Flow {
			f := Flow{Wire: in.Net.Wires[i].Name, Amps: num(c.WireAmps[i]), Watts: num(c.WireWatts[i])}
			if in.Heat != nil && i < len(in.Heat.Temps[c.Case]) {
				f.TempC = num(in.Heat.Temps[c.Case][i])
			}
			return f
		}),
		bundles(in, c.Case),
	}
}

func nums[T ~float64](xs []T) []Num {
	out := []Num{}
	for _, x := range xs {
		out = append(out, num(x))
	}
	return out
}

func bundles(in Input, name string) list {
	var of []*heat.BundleResult
	g := in.Net.Space
	if in.Heat != nil {
		for i, c := range in.Heat.Bundles {
			if i >= len(in.Cases) { // at the ends of a supply's spread
				break
			}
			for k := range c.Bundles {
				if b := &c.Bundles[k]; c.Case == name && b.Edge >= 0 && b.Edge < len(g.Edges) {
					of = append(of, b)
				}
			}
		}
	}
	return listOf("Bundles", len(of), func(i int) Bundle {
		b := of[i]
		e := &g.Edges[b.Edge]
		return Bundle{e.Run, g.Nodes[e.From].Key, g.Nodes[e.To].Key, len(b.Wires), num(b.Outside), num(b.Ambient), num(b.Surface), num(b.Watts), in.names(b.Wires), nums(b.Amps), nums(b.Temps)}
	})
}

// share of what is lost; nothing where nothing is.
func share(v, lost unit.Voltage) Num {
	if !(lost > 1e-9) {
		return 0
	}
	return num(v / lost)
}

func rungs(n *solve.Network, steps []solve.Step, lost unit.Voltage) []Rung {
	out := []Rung{}
	for _, s := range steps {
		if n == nil || s.Element < 0 || s.Element >= len(n.Elements) {
			continue
		}
		e := &n.Elements[s.Element]
		out = append(out, Rung{e.Kind.String(), e.Name, num(n.Resistance(s.Element)), num(s.Amps), num(s.Drop), share(s.Drop, lost), num(s.Volts)})
	}
	return out
}

func settings(job *design.Job) []Setting {
	out := []Setting{}
	for i := range design.SettingDefs {
		d := &design.SettingDefs[i]
		r := job.Settings.Get(d.Name, design.Scope{})
		s := Setting{Name: d.Name, Scope: "job", Source: r.Source(), Limit: d.Limit}
		if r.Known {
			s.Value = r.Value.String()
		}
		out = append(out, s)
		for k := range job.Settings.Lines {
			if l := &job.Settings.Lines[k]; l.Name == d.Name && l.ScopeText() != "job" {
				out = append(out, Setting{d.Name, l.ScopeText(), l.Value.String(), "set in the job", d.Limit})
			}
		}
	}
	return out
}
