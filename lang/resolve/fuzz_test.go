package resolve

import (
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"loomsheet/lang/parts"
	"loomsheet/lang/syntax"
)

// FuzzResolve reads arbitrary text: it must neither panic nor hang, and its messages must point into the text.
func FuzzResolve(f *testing.F) {
	for _, dir := range []string{wrongDir, "../../testdata/scenarios"} {
		files, _ := filepath.Glob(dir + "/*.loom")
		for _, name := range files {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(string(text))
		}
	}
	f.Add(bodyJob)
	lib := parts.Files()
	f.Fuzz(func(t *testing.T, loom string) {
		begin := time.Now()
		j, src, ds := Job("job.loom", func(p string) ([]byte, error) {
			if p != "job.loom" {
				return nil, os.ErrNotExist
			}
			return []byte(loom), nil
		}, lib, knownFindings)
		if took := time.Since(begin); took > 20*time.Second {
			t.Fatalf("took %v", took)
		}
		if j == nil || src == nil {
			t.Fatal("nothing came back")
		}
		for _, d := range ds {
			text, ok := src.Text(d.Span.File.String())
			if !ok || d.Span.Start < 0 || int(d.Span.End) > len(text) || d.Span.Start > d.Span.End {
				t.Fatalf("%s points nowhere: %+v", d.Code, d.Span)
			}
			if d.Title == "" || d.Code == "" {
				t.Fatalf("a message without words: %+v", d)
			}
		}
	})
}

// Texts that stand for far too much are refused before they eat time or memory.
func TestBombs(t *testing.T) {
	head := "harness \"Bomb\"\nsection tub\nzone z air 40 C\n"
	for name, loom := range map[string]string{
		"range":         "point p[1..1000000000] at (0, 0, 0 mm)\n",
		"many ranges":   strings.Repeat("point p[1..10000] at (0, 0, 0 mm)\n", 2000),
		"lists":         "circuit c from " + strings.Repeat("a[1..10000].1, ", 400) + "b to x\n",
		"repeated":      "device d[1..9999] at (0, 0, 0 mm) {\n" + strings.Repeat("  pin p stud M5\n", 3000) + "}\n",
		"template":      "template t takes n {\n" + strings.Repeat("  device d-[n] at (0, 0, 0 mm) housing sealed-2\n", 2000) + "}\n" + strings.Repeat("use t n 1\n", 2000),
		"long names":    "template t takes n {\n  point " + strings.Repeat("[n]", 4000) + " at (0, 0, 0 mm)\n}\nuse t n " + strings.Repeat("a", 4000) + "\n",
		"long range":    "point " + strings.Repeat("a", 500000) + "[1..10000] at (0, 0, 0 mm)\n",
		"scopes":        "set drop to 3 % class c[1..5000] section s[1..2]\nset drop to 4 % class c[1..9000] case k[1..9000]\n",
		"same settings": "set drop to 3 % class c[1..9000]\nset drop to 4 % class d[1..9000]\n",
		"like chain":    likeChain(3000),
		"place chain":   placeChain(3000),
		"other hands":   handChain(3000),
		"positions":     "hazard h {\n" + strings.Repeat("  position \"p\" from (0, 0, 0 mm) to (1, 0, 0 mm)\n", 20000) + "}\nhazard i[1..400] like h mirror y\n",
		"areas":         "panel p thickness 1 mm zone z, z corners (0, 0, 0 mm), (1, 0, 0 mm), (0, 1, 0 mm) {\n" + strings.Repeat("  keep-out (0, 0, 0 mm), (1, 0, 0 mm), (0, 1, 0 mm)\n", 20000) + "}\npanel q[1..400] like p mirror y\n",
		"cavities":      "housing h { cavity [1..9000] takes size-16 }\ndevice d[1..200] at (0, 0, 0 mm) housing h\n",
	} {
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		begin := time.Now()
		_, _, ds := text(t, head+loom)
		took := time.Since(begin)
		runtime.ReadMemStats(&after)
		mb := (after.TotalAlloc - before.TotalAlloc) >> 20
		t.Logf("%-14s %8v %5d MB, %d messages", name, took.Round(time.Millisecond), mb, len(ds))
		if mb > 3000 || len(ds) > syntax.MostTold+1 { // what is allotted counts the work without a clock
			t.Errorf("%s: %d MB, %d messages", name, mb, len(ds))
		}
	}
}

func likeChain(n int) string {
	var b strings.Builder
	b.WriteString("device d0 at (0, 0, 0 mm) housing sealed-2\n")
	for i := range n {
		b.WriteString("device d" + strconv.Itoa(i+1) + " like d" + strconv.Itoa(i) + "\n")
	}
	return b.String()
}

func handChain(n int) string {
	var b strings.Builder
	b.WriteString("panel p0 thickness 1 mm zone z, z corners (0, 0, 0 mm), (1, 0, 0 mm), (0, 1, 0 mm)\n")
	for i := range n {
		b.WriteString("panel p" + strconv.Itoa(i+1) + " like p" + strconv.Itoa(i) + " mirror y\n")
	}
	return b.String()
}

func placeChain(n int) string {
	var b strings.Builder
	b.WriteString("point p0 at (0, 0, 0 mm)\n")
	for i := n - 1; i >= 0; i-- {
		b.WriteString("point p" + strconv.Itoa(i+1) + " at p" + strconv.Itoa(i) + " offset (1, 0, 0 mm)\n")
	}
	return b.String()
}
