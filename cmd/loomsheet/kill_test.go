//go:build unix

package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// stepWriter is run in a process of its own: it writes the new books into a folder and sends itself a signal after so many steps.
func stepWriter() {
	var left, sig int
	fmt.Sscan(os.Getenv("STEPS"), &left, &sig)
	afterStep = func() {
		if left--; left == 0 {
			syscall.Kill(os.Getpid(), syscall.Signal(sig))
		}
	}
	if err := fill(os.Args[1], newBooks...); err != nil {
		fmt.Println(err)
		os.Exit(exitMisuse)
	}
	if left > 0 {
		os.Exit(3) // there are fewer steps
	}
}

// whole demands that each book is one of the old or the new ones, and that a set of both is marked.
func whole(t *testing.T, what string, after map[string]string, sets ...map[string]string) {
	t.Helper()
	_, marked := after[filepath.Join("books", markName)]
	fits := make([]bool, len(sets))
	for i, set := range sets {
		fits[i] = true
		for _, other := range sets {
			for name := range other {
				fits[i] = fits[i] && after[name] == set[name]
			}
		}
	}
	for name, text := range after {
		known := text == "mine" || !ours.MatchString(filepath.ToSlash(strings.TrimPrefix(name, "books"+string(filepath.Separator))))
		for _, set := range sets {
			known = known || set[name] == text && text != ""
		}
		if !known {
			t.Errorf("%s: %s is neither the old one nor the new", what, name)
		}
	}
	for _, f := range fits {
		if f {
			return
		}
	}
	if !marked {
		t.Errorf("%s: books of two builds lie in one folder, and nothing says so", what)
	}
}

// books is what of a folder's content a build may have written.
func books(all map[string]string) map[string]string {
	out := map[string]string{}
	for name, text := range all {
		if rel, ok := strings.CutPrefix(filepath.ToSlash(name), "books/"); ok && ours.MatchString(rel) {
			out[name] = text
		}
	}
	return out
}

func pairs(list []string) map[string]string {
	out := map[string]string{}
	for i := 0; i < len(list); i += 2 {
		out[filepath.Join("books", filepath.FromSlash(list[i]))] = list[i+1]
	}
	return out
}

// The writing of books is cut short after each of its steps, by the system without warning or by a signal that is heard.
func TestCutShortAnywhere(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGKILL, syscall.SIGTERM, syscall.SIGINT} {
		mixed, steps := 0, 0
		for k := 1; ; k++ {
			if sig == syscall.SIGINT && k%5 != 0 { // heard like SIGTERM
				if k > steps+30 {
					break
				}
				continue
			}
			what := fmt.Sprintf("%v at step %d", sig, k)
			put(t, map[string]string{"books/mine.txt": "mine", "books/tables/mine.csv": "mine"})
			if err := fill("books", oldBooks...); err != nil {
				t.Fatal(err)
			}
			c := exec.Command("step-writer", "books")
			c.Env = append(os.Environ(), fmt.Sprintf("STEPS=%d %d", k, sig))
			out, err := c.CombinedOutput()
			if c.ProcessState.ExitCode() == 3 {
				break
			}
			steps++
			if ws := c.ProcessState.Sys().(syscall.WaitStatus); (sig == syscall.SIGKILL || err != nil) && (!ws.Signaled() || ws.Signal() != sig) {
				t.Fatalf("%s: %v: %s", what, err, out)
			}
			after := everything(t, ".")
			whole(t, what, after, pairs(oldBooks), pairs(newBooks))
			_, marked := after[filepath.Join("books", markName)]
			_, left := after[filepath.Join("books", aside)]
			if marked {
				mixed++
			}
			if sig != syscall.SIGKILL && (marked || left) {
				t.Errorf("%s: something is left: %v", what, after)
			}
			// The next build succeeds, and nothing of the one before it is left.
			if err := fill("books", newBooks...); err != nil {
				t.Fatalf("%s, then again: %v", what, err)
			}
			after = everything(t, ".")
			want := pairs(newBooks)
			want["books/mine.txt"], want["books/tables/mine.csv"] = "mine", "mine"
			for name, text := range want {
				if after[name] != text {
					t.Errorf("%s, then again: %s is %q", what, name, after[name])
				}
			}
			if len(after) != len(want)+4 { // and the folders and the list
				t.Errorf("%s, then again: %v", what, after)
			}
		}
		if sig != syscall.SIGINT && steps < 20 || sig == syscall.SIGKILL && mixed < 4 {
			t.Errorf("%v: %d steps, %d of them between two sets: not much was tried", sig, steps, mixed)
		}
	}
}

// program is the command in a process of its own.
func program(args ...string) *exec.Cmd { return exec.Command("loomsheet", args...) }

