package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

const lampJob = `harness "Lamp" revision A
section body
zone open air 35 C
device battery at (0, 0, 0 mm) {
  pin plus, minus stud M6
  inner cell
  supply 12.6 V inside 10 mohm from cell to minus
  fuse blade-10 from cell to plus
}
device lamp at (1000, 0, 0 mm) housing sealed-2 {
  inner key
  draw 21 W at 12 V as resistance from key to 2
  state on joins 1, key
}
run side from battery to lamp section body zone open
circuit feed from battery.plus to lamp.1 colour red
circuit back from battery.minus to lamp.2 colour black
case lit {
  supply battery
  set lamp to on
}
`

// command runs the program in the current folder, and stops the process if it has no end.
func command(t *testing.T, args ...string) (status int, out, err string) {
	t.Helper()
	watch := time.AfterFunc(patience, func() { panic(fmt.Sprintf("no end after %v: %q", patience, args)) })
	defer watch.Stop()
	var stdout, stderr bytes.Buffer
	status = run(args, &stdout, &stderr)
	return status, stdout.String(), stderr.String()
}

// put writes files into a new folder and goes there.
func put(t *testing.T, files map[string]string) (dir string) {
	t.Helper()
	dir = t.TempDir()
	t.Chdir(dir)
	for name, text := range files {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// everything is each file, folder and link below a folder with its content.
func everything(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(dir, path)
		switch {
		case d.Type().IsRegular():
			text, err := os.ReadFile(path)
			out[rel] = string(text)
			return err
		case d.Type()&fs.ModeSymlink != 0:
			to, err := os.Readlink(path)
			out[rel] = "-> " + to
			return err
		}
		out[rel] = d.Type().String()
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// unchanged demands that all that was there is there still, and that nothing new stands outside the given folder.
func unchanged(t *testing.T, before, after map[string]string, but string) {
	t.Helper()
	for name, text := range before {
		if got, ok := after[name]; !ok || got != text {
			t.Errorf("%s was lost or changed", name)
		}
	}
	for name := range after {
		if _, ok := before[name]; !ok && (but == "" || name != but && !strings.HasPrefix(name, but+string(filepath.Separator))) {
			t.Errorf("%s was written", name)
		}
	}
}

// Each hostile text ends with status 1 or 2 and a message that says what is wrong; nothing is written.
func TestHostileTexts(t *testing.T) {
	digits := strings.Repeat("9", 400)
	replace := func(old, by string) string {
		if !strings.Contains(lampJob, old) {
			t.Fatal(old)
		}
		return strings.Replace(lampJob, old, by, 1)
	}
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "harness"},
		{"only a comment", "# nothing\n", "harness"},
		{"only zeros", strings.Repeat("\x00", 4096), "U+0000"},
		{"not text", "\xcf\xfa\xed\xfe\x07\x00", "not-utf8"},
		{"UTF-16", "\xff\xfeh\x00a\x00r\x00", "UTF-8"},
		{"deep blocks", lampJob + "device x at (0, 0, 0 mm) " + strings.Repeat("{ pin a ", 20000), "mistake"},
		{"deep brackets", lampJob + strings.Repeat("(", 100000), "line-too-long"},
		{"deep ranges", lampJob + "point p" + strings.Repeat("[", 5000) + strings.Repeat("]", 5000) + " at (0, 0, 0 mm)\n", "mistake"},
		{"closing only", lampJob + strings.Repeat("}\n", 5000), "brace"},
		{"giant range", lampJob + "point p[1..1000000000] at (0, 0, 0 mm)\n", "range-too-long"},
		{"range past the largest number", lampJob + "point p[1..99999999999999999999999] at (0, 0, 0 mm)\n", "range"},
		{"a line of a megabyte", lampJob + "point " + strings.Repeat("x", 1<<20) + " at (0, 0, 0 mm)\n", "name-too-long"},
		{"a text of a megabyte", lampJob + `device y at (0, 0, 0 mm) note "` + strings.Repeat("x", 1<<20) + "\n", "mistake"},
		{"very many words", lampJob + strings.Repeat("blah ", 50000) + "\n", "mistake"},
		{"very many statements", lampJob + strings.Repeat("section s\n", 30000), "name-twice"},
		{"e in a number", replace("(1000,", "(1e300,"), "unknown-unit"},
		{"a number of 400 digits", replace("(1000,", "("+digits+","), "place-unclear"},
		{"a giant length", replace("(1000,", "("+digits[:300]+","), "too-much"},
		{"a giant load", replace("21 W", digits[:100]+" W"), "number-unclear"},
		{"giant volts", replace("12.6 V", digits[:12]+" V"), "volts-too-high"},
		{"a giant resistance", replace("10 mohm", digits[:12]+" mohm"), "open"},
		{"a setting of 300 digits", "set heat-margin to 1" + strings.Repeat("0", 299) + " K\n" + lampJob, "number-unclear"},
		{"a length of 300 digits", lampJob + "run r from battery to lamp section body zone open length 1" + strings.Repeat("0", 299) + " mm\n", "number-unclear"},
		{"a fraction of 300 digits", replace("21 W", "0."+strings.Repeat("0", 298)+"1 W"), "number-unclear"},
		{"a setting of twenty digits", "set heat-margin to 1" + strings.Repeat("0", 19) + " K\n" + lampJob, "too-much"},
		{"a setting with an exponent", "set heat-margin to 1e300 K\n" + lampJob, "number-unclear"},
		{"a setting with an exponent and no unit", "set heat-margin to 1e300\n" + lampJob, "number-unclear"},
		{"no volts", replace("12.6 V", "0 V"), "zero"},
		{"volts below zero", replace("12.6 V", "-12.6 V"), "below-zero"},
		{"ohms below zero", replace("10 mohm", "-10 mohm"), "below-zero"},
		{"no load", replace("21 W", "0 W"), "zero"},
		{"a length below zero", lampJob + "run r section body zone open {\n  from battery to lamp length -5 mm\n}\n", "below-zero"},
		{"a size of nothing", replace("colour red", "colour red size 0 mm2"), "zero"},
		{"air of a star", replace("35 C", digits[:12]+" C"), "open"},
		{"ring of like", lampJob + "device a like b\ndevice b like c\ndevice c like a\n", "like-circle"},
		{"like itself", lampJob + "device a like a\n", "like-circle"},
		{"ring of cases", lampJob + "case a like b\ncase b like a\n", "like-circle"},
		{"ring of places", lampJob + "point a at b offset (1, 0, 0 mm)\npoint b at a offset (1, 0, 0 mm)\n", "place-circle"},
		{"template in itself", lampJob + "template t takes n {\n  use t n [n]\n}\nuse t n 1\n", "mistake"},
		{"include of itself", lampJob + "include \"job.loom\"\nsektion x\n", "no-such-word"},
		{"include of a folder", lampJob + "include \".\"\n", "include"},
		{"include with no name", lampJob + "include \"\"\n", "include"},
		{"include above", lampJob + "include \"../outside.loom\"\n", "include-outside"},
		{"include above by a detour", lampJob + "include \"a/../../outside.loom\"\n", "include-outside"},
		{"include from the root", lampJob + "include \"/etc/hostname\"\n", "include-outside"},
		{"include with a backslash", lampJob + "include \"..\\\\outside.loom\"\n", "include-outside"},
		{"include of a missing file", lampJob + "include \"missing.loom\"\n", "no-such-file"},
		{"turned writing in a name", lampJob + "section a\u202Eb\n", "U+202E"},
		{"turned writing in a text", lampJob + "section b note \"a\u202Eb\"\n", "U+202E"},
		{"turned writing in a comment", lampJob + "# a\u202Eb\n", "U+202E"},
		{"a name with nothing to see", lampJob + "section bo\u200Bdy\n", "U+200B"},
		{"a steered terminal", lampJob + "section \x1b[2Jx\n", "U+001B"},
		{"right to left in a text", lampJob + "section b note \"\u05d0\"\n", "U+05D0"},
		{"right to left in the title", replace("Lamp", "\u0645"), "U+0645"},
		{"beyond the typeface in a text", lampJob + "section b note \"\U0001f4a1\"\n", "U+1F4A1"},
		{"no letter of the typeface in a text", lampJob + "section b note \"\u706f\"\n", "U+706F"},
		{"no letter of the typeface in a name", lampJob + "section \u706f\n", "U+706F"},
		{"a title of a megabyte", replace("Lamp", strings.Repeat("x", 1<<20)), "text-too-long"},
		{"a bell in a text", lampJob + "section b note \"\a\"\n", "U+0007"},
		{"a long value in accents", lampJob + "zone z air " + strings.Repeat("é", 60) + "\n", "wrong-value"},
		{"accents without end", lampJob + "point a" + strings.Repeat("\u0301", 1<<19) + " at (0, 0, 0 mm)\n", "name-too-long"},
		{"a word of a megabyte", lampJob + strings.Repeat("x", 1<<20) + " y\n", "no-such-word"},
		{"an option of a megabyte", lampJob + "section s " + strings.Repeat("x", 1<<20) + " y\n", "no-such-option"},
		{"a unit of a megabyte", lampJob + "zone z air 9 " + strings.Repeat("x", 1<<20) + "\n", "unknown-unit"},
		{"a file name of a megabyte", lampJob + "include \"" + strings.Repeat("x", 1<<20) + "\"\n", "text-too-long"},
		{"commas of a megabyte", lampJob + "zone z air " + strings.Repeat("9,", 1<<19) + "9\n", "decimal-comma"},
		{"a range of a megabyte", lampJob + "point p[" + strings.Repeat("1..9999, ", 1<<17) + "1] at (0, 0, 0 mm)\n", "range-too-long"},
		{"ranges that multiply", lampJob + "point p[1..1000][1..1000][1..1000] at (0, 0, 0 mm)\n", "two-ranges"},
		{"very many mistakes", lampJob + strings.Repeat("}\n", 100000), "too-many-mistakes"},
		{"very many brackets", lampJob + "point p" + strings.Repeat("[", 1<<19), "too-many-mistakes"},
		{"very many settings", lampJob + strings.Repeat("set drop to 3 %\n", 20001), "too-much"},
		{"very many zones", lampJob + "zone z[1..1001] air 30 C\n", "too-much"},
		{"long ring of like", lampJob + ring("device d# like d@\n", 3000), "like-circle"},
		{"long ring of places", lampJob + ring("point d# at d@ offset (1, 0, 0 mm)\n", 3000), "place-circle"},
		{"lines that end with a return", strings.ReplaceAll(lampJob, "\n", "\r"), "1 mistake"},
		{"an exponent", lampJob + "run r from battery to lamp section body zone open length 1e308 mm\n", "number-unclear"},
		{"no number", lampJob + "run r from battery to lamp section body zone open length NaN mm\n", "number-unclear"},
		{"a name that looks like another", lampJob + "section b\u043edy\n", "names-alike"},
		{"a word with a letter of another script", lampJob + "secti\u043en lid\n", "U+043E"},
		{"path as a section", lampJob + "section ../../x\n", "mistake"},
	} {
		t.Run(c.name, func(t *testing.T) {
			put(t, map[string]string{"job/job.loom": c.text, "outside.loom": "section outside\n"})
			before := everything(t, ".")
			status, out, err := command(t, "check", "job/job.loom")
			if all := out + err; status != exitOpen && status != exitMisuse || !strings.Contains(all, c.want) || len(all) > 20000 {
				t.Errorf("status %d, %d bytes, no %q:\n%.2000s", status, len(all), c.want, all)
			}
			for _, r := range out + err {
				if r < ' ' && r != '\n' || r == '\u202e' || r == '\u200b' || r == '\ufffd' {
					t.Errorf("%U is printed raw", r)
				}
			}
			if len(c.text) < 10000 {
				if _, out, _ := command(t, "check", "job/job.loom", "--format", "json"); !json.Valid([]byte(out)) || !utf8.ValidString(out) {
					t.Errorf("no JSON: %.500q", out)
				}
				for _, verb := range []string{"build", "freeze"} {
					if status, out, err := command(t, verb, "job/job.loom", "-o", "made.loom"); status == exitMet && !strings.Contains(c.want, "open") {
						t.Errorf("%s: status %d: %s%s", verb, status, out, err)
					}
				}
			}
			if c.want != "open" {
				unchanged(t, before, everything(t, "."), "")
			}
		})
	}
}

// ring repeats a line with its number in the place of each # and the next one's, the last before the first, in the place of each @.
func ring(line string, n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.NewReplacer("#", fmt.Sprint(i), "@", fmt.Sprint((i+1)%n)).Replace(line))
	}
	return b.String()
}

