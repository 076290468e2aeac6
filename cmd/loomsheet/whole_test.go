package main

import (
	"cmp"
	"fmt"
	"hash/fnv"
	"io"
	"math"
	"path"
	"path/filepath"
	"reflect"
	"slices"
	"sync"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/rule"
	"loomsheet/lang/freeze"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/render"
	"loomsheet/render/export"
)

// printed is a job with its books.
type printed struct {
	*job
	files []render.File
}

func print(file string) (*printed, error) {
	j, err := open(file, io.Discard)
	if err != nil {
		return nil, err
	}
	if j.Result == nil {
		return nil, fmt.Errorf("%s: %v", file, j.Text)
	}
	files, err := render.Books(j.input())
	return &printed{j, files}, err
}

// examples are the jobs that come with the program, each compiled and printed once for all tests.
var examples = map[string]func() (*printed, error){}

var exampleFiles = map[string]string{"rook": "../../examples/car/rook.loom", "tern": "../../examples/boat/tern.loom", "mended": "../../examples/bad/mended.loom"}

func init() {
	for name, file := range exampleFiles {
		examples[name] = sync.OnceValues(func() (*printed, error) { return print(file) })
	}
}

func example(t testing.TB, name string) *printed {
	t.Helper()
	p, err := examples[name]()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// compiled compiles a main text beside the other files of an example.
func compiled(t testing.TB, name, text string) *job {
	t.Helper()
	file := exampleFiles[name]
	load := func(p string) ([]byte, error) {
		if p == path.Base(file) {
			return []byte(text), nil
		}
		return readFile(filepath.Join(filepath.Dir(file), p))
	}
	declared, sources, said := resolve.Job(path.Base(file), load, parts.Files(), rule.Keys())
	j := &job{Sources: sources, Text: said}
	if said.HasMistakes() {
		t.Fatalf("%s: %+v", name, said)
	}
	j.Result = harness.Compile(declared)
	return j
}

// placeless is the exported job without places in the text and without the digest, its findings in an order that hangs on no place.
func placeless(j *job) *export.Doc {
	in := j.input()
	in.Digest = ""
	d := export.Make(in)
	for i := range d.Findings {
		d.Findings[i].Where = ""
	}
	slices.SortFunc(d.Findings, func(a, b export.Finding) int { return cmp.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
	return d
}

// remembered is, by type and field, what a solved case keeps to be solved again with: answers worked out since, and the scratch of the
// elimination. It moves as rules and books ask; that it changes no answer is held in its own room (TestCornersAtOnce).
var remembered = map[string][]string{
	"solve.again":  {"mu", "scratch", "looked", "among", "near", "corners", "solved", "said", "sides", "varied", "terms"},
	"solve.moved":  {"rest", "judged"},
	"solve.lean":   {"mu", "kept", "among"},
	"solve.stood":  {"mu", "own", "kept"},
	"solve.bare":   {"mu", "of"},
	"solve.island": {"order"},
	// The closest packing is worked out when a book asks; it follows from the circles alone.
	"bundle.closest": {"once", "outside"},
}

// imprint is a number for everything within v, however deep, but for what is remembered.
func imprint(v any) uint64 {
	h := fnv.New64a()
	seen := map[uintptr]int{}
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		fmt.Fprintf(h, "%d ", v.Kind())
		switch v.Kind() {
		case reflect.Pointer:
			if v.IsNil() {
				return
			}
			n, ok := seen[v.Pointer()]
			if !ok {
				n = len(seen)
				seen[v.Pointer()] = n
			}
			fmt.Fprintf(h, "%d ", n)
			if !ok {
				walk(v.Elem())
			}
		case reflect.Interface:
			if !v.IsNil() {
				fmt.Fprint(h, v.Elem().Type(), " ")
				walk(v.Elem())
			}
		case reflect.Struct:
			for i := range v.NumField() {
				if !slices.Contains(remembered[v.Type().String()], v.Type().Field(i).Name) {
					walk(v.Field(i))
				}
			}
		case reflect.Slice, reflect.Array:
			fmt.Fprintf(h, "%d ", v.Len())
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Map:
			keys := v.MapKeys()
			slices.SortFunc(keys, func(a, b reflect.Value) int { return cmp.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
			for _, k := range keys {
				fmt.Fprint(h, k, " ")
				walk(v.MapIndex(k))
			}
		case reflect.Float64:
			fmt.Fprintf(h, "%x ", math.Float64bits(v.Float()))
		case reflect.String:
			fmt.Fprintf(h, "%q ", v.String())
		case reflect.Bool:
			fmt.Fprint(h, v.Bool(), " ")
		case reflect.Func:
			fmt.Fprint(h, v.IsNil(), " ")
		default:
			if v.CanInt() {
				fmt.Fprint(h, v.Int(), " ")
			} else {
				fmt.Fprint(h, v.Uint(), " ")
			}
		}
	}
	walk(reflect.ValueOf(v))
	return h.Sum64()
}

// imprints is the imprint of each part of a result.
func imprints(r *harness.Result) map[string]uint64 {
	out := map[string]uint64{}
	v := reflect.ValueOf(r).Elem()
	for i := range v.NumField() {
		out[v.Type().Field(i).Name] = imprint(v.Field(i).Interface())
	}
	return out
}

// No stage changes what an earlier one made, and neither do the books.
func TestInputsAreNotChanged(t *testing.T) {
	for _, name := range []string{"mended", "tern"} {
		r := &harness.Result{Declared: read(t, name)}
		empty, before := imprints(&harness.Result{}), imprints(r)
		step := func(what string, run func()) {
			run()
			after := imprints(r)
			for part, was := range after {
				if was != before[part] && before[part] != empty[part] {
					t.Errorf("%s: %s changes %s", name, what, part)
				}
			}
			before = after
		}
		for _, s := range harness.Stages {
			step(s.Name, func() { s.Run(r) })
		}
		step("a rule", func() {
			for _, x := range rule.All {
				if x.Check != nil {
					x.Check(r.Model(), new(diag.List))
				}
			}
		})
		j := &job{Result: r, Sources: &resolve.Sources{}}
		step("the books", func() {
			if _, err := render.Books(j.input()); err != nil {
				t.Error(err)
			}
		})
		step("freeze", func() { net.Freeze(r.Net, r.Job) })
	}
}

// What must hold of any harness, held against the exported numbers alone.
func TestInvariants(t *testing.T) {
	for name := range exampleFiles {
		t.Run(name, func(t *testing.T) { holds(t, export.Make(example(t, name).input())) })
	}
}

// holds demands that each wire has two ends and a name of its own and each cavity one wire, that currents add up, that clips are no farther
// apart than their limit, and that lengths are the sums of their terms.
func holds(t *testing.T, d *export.Doc) {
	wires := map[string]*export.Wire{}
	cavities := map[string]string{}
	for i := range d.Wires {
		w := &d.Wires[i]
		if wires[w.Name] != nil {
			t.Errorf("two wires are named %s", w.Name)
		}
		wires[w.Name] = w
		for _, e := range w.Ends {
			if e.Kind == "cut back" {
				continue
			}
			if e.At == "" {
				t.Errorf("%s ends nowhere: %+v", w.Name, e)
			}
			if e.Kind != "half" && e.Kind != "cavity" {
				continue
			}
			key := fmt.Sprint(e.Kind, " ", e.At, " ", e.Cavity, " ", e.Pin)
			if e.Kind == "half" { // both halves have the cavity; the section says which half
				key += " " + w.Section
			}
			if cavities[key] != "" {
				t.Errorf("%s and %s are both in %s", cavities[key], w.Name, key)
			}
			cavities[key] = w.Name
		}
		if w.CopperMM < w.LengthMM {
			t.Errorf("%s: %v mm of copper on a way of %v mm", w.Name, w.CopperMM, w.LengthMM)
		}
	}
	balanced(t, d, wires)
	spaced(t, d)
	added(t, d)
}

// balanced demands that the currents of the wires in each splice, and those through each crossing, add up to nothing.
func balanced(t *testing.T, d *export.Doc, wires map[string]*export.Wire) {
	joints := 0
	for _, c := range d.Cases {
		sum, most := map[string]float64{}, map[string]float64{}
		for _, f := range c.Amps {
			for i, e := range wires[f.Wire].Ends {
				at := e.Kind + " " + e.At
				switch e.Kind {
				case "half":
					at += " " + e.Cavity
				case "splice", "post":
				default:
					continue
				}
				a := float64(f.Amps)
				if i == 1 {
					a = -a
				}
				sum[at] += a
				most[at] = max(most[at], math.Abs(a))
			}
		}
		for at, a := range sum {
			joints++
			if math.Abs(a) > 1e-6+1e-6*most[at] {
				t.Errorf("case %s: %g A do not add up at %s", c.Name, a, at)
			}
		}
		if c.Residual > 1e-6 {
			t.Errorf("case %s: %v A do not add up", c.Name, c.Residual)
		}
	}
	if joints < len(d.Cases) {
		t.Errorf("only %d joints carry current", joints)
	}
}

// spaced demands that no two neighbouring clips of a stretch are farther apart than its limit, and that they are told in order.
func spaced(t *testing.T, d *export.Doc) {
	pairs := 0
	for _, r := range d.Runs {
		for i := 1; i < len(r.Clips); i++ {
			pairs++
			gap := r.Clips[i].AfterMM - r.Clips[i-1].AfterMM
			if gap < 0 || gap > r.SpanMM+1e-6 && r.Note == "" {
				t.Errorf("%s, stretch %d: %v mm from %s to %s, the limit is %v", r.Run, r.Stretch, gap, r.Clips[i-1].Mark, r.Clips[i].Mark, r.SpanMM)
			}
		}
		for _, c := range r.Clips {
			if c.AfterMM < 0 || c.AfterMM > r.LengthMM {
				t.Errorf("%s lies at %v of %v mm", c.Mark, c.AfterMM, r.LengthMM)
			}
		}
	}
	if pairs == 0 {
		t.Error("no two clips")
	}
}

// added demands that each cut length is the sum of its terms and that no cut is shorter than its way.
func added(t *testing.T, d *export.Doc) {
	for _, s := range d.Sections {
		for _, c := range s.Cuts {
			var sum float64
			for _, x := range c.Terms {
				sum += float64(x.LengthMM)
			}
			if math.Abs(sum-float64(c.LengthMM)) > 0.01 {
				t.Errorf("%s: the terms make %g mm, it is cut to %v", c.Wire, sum, c.LengthMM)
			}
			for i := range d.Wires {
				if w := &d.Wires[i]; w.Name == c.Wire && c.LengthMM > 0 && c.LengthMM < w.CopperMM {
					t.Errorf("%s: cut to %v mm, its copper is %v mm", c.Wire, c.LengthMM, w.CopperMM)
				}
			}
		}
	}
}

// Frozen, a job keeps every cavity, name and label when a circuit is added that would have come first.
func TestFrozenStays(t *testing.T) {
	for name, more := range map[string]string{
		"mended": "device a1 at hub housing sealed-2\ndevice a2 at lamp housing sealed-2\ncircuit aa-new[1, 2] from a1.[1, 2] to a2.[1, 2] carries 1 A\n",
		"tern":   "device a1 at trunk-mid housing sealed-2\ndevice a2 at dash housing sealed-2\ncircuit aa-new[1, 2] from a1.[1, 2] to a2.[1, 2] carries 1 A\n",
	} {
		j := example(t, name).job
		text := string(contents(t, exampleFiles[name]))
		decisions, n := freeze.Wires(net.Freeze(j.Net, j.Job), "A")
		if n.All() < 20 {
			t.Fatalf("%s: only %+v", name, n)
		}
		where := func(j *job) map[string]string {
			out := map[string]string{}
			for _, w := range j.Net.Wires {
				out[w.Name] = fmt.Sprintf("%s in %s and %s", w.Label, w.Ends[0].Cavity, w.Ends[1].Cavity)
			}
			return out
		}
		before := where(j)
		moved := 0
		for wire, at := range where(compiled(t, name, text+"\n"+more)) {
			if was, ok := before[wire]; ok && was != at {
				moved++
			}
		}
		after := where(compiled(t, name, text+"\n"+string(decisions)+more))
		for wire, at := range before {
			if after[wire] != at {
				t.Errorf("%s: %s was %s, is %s", name, wire, at, after[wire])
			}
		}
		if len(after) < len(before)+4 {
			t.Errorf("%s: %d wires, then %d: the new circuits cross no break", name, len(before), len(after))
		}
		if moved == 0 {
			t.Errorf("%s: the new circuits take no cavity that anyone had: nothing is tried", name)
		}
	}
}
