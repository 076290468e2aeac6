package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"golang.org/x/term"

	"loomsheet/harness"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/report"
	"loomsheet/lang/resolve"
)

// job is a description that was read and, when it could be understood, compiled.
type job struct {
	*harness.Result
	Sources *resolve.Sources
	Text    diag.List // mistakes and notes of the text
	told    string    // how many circuits, wires and cases there are, once the result is let go of
}

// files is the texts of the job by name.
func (j *job) files() report.Files {
	out := report.Files{}
	for _, f := range j.Sources.Files {
		out[f.Name] = []byte(f.Text)
	}
	return out
}

// messages is everything there is to say, sorted.
func (j *job) messages() diag.List {
	all := append(diag.List{}, j.Text...)
	if j.Result != nil {
		all = append(all, j.Findings...)
	}
	all.Sort()
	return all
}

// open reads a job and compiles it. An unreadable main file is an error; everything else is a message.
func open(path string, stderr io.Writer) (*job, error) {
	done := progress(stderr, "working on "+filepath.Base(path))
	defer done()
	declared, sources, text, err := declare(path)
	if err != nil {
		return nil, err
	}
	j := &job{Sources: sources, Text: text}
	if !text.HasMistakes() {
		j.Result = harness.Compile(declared)
	}
	return j, nil
}

// declare reads the facts of a job, its texts, and what is to be said of them.
func declare(path string) (*design.Job, *resolve.Sources, diag.List, error) {
	dir := filepath.Dir(path)
	inside, err := os.OpenRoot(dir)
	if err != nil {
		return nil, nil, nil, fmt.Errorf("cannot read %s: %v", path, plain(err))
	}
	defer inside.Close()
	main := filepath.Base(path)
	first, as, err := readKnown(inside, main)
	switch {
	case errors.Is(err, resolve.ErrOutside):
		return nil, nil, nil, fmt.Errorf("cannot read %s: it is a link that leads outside the job's folder; give the file that it leads to", path)
	case err != nil:
		return nil, nil, nil, fmt.Errorf("cannot read %s: %v", path, err)
	}
	type known struct {
		name string
		as   os.FileInfo
	}
	read := []known{{main, as}}
	load := func(name string) ([]byte, error) {
		if name == main {
			return first, nil
		}
		text, as, err := readKnown(inside, filepath.FromSlash(name))
		if err != nil {
			return nil, err
		}
		for _, k := range read {
			if os.SameFile(k.as, as) {
				return nil, resolve.Again{As: k.name}
			}
		}
		read = append(read, known{name, as})
		return text, nil
	}
	declared, sources, text := resolve.Job(main, load, parts.Files(), rule.Keys())
	if !text.HasMistakes() {
		text.Add(unprintable(sources)...)
	}
	return declared, sources, text, nil
}

// mostBytes is the largest source file read; a whole car is some 30 kB.
const mostBytes = 16 << 20

var errTooLarge = fmt.Errorf("it is larger than %d MB", mostBytes>>20)

var errNoFile = errors.New("it is not a file")

// readIn reads a file below a folder. It looks before it opens, since opening a device may do something, and after, since another may stand
// there by then; it waits for no pipe.
func readIn(root *os.Root, name string) ([]byte, error) {
	text, _, err := readKnown(root, name)
	return text, err
}

// readKnown also tells which file it is.
func readKnown(root *os.Root, name string) ([]byte, os.FileInfo, error) {
	info, err := root.Stat(name)
	if err != nil {
		return nil, nil, plain(err)
	}
	if !info.Mode().IsRegular() {
		return nil, nil, errNoFile
	}
	f, err := root.OpenFile(name, os.O_RDONLY|noWait, 0)
	if err != nil {
		return nil, nil, plain(err)
	}
	defer f.Close()
	if info, err = f.Stat(); err != nil || !info.Mode().IsRegular() {
		return nil, nil, errNoFile
	}
	text, err := readAll(f)
	return text, info, err
}

// readFile reads a file by its path, links followed.
func readFile(name string) ([]byte, error) {
	to, err := filepath.EvalSymlinks(name)
	if err != nil {
		return nil, plain(err)
	}
	root, err := os.OpenRoot(filepath.Dir(to))
	if err != nil {
		return nil, plain(err)
	}
	defer root.Close()
	return readIn(root, filepath.Base(to))
}

