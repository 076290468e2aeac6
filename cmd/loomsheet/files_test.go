package main

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// fill writes a set of books, in the order of their names and texts, into a folder.
func fill(dir string, books ...string) error {
	f, err := openFolder(dir, "source")
	if err != nil {
		return err
	}
	defer onStop(f.stop)()
	defer f.drop()
	var names []string
	for i := 0; i < len(books); i += 2 {
		if err := f.add(books[i], strings.NewReader(books[i+1])); err != nil {
			return err
		}
		names = append(names, books[i])
	}
	return f.done(names)
}

var (
	oldBooks = []string{"review.pdf", "old review", "tables/pins.csv", "old pins", "lid.pdf", "old lid"}
	newBooks = []string{"review.pdf", "new review", "tables/pins.csv", "new pins", "shell.pdf", "new shell"}
)

// What a person did with the books of an earlier build is never undone, and nothing of a build that fails is left.
func TestFolderKeeps(t *testing.T) {
	write := func(name, text string) func(*testing.T) {
		return func(t *testing.T) {
			os.MkdirAll(filepath.Dir(name), 0o755)
			if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	mode := func(name string, m os.FileMode) func(*testing.T) {
		return func(t *testing.T) {
			if err := os.Chmod(name, m); err != nil {
				t.Fatal(err)
			}
		}
	}
	for _, c := range []struct {
		name string
		do   func(*testing.T)
		want string // empty: the build goes on
	}{
		{"nothing done", func(*testing.T) {}, ""},
		{"a note in a book", write("books/review.pdf", "old review, with a note"), "review.pdf was changed since a build wrote it"},
		{"a note in a book that goes", write("books/lid.pdf", "mine"), "lid.pdf was changed since a build wrote it"},
		{"a table saved again", write("books/tables/pins.csv", ""), "was changed since a build wrote it"},
		{"a book locked", mode("books/review.pdf", 0o444), "review.pdf is read-only"},
		{"a book that goes locked", mode("books/lid.pdf", 0o444), "lid.pdf is read-only"},
		{"a book taken away", func(t *testing.T) { os.Remove("books/review.pdf") }, ""},
		{"an own shell book", write("books/shell.pdf", "mine"), "shell.pdf is there already and was not written by a build"},
		{"an own mark", write("books/UNFINISHED.txt", "mine"), "UNFINISHED.txt is there already"},
		{"the mark of a build cut short", write("books/UNFINISHED.txt", markText), ""},
		{"books left aside", write("books/"+aside+"/tables/pins.csv", "half"), ""},
		{"an own file aside", write("books/"+aside+"/mine.txt", "mine"), "cannot clear away"},
		{"aside is a file", write("books/"+aside, "mine"), "is there already"},
		{"aside leads out", func(t *testing.T) { os.Symlink("..", "books/"+aside) }, "is there already"},
		{"a list of an older program", write("books/written.json", `{"format":"loomsheet written 1","files":["review.pdf","lid.pdf","tables/pins.csv"]}`), ""},
		{"a list that is none", write("books/written.json", `{`), "was not written by a build"},
		{"own files beside", write("books/tables/own.csv", "mine"), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			put(t, map[string]string{"job.loom": ""})
			if err := fill("books", oldBooks...); err != nil {
				t.Fatal(err)
			}
			c.do(t)
			before := everything(t, ".")
			err := fill("books", newBooks...)
			after := everything(t, ".")
			if c.want != "" {
				if err == nil || !strings.Contains(err.Error(), c.want) {
					t.Errorf("%v, not %q", err, c.want)
				}
				unchanged(t, before, after, "")
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			for i := 0; i < len(newBooks); i += 2 {
				if after[filepath.Join("books", filepath.FromSlash(newBooks[i]))] != newBooks[i+1] {
					t.Errorf("%s is not the new one", newBooks[i])
				}
			}
			for _, gone := range []string{"lid.pdf", markName, aside} {
				if _, ok := after[filepath.Join("books", gone)]; ok {
					t.Errorf("%s is still there", gone)
				}
			}
			if text, had := before["books/tables/own.csv"]; had && after["books/tables/own.csv"] != text {
				t.Error("an own table was changed")
			}
		})
	}
}

// A copy of the books by hard links keeps the old ones; a mode given to a book stays; a folder that is a link is followed.
func TestFolderModes(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("modes and links of unix")
	}
	put(t, map[string]string{"real/x": "", "copy/x": ""})
	if err := os.Symlink("real", "books"); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(fill("books", oldBooks...), os.Link("real/review.pdf", "copy/review.pdf"), os.Chmod("real/lid.pdf", 0o600), os.Chmod("real/tables/pins.csv", 0o660)); err != nil {
		t.Fatal(err)
	}
	if err := fill("books", newBooks...); err != nil {
		t.Fatal(err)
	}
	if string(contents(t, "copy/review.pdf")) != "old review" || string(contents(t, "real/review.pdf")) != "new review" {
		t.Error("a copy by a hard link was changed, or the book was not")
	}
	if info, err := os.Stat("real/tables/pins.csv"); err != nil || info.Mode().Perm() != 0o660 {
		t.Errorf("%v %v", info.Mode(), err)
	}
}

// Two builds into one folder: the second says so and touches nothing.
func TestTwoBuilds(t *testing.T) {
	put(t, map[string]string{"job.loom": lampJob})
	first, err := openFolder("books", "source")
	if err != nil {
		t.Fatal(err)
	}
	defer first.drop()
	if _, ok := first.lock.(*os.File); !ok {
		t.Skip("this system has no locks on folders")
	}
	if err := first.add("review.pdf", strings.NewReader("first")); err != nil {
		t.Fatal(err)
	}
	if status, _, err := command(t, "build", "job.loom", "-o", "books"); status != exitMisuse || !strings.Contains(err, "another build is writing into books") {
		t.Errorf("status %d: %s", status, err)
	}
	if err := first.done([]string{"review.pdf"}); err != nil {
		t.Error(err)
	}
	if len(everything(t, "books")) != 3 { // the folder, the book, the list
		t.Errorf("%v", everything(t, "books"))
	}
}

const (
	messy = "harness   \"Lamp\"   revision A\nzone open   air 35 C\n"
	neat  = "harness \"Lamp\" revision A\nzone open air 35 C\n"
)

// fmt over files that are more than plain files.
func TestFormatInPlace(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("modes and links of unix")
	}
	put(t, map[string]string{"job.loom": messy, "far/real.loom": messy, "locked.loom": messy, ".loomsheet-0123456789abcdef": "half", ".loomsheet-0000000000000000": "half", ".loomsheet-mine": "mine"})
	long := time.Now().Add(-2 * leftAfter)
	if err := errors.Join(os.Chmod("job.loom", 0o640), os.Chmod("locked.loom", 0o444), os.Link("job.loom", "twin.loom"), os.Symlink("far/real.loom", "link.loom"), os.Symlink("none.loom", "nowhere.loom"),
		os.Chtimes(".loomsheet-0000000000000000", long, long), os.Chtimes(".loomsheet-mine", long, long)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		status int
		want   string
	}{
		{"job.loom", exitMet, "had another name (a hard link)"},
		{"link.loom", exitMet, ""},
		{"locked.loom", exitMisuse, "cannot write locked.loom: it is read-only"},
		{"nowhere.loom", exitMisuse, "no such file"},
	} {
		if status, out, err := command(t, "fmt", c.name); status != c.status || !strings.Contains(err, c.want) || c.want == "" && err != "" {
			t.Errorf("%s: status %d: %s%s", c.name, status, out, err)
		}
	}
	after := everything(t, ".")
	for name, want := range map[string]string{"job.loom": neat, "twin.loom": messy, "far/real.loom": neat, "link.loom": "-> far/real.loom", "locked.loom": messy,
		".loomsheet-0123456789abcdef": "half", ".loomsheet-mine": "mine", ".loomsheet-0000000000000000": ""} {
		if after[name] != want {
			t.Errorf("%s holds %q", name, after[name])
		}
	}
	if info, err := os.Stat("job.loom"); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("job.loom has mode %v: %v", info.Mode(), err)
	}
}