// What people's editors do to a file changes nothing.
func TestEditorsHabits(t *testing.T) {
	put(t, map[string]string{"plain.loom": lampJob, "crlf.loom": strings.ReplaceAll(lampJob, "\n", "\r\n"), "bom.loom": "\ufeff" + lampJob,
		"end.loom": strings.TrimSuffix(lampJob, "\n"), "both.loom": "\ufeff" + strings.ReplaceAll(lampJob, "\n", "\r\n")})
	_, want, _ := command(t, "check", "plain.loom")
	for _, name := range []string{"crlf.loom", "bom.loom", "end.loom", "both.loom"} {
		if status, got, err := command(t, "check", name); status != exitMet || got != want {
			t.Errorf("%s: status %d\n%s%s", name, status, got, err)
		}
	}
}

// Files that are none, or lie elsewhere.
func TestHostileFiles(t *testing.T) {
	put(t, map[string]string{"job/job.loom": lampJob, "job/in.loom": lampJob + "include \"link.loom\"\n", "job/deep.loom": lampJob + "include \"up/outside.loom\"\n",
		"job/pipe-in.loom": lampJob + "include \"pipe\"\n", "outside.loom": "section outside\n", "job/folder/x": ""})
	link := func(to, name string) {
		if err := os.Symlink(to, name); err != nil {
			t.Skip(err)
		}
	}
	link("../outside.loom", "job/link.loom")
	link("..", "job/up")
	link("loop.loom", "job/loop.loom")
	makePipe(t, "job/pipe")
	big, err := os.Create("job/big.loom")
	if err != nil {
		t.Fatal(err)
	}
	if err := big.Truncate(1 << 40); err != nil { // takes no room on the disk
		t.Log(err)
	}
	big.Close()
	for _, c := range []struct {
		name, want string
		status     int
	}{
		{"job/folder", "it is not a file", exitMisuse},
		{"job", "it is not a file", exitMisuse},
		{"missing/job.loom", "there is no such file", exitMisuse},
		{"job/missing.loom", "there is no such file", exitMisuse},
		{"job/job.loom/x", "cannot read job/job.loom/x", exitMisuse},
		{"job/link.loom", "outside the job's folder", exitMisuse},
		{"job/loop.loom", "cannot read", exitMisuse},
		{"job/big.loom", "larger than 16 MB", exitMisuse},
		{"job/pipe", "it is not a file", exitMisuse},
		{"job/pipe-in.loom", "it is not a file", exitOpen},
		{"job/in.loom", "include-outside", exitOpen},
		{"job/deep.loom", "include-outside", exitOpen},
		{"/dev/null", "it is not a file", exitMisuse},
		{"/dev/zero", "it is not a file", exitMisuse},
		{"", "cannot read", exitMisuse},
		{"job/\x00.loom", "cannot read", exitMisuse},
		{strings.Repeat("x", 5000) + ".loom", "cannot read", exitMisuse},
	} {
		for _, verb := range []string{"check", "build", "freeze", "fmt"} {
			if verb == "fmt" && (c.status == exitOpen || c.name == "job/link.loom") { // fmt follows a link that it was given, and reads no other file
				continue
			}
			status, out, err := command(t, verb, c.name)
			if status != c.status || !strings.Contains(out+err, c.want) {
				t.Errorf("%s %.60q: status %d, no %q: %.300s", verb, c.name, status, c.want, out+err)
			}
		}
	}
	if text := contents(t, "outside.loom"); string(text) != "section outside\n" {
		t.Error("the file outside was changed")
	}
}