// readAll reads what is not larger than mostBytes.
func readAll(r io.Reader) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err == nil && len(text) > mostBytes {
		return nil, errTooLarge
	}
	return text, plain(err)
}

// plain takes the path and the operation out of a file error, since the message names the file itself.
func plain(err error) error {
	var p *os.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		err = p.Err
	case errors.As(err, &l):
		err = l.Err
	}
	switch {
	case err == nil:
		return nil
	case errors.Is(err, os.ErrNotExist):
		return errNotThere
	case strings.Contains(err.Error(), "escapes from parent"): // package os has no name for this error
		return resolve.ErrOutside
	}
	return err
}

// errNotThere is a missing file, to be told from an unreadable one.
var errNotThere = notThere{}

type notThere struct{}

func (notThere) Error() string        { return "there is no such file" }
func (notThere) Is(target error) bool { return target == os.ErrNotExist }

// progress prints a line on a terminal when work takes over a second.
func progress(w io.Writer, what string) (done func()) {
	if !isTerminal(w) {
		return func() {}
	}
	shown := make(chan bool, 1)
	t := time.AfterFunc(time.Second, func() {
		fmt.Fprint(w, what+" ...")
		shown <- true
	})
	return func() {
		if !t.Stop() {
			<-shown
			fmt.Fprint(w, "\r\x1b[K")
		}
	}
}

func isTerminal(w io.Writer) bool {
	if p, ok := w.(*printer); ok {
		w = p.to
	}
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// colour tells whether w should get colour: only a terminal, never with NO_COLOR.
func colour(w io.Writer) bool {
	return isTerminal(w) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

// formatFlag is --format.
type formatFlag string

func (f *formatFlag) String() string { return string(*f) }
func (f *formatFlag) Type() string   { return "text|json" }
func (f *formatFlag) Set(s string) error {
	if s != "text" && s != "json" {
		return errors.New("it is text or json")
	}
	*f = formatFlag(s)
	return nil
}

// tell prints messages and a last line that says what was met, what is open and what was not checked.
func (j *job) tell(w io.Writer, format formatFlag, whole bool) error {
	all := j.messages()
	if format == "json" {
		return report.JSON(w, all, j.files())
	}
	if err := report.Print(w, all, j.files(), report.Options{Colour: colour(w), All: whole}); err != nil {
		return err
	}
	_, err := fmt.Fprintln(w, j.verdict())
	return err
}

// verdict says what was met, in one or two lines. It never says more than was checked.
func (j *job) verdict() string {
	if j.Result == nil {
		n := 0
		for _, d := range j.Text {
			if d.Severity == diag.Mistake {
				n++
			}
		}
		return count(n, "mistake") + " in the text; nothing was checked."
	}
	var b strings.Builder
	b.WriteString(j.counts() + ". ")
	accepted := 0
	for _, d := range j.Findings {
		if d.Accepted != nil {
			accepted++
		}
	}
	if open := j.messages().Open(); open == 0 {
		b.WriteString("Every limit that was checked is met")
	} else {
		b.WriteString(count(open, "finding") + " open")
	}
	if accepted > 0 {
		fmt.Fprintf(&b, ", %s accepted", count(accepted, "finding"))
	}
	b.WriteString(".")
	if m := rule.Missing(); len(m) > 0 {
		var keys []string
		for _, r := range m {
			keys = append(keys, r.Key)
		}
		fmt.Fprintf(&b, "\nNot checked: %s.", strings.Join(keys, ", "))
	}
	return b.String()
}

// counts is how many circuits, wires and cases there are.
func (j *job) counts() string {
	if j.told != "" {
		return j.told
	}
	return fmt.Sprintf("%s, %s, %s", count(len(j.Job.Circuits), "circuit"), count(len(j.Net.Wires), "wire"), count(len(j.Cases), "case"))
}

// letGo lets go of all but what is still to be told.
func (j *job) letGo() {
	j.told = j.counts()
	j.Result = &harness.Result{Findings: j.Findings}
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