// A file that somebody saves while it is being replaced keeps what was saved.
func TestChangedMeanwhile(t *testing.T) {
	put(t, map[string]string{"job.loom": messy, "other.loom": lampJob})
	defer func() { afterStep = func() {} }()
	afterStep = func() { os.WriteFile("job.loom", []byte("saved meanwhile\n"), 0o644) }
	if status, _, err := command(t, "fmt", "job.loom"); status != exitMisuse || !strings.Contains(err, "it was changed meanwhile; nothing was written") {
		t.Errorf("status %d: %s", status, err)
	}
	afterStep = func() { os.WriteFile("new.loom", []byte("saved meanwhile\n"), 0o644) }
	if _, err := replaceFile("new.loom", nil, []byte("ours")); err == nil || !strings.Contains(err.Error(), "changed meanwhile") {
		t.Error(err)
	}
	afterStep = func() {}
	after := everything(t, ".")
	if after["job.loom"] != "saved meanwhile\n" || after["new.loom"] != "saved meanwhile\n" || len(after) != 4 {
		t.Errorf("%v", after)
	}
	// What was decided for one text is not written down for another.
	j, err := open("other.loom", t.Output())
	if err != nil || j.same(".") != nil {
		t.Fatal(err, j.same("."))
	}
	os.WriteFile("other.loom", []byte(lampJob+"section more\n"), 0o644)
	if err := j.same("."); err == nil || !strings.Contains(err.Error(), "nothing was frozen") {
		t.Error(err)
	}
}