func TestUnreadable(t *testing.T) {
	put(t, map[string]string{"job.loom": lampJob, "in.loom": lampJob + "include \"job.loom\"\n"})
	if err := os.Chmod("job.loom", 0); err != nil {
		t.Fatal(err)
	}
	if f, err := os.Open("job.loom"); err == nil {
		f.Close()
		t.Skip("this user may read everything")
	}
	for name, want := range map[string]int{"job.loom": exitMisuse, "in.loom": exitOpen} {
		if status, out, err := command(t, "check", name); status != want || !strings.Contains(out+err, "cannot be read") && !strings.Contains(out+err, "cannot read") {
			t.Errorf("%s: status %d: %s%s", name, status, out, err)
		}
	}
}

// Standard input larger than a file may be is refused, not cut short.
func TestHugeInput(t *testing.T) {
	root := newRoot(&bytes.Buffer{}, &bytes.Buffer{})
	var out bytes.Buffer
	root.SetOut(&out)
	root.SetIn(strings.NewReader(strings.Repeat("# a comment\n", mostBytes/12+1)))
	root.SetArgs([]string{"fmt", "-"})
	if err := root.Execute(); err == nil || !strings.Contains(err.Error(), "larger than") || out.Len() > 0 {
		t.Errorf("%v, %d bytes written", err, out.Len())
	}
}