// The command is killed at random moments, most of them while it writes; the folder holds one build or says that it does not.
func TestKilled(t *testing.T) {
	const times = 8
	put(t, map[string]string{"a.loom": lampJob, "b.loom": strings.Replace(lampJob, "revision A", "revision B", 1), "books/mine.txt": "mine"})
	sets := map[string]map[string]string{}
	for _, job := range []string{"b", "a"} {
		if status, out, err := command(t, "build", job+".loom", "-o", "books"); status != exitMet {
			t.Fatal(out, err)
		}
		sets[job] = books(everything(t, "."))
	}
	r := rand.New(rand.NewPCG(7, 7))
	writing := 0
	for k := range times {
		job := []string{"b", "a"}[k%2]
		c := program("build", job+".loom", "-o", "books")
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan error, 1)
		go func() { ended <- c.Wait() }()
		var err error
		seen := false
		for !seen && err == nil {
			select {
			case err = <-ended:
				ended <- err
				err = fs.ErrClosed
			case <-time.After(time.Millisecond / 4):
				_, e := os.Lstat(filepath.Join("books", aside))
				seen = e == nil
			}
		}
		time.Sleep(time.Duration(r.IntN(6000)) * time.Microsecond)
		c.Process.Kill()
		<-ended
		if seen {
			writing++
		}
		after := everything(t, ".")
		whole(t, fmt.Sprintf("killed, time %d", k), after, sets["a"], sets["b"])
		if after["books/mine.txt"] != "mine" {
			t.Error("a person's file is gone")
		}
	}
	if writing < times/2 {
		t.Errorf("only %d of %d were killed while they wrote", writing, times)
	}
	if status, out, err := command(t, "build", "b.loom", "-o", "books"); status != exitMet {
		t.Fatal(out, err)
	}
	after := everything(t, ".")
	for name, text := range sets["b"] {
		if after[name] != text {
			t.Errorf("%s is not as it was", name)
		}
	}
	if n := len(books(after)); n != len(sets["b"]) {
		t.Errorf("%d books, %d are wanted", n, len(sets["b"]))
	}
	for name := range after {
		if strings.Contains(name, aside) || strings.Contains(name, markName) {
			t.Errorf("%s is left", name)
		}
	}
}

// A full disk: nothing of the new build is left, the books of the old one are as they were. Files of limited size stand for it where no small disk can be made.
func TestFullDisk(t *testing.T) {
	put(t, map[string]string{"job.loom": lampJob, "books/mine.txt": "mine"})
	if err := fill("books", oldBooks...); err != nil {
		t.Fatal(err)
	}
	before := everything(t, ".")
	out, err := exec.Command("sh", "-c", "ulimit -f 40; exec loomsheet build job.loom -o books").CombinedOutput()
	if err == nil || !strings.Contains(string(out), "cannot write books/") || !strings.Contains(string(out), "file too large") || strings.Contains(string(out), "goroutine") {
		t.Errorf("%v: %s", err, out)
	}
	unchanged(t, before, everything(t, "."), "")
	out, err = exec.Command("unshare", "-rm", "sh", "-c", "mount -t tmpfs -o size=64k none books && echo made && echo mine >books/mine.txt && loomsheet build job.loom -o books; echo status $?; ls -A books").CombinedOutput()
	if err != nil || !strings.HasPrefix(string(out), "made") {
		t.Logf("no small disk can be made here: %v %s", err, out)
		return
	}
	if !strings.Contains(string(out), "no space left on device") || !strings.HasSuffix(string(out), "status 2\nmine.txt\n") {
		t.Errorf("%s", out)
	}
}

// An answer that cannot be printed is not an answer: status 2 and a message.
func TestFullOutput(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip(err)
	}
	defer full.Close()
	put(t, map[string]string{"job.loom": lampJob, "messy.loom": messy})
	for _, args := range [][]string{{"check", "job.loom"}, {"check", "job.loom", "--format", "json"}, {"build", "job.loom"}, {"worked", "job.loom", "feed"}, {"unplug", "job.loom", "lamp"},
		{"netlist", "job.loom", "--case", "lit"}, {"explain", "drop-over"}, {"fmt", "--check", "messy.loom"}, {"freeze", "job.loom"}, {"--help"}} {
		var errs bytes.Buffer
		if status := run(args, full, &errs); status != exitMisuse || !strings.Contains(errs.String(), "cannot print: no space left on device") {
			t.Errorf("%v: status %d: %s", args, status, errs.String())
		}
	}
	if _, err := os.Stat("out/review.pdf"); err != nil {
		t.Error(err)
	}
}

// A reader who goes away ends the program without a word, and its books are whole all the same.
func TestClosedPipe(t *testing.T) {
	put(t, map[string]string{"job.loom": lampJob})
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	r.Close()
	defer w.Close()
	var errs bytes.Buffer
	c := program("build", "job.loom", "-o", "books")
	c.Stdout, c.Stderr = w, &errs
	err = c.Run()
	if ws, ok := c.ProcessState.Sys().(syscall.WaitStatus); !ok || !ws.Signaled() || ws.Signal() != syscall.SIGPIPE || errs.Len() > 0 {
		t.Errorf("%v: %s", err, errs.String())
	}
	after := everything(t, "books")
	if _, left := after[aside]; left || after["review.pdf"] == "" || after[manifestName] == "" || after[markName] != "" {
		t.Errorf("%d files", len(after))
	}
}
