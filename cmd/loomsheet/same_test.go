package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"loomsheet/harness"
	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/syntax"
	"loomsheet/render"
)

// answers is everything that the program says of the painted example, each answer by what was asked, from a process of its own each.
func answers(t *testing.T, job, books string, prepare func(*exec.Cmd)) map[string]string {
	t.Helper()
	out := map[string]string{}
	var mu sync.Mutex
	var all sync.WaitGroup
	for _, ask := range [][]string{{"build", job, "-o", books}, {"check", job, "--format", "json"}, {"netlist", job, "--case", "lit"}, {"worked", job, "tail"}, {"unplug", job, "P"}, {"__complete", "worked", job, ""}} {
		all.Go(func() {
			c := exec.Command("loomsheet", ask...)
			prepare(c)
			var text, errs bytes.Buffer
			c.Stdout, c.Stderr = &text, &errs
			if err := c.Run(); c.ProcessState == nil || c.ProcessState.ExitCode() > exitOpen {
				t.Errorf("%v: %v %s", ask, err, errs.String())
			}
			mu.Lock()
			defer mu.Unlock()
			said, _, _ := strings.Cut(text.String(), "Books in ") // the folder has another name
			out[ask[0]] = said
		})
	}
	all.Wait()
	for name, text := range everything(t, books) {
		out[name] = text
	}
	return out
}

// The same bytes from everywhere, whoever asks and whenever: other time zones, languages, processors, folders, homes, masks and times of files.
func TestSameEverywhere(t *testing.T) {
	from, err := filepath.Abs("../../examples/painted")
	if err != nil {
		t.Fatal(err)
	}
	dir := put(t, map[string]string{"real/x": "", "elsewhere/deep/x": ""})
	for _, name := range []string{"plover.loom", "plover-frozen.loom"} {
		text, err := os.ReadFile(filepath.Join(from, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join("real", name), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink("real", "link"); err != nil {
		t.Skip(err)
	}
	want := answers(t, "real/plover.loom", "books0", func(*exec.Cmd) {})
	if len(want) < 25 || len(want["review.pdf"]) < 10000 || len(want["worked"]) < 10000 || len(want["__complete"]) < 100 {
		for k, v := range want {
			t.Logf("%s: %d", k, len(v))
		}
		t.Fatal("little to compare")
	}
	old := time.Date(1991, 2, 3, 4, 5, 6, 0, time.UTC)
	for i, c := range []struct {
		name, job, books string
		prepare          func(*exec.Cmd)
	}{
		{"again, by a link, on one processor, in Auckland and Turkish", "link/plover.loom", "books1", func(c *exec.Cmd) {
			c.Env = append(os.Environ(), "GOMAXPROCS=1", "TZ=Pacific/Auckland", "LANG=tr_TR.UTF-8", "LC_ALL=tr_TR.UTF-8", "GOGC=20")
		}},
		{"from elsewhere, with nothing known of the user, on eight processors", filepath.Join(dir, "real", "plover.loom"), filepath.Join(dir, "books2"), func(c *exec.Cmd) {
			c.Dir, c.Env = "elsewhere/deep", []string{"GOMAXPROCS=8", "HOME=/nowhere", "USER=other", "NO_COLOR=1", "LC_NUMERIC=de_DE.UTF-8"}
		}},
	} {
		if i == 1 {
			os.Chtimes("real/plover.loom", old, old)
			os.Chmod("real/plover.loom", 0o600)
		}
		got := answers(t, c.job, c.books, c.prepare)
		if len(got) != len(want) {
			t.Errorf("%s: %d answers, %d are wanted", c.name, len(got), len(want))
		}
		for ask, text := range want {
			if got[ask] != text {
				t.Errorf("%s: %s differs", c.name, ask)
			}
		}
	}
}

// kept is the words in whose block the order of lines has a meaning: along a run or a tube, and of the cores of a cable.
var kept = map[string]bool{"run": true, "wire": true, "tube": true}

// piece is where a part of a text has come from.
type piece struct{ at, end, from int }

// shuffler writes statements anew in another order, and remembers where each has been.
type shuffler struct {
	r      *rand.Rand
	text   string
	out    strings.Builder
	pieces []piece
	into   string // the file in which all this stood; empty: that in which it stands
}

func (s *shuffler) lines(lines []*syntax.Line, keep bool, indent string) {
	order := s.r.Perm(len(lines))
	if keep {
		slices.Sort(order)
	}
	for _, i := range order {
		l := lines[i]
		s.out.WriteString(indent)
		s.copy(l.Head.Start, l.Head.End)
		if l.HasBlock {
			s.out.WriteString(" {\n")
			s.lines(l.Block, kept[l.Word.Text], indent+"  ")
			s.out.WriteString(indent)
			s.copy(l.Span.End-1, l.Span.End) // its brace
		}
		s.out.WriteString("\n")
	}
}

func (s *shuffler) copy(from, end int32) {
	at := s.out.Len()
	s.out.WriteString(s.text[from:end])
	s.pieces = append(s.pieces, piece{at, s.out.Len(), int(from)})
}

// was is where a place of the new text stood in the old one.
func (s *shuffler) was(at int) int {
	i, _ := slices.BinarySearchFunc(s.pieces, at, func(p piece, at int) int { return p.at - at })
	if i == len(s.pieces) || s.pieces[i].at > at {
		i--
	}
	if i < 0 || at > s.pieces[i].end {
		return 0
	}
	return s.pieces[i].from + at - s.pieces[i].at
}

// back puts every span within v that lies in a file to where it was before.
func (s *shuffler) back(v reflect.Value, file string, seen map[uintptr]bool) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() || seen[v.Pointer()] {
			return
		}
		seen[v.Pointer()] = true
		s.back(v.Elem(), file, seen)
	case reflect.Interface:
		if !v.IsNil() {
			s.back(v.Elem(), file, seen)
		}
	case reflect.Struct:
		if span, ok := v.Addr().Interface().(*diag.Span); ok {
			if span.File.String() == file {
				span.Start, span.End = int32(s.was(int(span.Start))), int32(s.was(int(span.End-1))+1)
				if s.into != "" {
					span.File = diag.FileOf(s.into)
				}
			}
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				s.back(v.Field(i), file, seen)
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			s.back(v.Index(i), file, seen)
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			c := reflect.New(v.Type().Elem()).Elem()
			c.Set(v.MapIndex(k))
			s.back(c, file, seen)
			v.SetMapIndex(k, c)
		}
	}
}

// another is an example with its statements, and the lines of their blocks, in another order; but its spans are as if they were where they
// had been, so that nothing at all may differ.
func another(t *testing.T, file string, seed uint64) *job {
	t.Helper()
	text := contents(t, file)
	main := path.Base(filepath.ToSlash(file))
	shape, msgs := syntax.Parse(main, text)
	if len(msgs) > 0 {
		t.Fatal(msgs)
	}
	s := &shuffler{r: rand.New(rand.NewPCG(1, seed)), text: string(text)}
	s.lines(shape.Lines, false, "")
	if s.out.String() == string(text) {
		t.Fatal("nothing was shuffled")
	}
	load := func(p string) ([]byte, error) {
		if p == main {
			return []byte(s.out.String()), nil
		}
		return readFile(filepath.Join(filepath.Dir(file), p))
	}
	declared, sources, said := resolve.Job(main, load, parts.Files(), rule.Keys())
	if said.HasMistakes() {
		t.Fatalf("%s: %+v", file, said)
	}
	seen := map[uintptr]bool{}
	s.back(reflect.ValueOf(&declared).Elem(), main, seen)
	s.back(reflect.ValueOf(&said).Elem(), main, seen)
	for i := range sources.Files {
		if sources.Files[i].Name == main {
			sources.Files[i].Text = string(text)
		}
	}
	return &job{Sources: sources, Text: said, Result: harness.Compile(declared)}
}

// The order of statements shows nowhere, in no byte of any file; nor does the number of processors. With LOOMSHEET_LONG set each example is tried in
// several orders.
func TestOrderShowsNowhere(t *testing.T) {
	long := os.Getenv("LOOMSHEET_LONG") != ""
	for _, c := range []struct {
		name, file string
		times      int
	}{
		{"painted", "../../examples/painted/plover.loom", 3}, {"mended", exampleFiles["mended"], 2}, {"dense", "../../testdata/dense/dense.loom", 1}, {"tern", exampleFiles["tern"], 1}, {"rook", exampleFiles["rook"], 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			if long {
				c.times = max(c.times, 5)
			}
			var want *printed
			var err error
			if examples[c.name] != nil {
				want = example(t, c.name)
			} else if want, err = print(c.file); err != nil {
				t.Fatal(err)
			}
			for i := range c.times {
				before := runtime.GOMAXPROCS([]int{1, 8}[i%2])
				j := another(t, c.file, uint64(i))
				files, err := render.Books(j.input())
				runtime.GOMAXPROCS(before)
				if err != nil {
					t.Fatal(err)
				}
				says(t, want, j, files, fmt.Sprint("order ", i))
			}
		})
	}
}