func TestNoHome(t *testing.T) {
	put(t, map[string]string{"job.loom": lampJob})
	for _, name := range []string{"HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "TMPDIR", "PATH", "USER"} {
		t.Setenv(name, "")
		os.Unsetenv(name)
	}
	before := everything(t, ".")
	if status, _, err := command(t, "build", "job.loom", "-o", "books"); status != exitMet || err != "" {
		t.Errorf("status %d: %s", status, err)
	}
	unchanged(t, before, everything(t, "."), "books")
}

// withSections is a job with one device and a wire of its own in each section.
func withSections(names ...string) string {
	var b strings.Builder
	b.WriteString("harness \"Sections\" revision A\nzone open air 35 C\ncase lit { supply battery0 }\n")
	for i, n := range names {
		fmt.Fprintf(&b, "section %s\n", n)
		b.WriteString(strings.NewReplacer("#", fmt.Sprint(i), "NAME", n).Replace(`device battery# at (#, 0, 0 mm) {
  pin plus, minus stud M6
  supply 12.6 V inside 10 mohm from plus to minus
}
device lamp# at (#, 900, 0 mm) housing sealed-2 { draw 5 W at 12 V as resistance from 1 to 2 }
run side# from battery# to lamp# section NAME zone open
circuit feed# from battery#.plus to lamp#.1
circuit back# from battery#.minus to lamp#.2
`))
	}
	return b.String()
}

