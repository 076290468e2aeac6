package main

import (
	"flag"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"

	"loomsheet/harness"
	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
	"loomsheet/lang/format"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/syntax"
	"loomsheet/lang/trial"
	"loomsheet/render"
	"loomsheet/render/export"
)

// patience is how long one input may take before the process is stopped with a dump of what it does. It is far above what any input
// needs, so that a busy machine does not fail.
const patience = 15 * time.Minute

// FuzzCompile sends a text through every stage. With a seed other than 0 the text is first edited word by word, so that most
// inputs are jobs that can be understood and reach the last stage.
func FuzzCompile(f *testing.F) {
	texts := smallJobs(f)
	step := 7 // an ordinary test takes some of the seeds; the rules' own test reads every example
	if on := flag.Lookup("test.fuzz"); on != nil && on.Value.String() != "" {
		step = 11
	}
	for i := 0; i < len(texts); i += step {
		f.Add(texts[i], uint64(0))
		f.Add(texts[i], uint64(i+1))
	}
	f.Fuzz(func(t *testing.T, loom string, seed uint64) {
		if len(loom) > 1<<16 {
			t.Skip("hostile sizes have tests of their own")
		}
		loom = edited(loom, texts, seed)
		sound(t, loom, seed%5 == 0)
		if seed%3 == 1 {
			ordered(t, loom, seed)
		}
	})
}

// smallJobs is every small job of the tree: those with one slip each, the trial ones and the examples of the rules. Jobs of the generator
// bring plugs, relays, splices and cases that hang together.
func smallJobs(t testing.TB) (texts []string) {
	t.Helper()
	for _, pattern := range []string{"testdata/wrong/*.loom", "examples/bad/*.loom", "testdata/scenarios/parts-trial.loom"} {
		files, err := filepath.Glob(filepath.Join("..", "..", pattern))
		if err != nil || len(files) == 0 {
			t.Fatal(pattern, err)
		}
		for _, name := range files {
			texts = append(texts, string(contents(t, name)))
		}
	}
	for _, r := range rule.All {
		if r.Fires != "" {
			texts = append(texts, r.Fires, r.Silent)
		}
	}
	for seed := range uint64(3) {
		texts = append(texts, trial.Text(seed, 60))
	}
	return texts
}

func contents(t testing.TB, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// sound compiles a text and fails on anything that must not be on any text.
func sound(t *testing.T, loom string, books bool) {
	t.Helper()
	watch := time.AfterFunc(patience, func() {
		debug.SetTraceback("all")
		panic("no end after " + patience.String() + " on:\n" + loom)
	})
	defer watch.Stop()
	defer func() {
		if r := recover(); r != nil {
			t.Fatalf("%v\n%s\non:\n%s", r, debug.Stack(), loom)
		}
	}()
	job := &job{}
	declared, sources, text := resolve.Job("job.loom", loadOne("job.loom", loom), parts.Files(), rule.Keys())
	job.Sources, job.Text = sources, text
	if !text.HasMistakes() {
		job.Result = harness.Compile(declared)
	}
	for _, d := range job.messages() {
		if why := misplaced(sources, d); why != "" {
			t.Fatalf("%s: %s: %+v\non:\n%s", d.Code, why, d, loom)
		}
	}
	if job.Result == nil {
		return
	}
	if where := unreal(job.Result); where != "" {
		t.Fatalf("%s\non:\n%s", where, loom)
	}
	doc := export.Make(job.input())
	if _, err := doc.JSON(); err != nil {
		t.Fatalf("%v\non:\n%s", err, loom)
	}
	if !books {
		return
	}
	if _, err := render.Books(job.input()); err != nil && !strings.Contains(err.Error(), "haracter") {
		t.Fatalf("no books: %v\non:\n%s", err, loom)
	}
}

// ordered fails when a job that can be understood compiles to something else a second time, with its statements in another order, or
// in the canonical layout.
func ordered(t *testing.T, loom string, seed uint64) {
	t.Helper()
	compile := func(text string) *export.Doc {
		declared, sources, said := resolve.Job("job.loom", loadOne("job.loom", text), parts.Files(), rule.Keys())
		if said.HasMistakes() {
			return nil
		}
		return placeless(&job{Result: harness.Compile(declared), Sources: sources, Text: said})
	}
	want := compile(loom)
	if want == nil {
		return
	}
	file, _ := syntax.Parse("job.loom", []byte(loom))
	for what, text := range map[string]string{
		"again":               loom,
		"in another order":    shuffled(rand.New(rand.NewPCG(seed, 1)), loom, file.Lines, false, ""),
		"in canonical layout": string(format.Format(file, []byte(loom))),
	} {
		if d := gocmp.Diff(want, compile(text)); d != "" {
			t.Fatalf("%s it is another job: %.2000s\nwas:\n%s\nis:\n%s", what, d, loom, text)
		}
	}
}

// loadOne loads one text and nothing else.
func loadOne(name, text string) func(string) ([]byte, error) {
	return func(p string) ([]byte, error) {
		if p != name {
			return nil, fs.ErrNotExist
		}
		return []byte(text), nil
	}
}

var noNumber = regexp.MustCompile(`(^|[^\pL\d_/-])(NaN|[+-]?Inf)([^\pL\d_/-]|$)`)

// quoted is text of the user's own in a message.
var quoted = regexp.MustCompile("`[^`]*`")

// badVerb is what a wrong format leaves: %!s(MISSING), %!d(string=x), %!(EXTRA int=1). A user's own text may hold "%!".
var badVerb = regexp.MustCompile(`%!([a-zA-Z]?\((MISSING|EXTRA|BADWIDTH|BADPREC|NOVERB)|[a-zA-Z]\([a-z.]+=)`)

// misplaced says what is wrong with a message: no words, no code, a place outside the text, a number that is none.
func misplaced(sources *resolve.Sources, d diag.Diagnostic) string {
	spans := []diag.Span{d.Span}
	for _, r := range d.Related {
		spans = append(spans, r.Span)
	}
	for i, s := range spans {
		text, ok := sources.Text(s.File.String())
		if s.IsZero() && (i > 0 || d.Severity == diag.Note) {
			continue
		}
		if !ok || s.Start < 0 || s.Start > s.End || int(s.End) > len(text) {
			return fmt.Sprintf("points nowhere: %+v", s)
		}
	}
	if d.Code == "" || d.Title == "" {
		return "has no words"
	}
	for _, s := range []string{d.Title, d.Detail, d.Value.String(), d.Limit.String()} {
		if noNumber.MatchString(quoted.ReplaceAllString(s, "")) {
			return fmt.Sprintf("prints a number that is none: %q", s)
		}
		if badVerb.MatchString(s) {
			return fmt.Sprintf("is worded badly: %q", s)
		}
	}
	return ""
}

// unreal returns the way to the first number within v that is none or has no end; empty if there is no such number. A field that its
// package keeps to itself may have no end: that is how it says that there is no limit.
func unreal(v any) string {
	seen := map[uintptr]bool{}
	var walk func(v reflect.Value, way string) string
	walk = func(v reflect.Value, way string) string {
		switch v.Kind() {
		case reflect.Float32, reflect.Float64:
			if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) && v.CanInterface() {
				return fmt.Sprintf("%s is %v", way, x)
			}
		case reflect.Pointer:
			if v.IsNil() || seen[v.Pointer()] {
				return ""
			}
			seen[v.Pointer()] = true
			return walk(v.Elem(), way)
		case reflect.Interface:
			return walk(v.Elem(), way)
		case reflect.Struct:
			for i := range v.NumField() {
				if s := walk(v.Field(i), way+"."+v.Type().Field(i).Name); s != "" {
					return s
				}
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				if s := walk(v.Index(i), fmt.Sprintf("%s[%d]", way, i)); s != "" {
					return s
				}
			}
		case reflect.Map:
			for k, e := range v.Seq2() {
				if s := walk(e, fmt.Sprintf("%s[%v]", way, k)); s != "" {
					return s
				}
			}
		}
		return ""
	}
	return walk(reflect.ValueOf(v), "result")
}