// freeze keeps its hands off a file that may only be read.
func TestFreezeLocked(t *testing.T) {
	put(t, map[string]string{"job.loom": lampJob + "include \"job-frozen.loom\"\n", "job-frozen.loom": "# decided\n"})
	if err := os.Chmod("job-frozen.loom", 0o444); err != nil {
		t.Fatal(err)
	}
	before := everything(t, ".")
	if status, _, err := command(t, "freeze", "job.loom"); status != exitMisuse || !strings.Contains(err, "cannot write job-frozen.loom: it is read-only") {
		t.Errorf("status %d: %s", status, err)
	}
	unchanged(t, before, everything(t, "."), "")
}

// Includes by links, of what is no file, and of what is too large.
func TestIncludes(t *testing.T) {
	put(t, map[string]string{"out.loom": "section out\n", "job/in/part.loom": "section part\n", "job/x.loom": "section x\n"})
	wd, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for to, name := range map[string]string{"in": "job/folder", "x.loom": "job/file.loom", "../out.loom": "job/out.loom", "..": "job/up", filepath.Join(wd, "job/x.loom"): "job/absolute.loom",
		"loop-b": "job/loop-a", "loop-a": "job/loop-b", "/dev": "job/dev", "/dev/zero": "job/zero", "/dev/stdin": "job/stdin", "gone.loom": "job/nowhere.loom", "../job/x.loom": "job/detour.loom"} {
		if err := os.Symlink(to, name); err != nil {
			t.Skip(err)
		}
	}
	makePipe(t, "job/pipe")
	huge, err := os.Create("job/huge.loom")
	if err != nil {
		t.Fatal(err)
	}
	huge.Truncate(1 << 40) // takes no room on the disk
	huge.Close()
	for name, want := range map[string]string{
		"folder/part.loom": "", "file.loom": "", "in/../x.loom": "",
		"out.loom": "include-outside", "up/out.loom": "include-outside", "absolute.loom": "include-outside", "dev/zero": "include-outside", "zero": "include-outside", "stdin": "include-outside",
		"detour.loom": "include-outside", "in/../../out.loom": "include-outside",
		"loop-a": "too many levels", "pipe": "it is not a file", "folder": "it is not a file", "huge.loom": "larger than 16 MB", "nowhere.loom": "no-such-file", "x.loom/y": "not a directory",
	} {
		text := "harness \"Includes\" revision A\ninclude \"" + name + "\"\n"
		if err := os.WriteFile("job/job.loom", []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		_, _, said, err := declare("job/job.loom")
		if err != nil {
			t.Fatal(err)
		}
		met := false
		for _, d := range said {
			if strings.Contains(d.Code+" "+d.Detail, want) && want != "" {
				met = true
				if got := text[d.Span.Start:d.Span.End]; d.Span.File.String() != "job.loom" || !strings.Contains(got, name) {
					t.Errorf("%s: the message points at %q", name, got)
				}
			}
			if want == "" && (d.Code == "include-outside" || strings.Contains(d.Code, "file")) {
				t.Errorf("%s: %s", name, d.Title)
			}
		}
		if want != "" && !met {
			t.Errorf("%s: nothing says %q: %v", name, want, said)
		}
	}
}

// A file under another name is not read again, whatever kind of link leads to it: one mistake, at the line that asks for it.
func TestIncludedAgain(t *testing.T) {
	put(t, map[string]string{"in/part.loom": "section part\n"})
	for _, err := range []error{os.Symlink("job.loom", "soft.loom"), os.Symlink("in", "too"), os.WriteFile("job.loom", nil, 0o644), os.Link("job.loom", "hard.loom"), os.Link("in/part.loom", "part.loom")} {
		if err != nil {
			t.Skip(err)
		}
	}
	for _, tt := range []struct{ include, at, want string }{
		{`"soft.loom"`, `"soft.loom"`, "`job.loom` includes itself, as `soft.loom`"},
		{`"hard.loom"`, `"hard.loom"`, "`job.loom` includes itself, as `hard.loom`"},
		{"\"in/part.loom\"\ninclude \"too/part.loom\"", `"too/part.loom"`, "`too/part.loom` is `in/part.loom` under another name"},
		{"\"part.loom\"\ninclude \"in/part.loom\"", `"in/part.loom"`, "`in/part.loom` is `part.loom` under another name"},
		{"\"job.loom\"\ninclude \"./in/../job.loom\"\ninclude \"part.loom\"", "", ""},
	} {
		text := strings.Replace(lampJob, "section body", "include "+tt.include+"\nsection body", 1)
		f, err := os.OpenFile("job.loom", os.O_WRONLY|os.O_TRUNC, 0)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.WriteString(text); err != nil {
			t.Fatal(err)
		}
		f.Close()
		_, _, said, err := declare("job.loom")
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case tt.want == "":
			if said.HasMistakes() {
				t.Errorf("%s: %v", tt.include, said)
			}
		case len(said) != 1 || said[0].Code != "file-again" || said[0].Title != tt.want || text[said[0].Span.Start:said[0].Span.End] != tt.at:
			t.Errorf("%s: %+v", tt.include, said)
		}
	}
}

// A disk that gives nothing back is a message too, whoever asks. As a file that even root cannot read stands the start of a process's memory.
func TestBadDisk(t *testing.T) {
	if runtime.GOOS == "linux" {
		if status, _, err := command(t, "check", "/proc/self/mem"); status != exitMisuse || !strings.Contains(err, "cannot read /proc/self/mem: input/output error") {
			t.Errorf("status %d: %s", status, err)
		}
	}
	_, _, said := resolve.Job("job.loom", func(name string) ([]byte, error) {
		if name == "job.loom" {
			return []byte("harness \"Bad disk\"\ninclude \"part.loom\"\n"), nil
		}
		return nil, errors.New("input/output error")
	}, parts.Files(), nil)
	for _, d := range said {
		if d.Code == "file-unreadable" && d.Detail == "input/output error" && d.Title == "`part.loom` cannot be read" {
			return
		}
	}
	t.Errorf("%v", said)
}