// Names of sections that are paths, or no file names, give each a book of its own within the folder.
func TestNamesOfBooks(t *testing.T) {
	long := strings.Repeat("long", 15)
	for _, c := range []struct {
		name     string
		sections []string
		books    []string
	}{
		{"a path", []string{"a/b", "a-b", "c//", "d/e/f"}, []string{"bench-a_b-c14cddc0.pdf", "bench-a-b.pdf"}},
		{"capitals", []string{"Engine", "engine", "ENGINE"}, nil},
		{"other letters", []string{"tür", "tuer", "нос"}, nil},
		{"long", []string{long + "1", long + "2"}, nil},
		{"names of other files", []string{"shell", "CON", "tables/cuts"}, []string{"bench-shell.pdf", "bench-CON.pdf"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			put(t, map[string]string{"job.loom": withSections(c.sections...)})
			before := everything(t, ".")
			status, out, err := command(t, "build", "job.loom", "-o", "books")
			if status != exitOpen {
				t.Fatalf("status %d: %s%s", status, out, err)
			}
			after := everything(t, ".")
			unchanged(t, before, after, "books")
			seen := map[string]bool{}
			for name := range after {
				if rel, ok := strings.CutPrefix(filepath.ToSlash(name), "books/bench-"); ok {
					if strings.Contains(rel, "/") || !strings.HasSuffix(rel, ".pdf") || seen[strings.ToLower(rel)] {
						t.Errorf("%s is a bad name", name)
					}
					seen[strings.ToLower(rel)] = true
				}
			}
			if len(seen) != len(c.sections) {
				t.Errorf("%d books for %d sections: %v", len(seen), len(c.sections), seen)
			}
			for _, b := range c.books {
				if _, ok := after[filepath.Join("books", b)]; !ok {
					t.Errorf("no %s", b)
				}
			}
			// Built again, the same; and without the sections their books go.
			if status, out, err := command(t, "build", "job.loom", "-o", "books"); status != exitOpen {
				t.Fatalf("again: status %d: %s%s", status, out, err)
			}
			unchanged(t, after, everything(t, "."), "")
			if err := os.WriteFile("job.loom", []byte(lampJob), 0o644); err != nil {
				t.Fatal(err)
			}
			command(t, "build", "job.loom", "-o", "books")
			if left, _ := filepath.Glob("books/bench-*"); !slices.Equal(left, []string{filepath.Join("books", "bench-body.pdf")}) {
				t.Errorf("left are %v", left)
			}
		})
	}
}