// parting is the first line in which two texts differ.
func parting(a, b []byte) string {
	x, y := bytes.Split(a, []byte("\n")), bytes.Split(b, []byte("\n"))
	for i := range min(len(x), len(y)) {
		if !bytes.Equal(x[i], y[i]) {
			return fmt.Sprintf("line %d: %.150q, then %.150q", i+1, x[i], y[i])
		}
	}
	return fmt.Sprintf("%d and %d lines", len(x), len(y))
}

// shuffled writes statements anew in another order, and the lines of their blocks where their order has no meaning.
func shuffled(r *rand.Rand, text string, lines []*syntax.Line, keep bool, indent string) string {
	s := &shuffler{r: r, text: text}
	s.lines(lines, keep, indent)
	return s.out.String()
}

// says fails where another job's books and messages are not those of the first.
func says(t *testing.T, want *printed, j *job, files []render.File, what string) {
	t.Helper()
	if len(files) != len(want.files) {
		t.Fatalf("%s: %d files, then %d", what, len(want.files), len(files))
	}
	for k, f := range want.files {
		if files[k].Name != f.Name || !bytes.Equal(files[k].Data, f.Data) {
			t.Errorf("%s: %s differs: %s", what, f.Name, parting(f.Data, files[k].Data))
		}
	}
	var a, b bytes.Buffer
	if err := want.tell(&a, "text", true); err != nil {
		t.Fatal(err)
	}
	if err := j.tell(&b, "text", true); err != nil || a.String() != b.String() {
		t.Errorf("%s: check says something else: %v %s", what, err, parting(a.Bytes(), b.Bytes()))
	}
}