var (
	word  = regexp.MustCompile(`"[^"\n]*"|[\pL\d_/.\-\[\]]+|[{}(),]|\n`)
	digit = regexp.MustCompile(`^-?\d+(\.\d+)?$`)
	units = []string{"mm", "m", "inch", "mm2", "AWG", "V", "mV", "A", "mA", "W", "C", "s", "ms", "h", "%", "ohm", "mohm", "mohm/m", "kohm"}
	odd   = []string{"0", "-1", "1", "2", "1e9", "1e300", "1e-300", "0.000001", "999999999", "5e307", "-273.15", "-1e300", "4e-320", "60", "100"}
)

// edited makes a few edits in a text: other numbers, other units, words exchanged, lines doubled, moved, taken away or taken from another
// text. The same text and seed give the same edits; seed 0 edits nothing.
func edited(text string, others []string, seed uint64) string {
	if seed == 0 {
		return text
	}
	r := rand.New(rand.NewPCG(seed, 7))
	pick := func(of []string) string { return of[r.IntN(len(of))] }
	for range 1 + r.IntN(4) {
		at := word.FindAllStringIndex(text, -1)
		if len(at) == 0 {
			return text
		}
		get := func(i int) string { return text[at[i][0]:at[i][1]] }
		swap := func(i int, by string) { text = text[:at[i][0]] + by + text[at[i][1]:] }
		numbers, kinds := []int{}, []int{}
		for i := range at {
			if digit.MatchString(get(i)) {
				numbers = append(numbers, i)
			}
			for _, u := range units {
				if get(i) == u {
					kinds = append(kinds, i)
				}
			}
		}
		lines := strings.SplitAfter(text, "\n")
		k := r.IntN(len(lines))
		switch op := r.IntN(10); {
		case op < 4 && len(numbers) > 0:
			i := numbers[r.IntN(len(numbers))]
			switch r.IntN(3) {
			case 0:
				swap(i, pick(odd))
			case 1:
				swap(i, get(numbers[r.IntN(len(numbers))]))
			default:
				swap(i, get(i)+pick([]string{"0", "00", "000000", ".5", "e-6", "e6"}))
			}
		case op == 4 && len(kinds) > 0:
			swap(kinds[r.IntN(len(kinds))], pick(units))
		case op == 5: // one word by another that stands after the same word elsewhere
			i := r.IntN(len(at))
			var like []int
			for j := 1; j < len(at); j++ {
				if i > 0 && get(j-1) == get(i-1) {
					like = append(like, j)
				}
			}
			if len(like) > 0 {
				swap(i, get(like[r.IntN(len(like))]))
			}
		case op == 6:
			text = strings.Join(lines[:k], "") + strings.Join(lines[k+1:], "")
		case op == 7:
			text += "\n" + lines[k]
		case op == 8:
			more := strings.SplitAfter(pick(others), "\n")
			text = strings.Join(lines[:k], "") + more[r.IntN(len(more))] + strings.Join(lines[k:], "")
		default:
			i := r.IntN(len(at))
			swap(i, get(r.IntN(len(at))))
		}
	}
	return text
}