// Folders for the books in which nothing may be lost.
func TestHostileFolders(t *testing.T) {
	forged, err := json.Marshal(manifest{manifestFormat, []string{"../outside.loom", "mine.txt", "/etc/hostname", "tables", "shell.pdf"}})
	if err != nil {
		t.Fatal(err)
	}
	link := func(to, name string) func(*testing.T) {
		return func(t *testing.T) {
			if err := os.Symlink(to, name); err != nil {
				t.Skip(err)
			}
		}
	}
	for _, c := range []struct {
		name   string
		files  map[string]string
		make   func(*testing.T)
		folder string
		want   string
		status int
	}{
		{"a file", map[string]string{"books": "mine"}, nil, "books", "cannot make the folder", exitMisuse},
		{"below a file", map[string]string{"books": "mine"}, nil, "books/x", "cannot make the folder", exitMisuse},
		{"the source itself", nil, nil, "job.loom", "cannot make the folder", exitMisuse},
		{"a device", nil, nil, "/dev/null", "cannot make the folder", exitMisuse},
		{"no name", nil, nil, "", "cannot make the folder", exitMisuse},
		{"a long name", nil, nil, strings.Repeat("x", 300), "cannot make the folder", exitMisuse},
		{"a name with a zero", nil, nil, "a\x00b", "cannot make the folder", exitMisuse},
		{"with a person's book", map[string]string{"books/review.pdf": "mine"}, nil, "books", "was not written by a build", exitMisuse},
		{"with a person's table", map[string]string{"books/tables/pins.csv": "mine"}, nil, "books", "was not written by a build", exitMisuse},
		{"with a person's list", map[string]string{"books/written.json": `{"files":["review.pdf"]}`}, nil, "books", "was not written by a build", exitMisuse},
		{"tables is a file", map[string]string{"books/tables": "mine"}, nil, "books", "is not a folder", exitMisuse},
		{"a book is a folder", map[string]string{"books/shell.pdf/x": "mine"}, nil, "books", "was not written by a build", exitMisuse},
		{"a folder where a book was", map[string]string{"books/shell.pdf/x": "mine", "books/written.json": string(forged)}, nil, "books", "was not written by a build", exitMisuse},
		{"tables leads out", map[string]string{"books/x": "", "elsewhere/x": ""}, link("../elsewhere", "books/tables"), "books", "is not a folder", exitMisuse},
		{"a book leads out", map[string]string{"books/x": ""}, link("../outside.loom", "books/shell.pdf"), "books", "was not written by a build", exitMisuse},
		{"a book leads nowhere", map[string]string{"books/x": ""}, link("../new", "books/shell.pdf"), "books", "was not written by a build", exitMisuse},
		{"the list leads out", map[string]string{"books/x": ""}, link("../outside.loom", "books/written.json"), "books", "was not written by a build", exitMisuse},
		{"beside a person's files", map[string]string{"books/notes.txt": "mine", "books/tables/own.csv": "mine"}, nil, "books", "Books in books", exitMet},
		{"the folder of the job", nil, nil, ".", "Books in .", exitMet},
	} {
		t.Run(c.name, func(t *testing.T) {
			put(t, map[string]string{"job.loom": lampJob, "outside.loom": "section outside\n"})
			for name, text := range c.files {
				os.MkdirAll(filepath.Dir(name), 0o755)
				if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if c.make != nil {
				c.make(t)
			}
			before := everything(t, ".")
			status, out, err := command(t, "build", "job.loom", "-o", c.folder)
			if status != c.status || !strings.Contains(out+err, c.want) {
				t.Errorf("status %d, no %q: %s%s", status, c.want, out, err)
			}
			after := everything(t, ".")
			if c.status == exitMet {
				if c.folder == "." {
					c.folder = ""
					for name := range after {
						if ours.MatchString(filepath.ToSlash(name)) || name == manifestName || name == "tables" || name == "boards" {
							delete(after, name)
						}
					}
				}
				unchanged(t, before, after, c.folder)
				return
			}
			unchanged(t, before, after, "")
		})
	}
}

// A list that names what no build writes deletes nothing.
func TestForgedList(t *testing.T) {
	forged, err := json.Marshal(manifest{manifestFormat, []string{"../outside.loom", "mine.txt", "tables", "bench-a/../mine.txt", "tables/../../outside.loom", "./mine.txt"}})
	if err != nil {
		t.Fatal(err)
	}
	put(t, map[string]string{"job.loom": lampJob, "outside.loom": "section outside\n", "books/mine.txt": "mine", "books/written.json": string(forged)})
	before := everything(t, ".")
	delete(before, filepath.Join("books", "written.json"))
	if status, out, err := command(t, "build", "job.loom", "-o", "books"); status != exitMet {
		t.Errorf("status %d: %s%s", status, out, err)
	}
	unchanged(t, before, everything(t, "."), "books")
}

// A folder that may not be written into; and no half-written file is left anywhere.
func TestReadOnlyFolder(t *testing.T) {
	put(t, map[string]string{"job.loom": lampJob, "books/x": ""})
	if err := os.Chmod("books", 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod("books", 0o755)
	folder := "books"
	if f, err := os.Create("books/try"); err == nil { // this user may write everywhere but here
		f.Close()
		os.Remove("books/try")
		if runtime.GOOS != "linux" {
			t.Skip("this user may write everywhere")
		}
		folder = "/proc/self"
	}
	before := everything(t, ".")
	if status, out, err := command(t, "build", "job.loom", "-o", folder); status != exitMisuse || !strings.Contains(err, "cannot write "+folder) {
		t.Errorf("status %d: %s%s", status, out, err)
	}
	unchanged(t, before, everything(t, "."), "")
}
