package resolve

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
	"loomsheet/lang/token"
)

// ErrOutside is what a loader returns for a file that lies outside the job's folder.
var ErrOutside = errors.New("outside the job's folder")

// Again is what a loader returns for a file that it gave already under another name: a link to it, or the same name written otherwise.
type Again struct{ As string }

func (a Again) Error() string { return "it is " + a.As + " under another name" }

// Source is one text that was read.
type Source struct {
	Name    string // as in the spans of messages
	Text    string
	Library bool // of the built-in library
}

// Sources is the texts of a job: its first file, the included ones by name, then those of the library that were needed.
type Sources struct {
	Files []Source
}

// Text finds the text of a file by its name.
func (s *Sources) Text(name string) (string, bool) {
	for _, f := range s.Files {
		if f.Name == name {
			return f.Text, true
		}
	}
	return "", false
}

// Digest identifies the job's own texts: the SHA-256 over names and texts in the order of Files, in hex.
func (s *Sources) Digest() string {
	h := sha256.New()
	for _, f := range s.Files {
		if !f.Library {
			fmt.Fprintf(h, "%d %s\n%d\n%s", len(f.Name), f.Name, len(f.Text), f.Text)
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

const (
	mostFiles = 500
	mostBytes = 8 << 20
)

// want is a file to be read and the line that asks for it.
type want struct {
	name string
	span diag.Span
}

// read reads all files of the job, then takes their statements out of every short form.
func (b *builder) read(main string, load func(string) ([]byte, error)) {
	queue := []want{{name: main}}
	seen := map[string]bool{main: true}
	var lines []*syntax.Line
	total := 0
	for len(queue) > 0 {
		w := queue[0]
		queue = queue[1:]
		text, err := load(w.name)
		if err != nil {
			var again Again
			if errors.As(err, &again) {
				b.again(w, again.As)
			} else {
				b.unreadable(w, err)
			}
			continue
		}
		total += len(text)
		if len(b.src.Files) >= mostFiles || total > mostBytes {
			b.blind = true
			if w.span.IsZero() {
				w.span.File = diag.FileOf(w.name)
			}
			b.msgs.Mistake(w.span, "too-much", "the files of this job are too many or too large", fmt.Sprintf("At most %d files and %d MB are read.", mostFiles, mostBytes>>20))
			break
		}
		b.src.Files = append(b.src.Files, Source{Name: w.name, Text: string(text)})
		file, msgs := syntax.Parse(w.name, text)
		if len(msgs) > syntax.MostTold || len(b.shape) > syntax.MostTold {
			b.blind = true // lines that nobody is told of declare things as well
		}
		if len(b.shape) <= syntax.MostTold {
			b.shape.Add(msgs...)
			b.lost(string(text), msgs)
		}
		for _, l := range file.Lines {
			if l.Word.Text != "include" {
				lines = append(lines, l)
				continue
			}
			for _, next := range b.include(l) {
				if !seen[next.name] {
					seen[next.name] = true
					queue = append(queue, next)
				}
			}
		}
	}
	if n := len(b.src.Files); n > 1 {
		slices.SortFunc(b.src.Files[1:], func(x, y Source) int { return strings.Compare(x.Name, y.Name) })
	}
	order := map[diag.File]int{}
	for i, f := range b.src.Files {
		order[diag.FileOf(f.Name)] = i
	}
	slices.SortStableFunc(lines, func(x, y *syntax.Line) int { return order[x.Span.File] - order[y.Span.File] })
	if len(lines) > sense.Budget {
		b.blind = true
		b.msgs.Mistake(lines[sense.Budget].Word.Span, "too-much", fmt.Sprintf("this job has more than %d statements", sense.Budget), "No harness is that large; write it as several jobs.")
		// Nothing else that is wrong with so many is told: it would hide this.
		lines = slices.DeleteFunc(lines[:sense.Budget], func(l *syntax.Line) bool { return l.Word.Text != "harness" })
	}
	b.expand(lines)
}

func (b *builder) include(l *syntax.Line) (out []want) {
	stmts, _ := b.sense.Lines([]*syntax.Line{l})
	for _, s := range stmts {
		if len(s.About) == 0 {
			b.blind = true
		}
		for _, v := range s.About {
			name := path.Clean(v.Text)
			if v.Text == "" || strings.ContainsAny(v.Text, "\\:\x00") || path.IsAbs(name) || name == ".." || strings.HasPrefix(name, "../") {
				b.blind = true
				b.msgs.Mistake(v.Span, "include-outside", fmt.Sprintf("`%s` lies outside the job's folder", token.Shorten(v.Text)),
					"A job reads files of its own folder only. Write the name as from that folder, with / between folders: \"frozen/rook.loom\".")
				continue
			}
			out = append(out, want{name, v.Span})
		}
	}
	return out
}

// again tells of a file that was read under another name: read twice, it would declare everything twice.
func (b *builder) again(w want, as string) {
	title := fmt.Sprintf("`%s` is `%s` under another name", token.Shorten(w.name), token.Shorten(as))
	if w.span.File.String() == as {
		title = fmt.Sprintf("`%s` includes itself, as `%s`", token.Shorten(as), token.Shorten(w.name))
	}
	b.msgs.Mistake(w.span, "file-again", title, "One is a link to the other. A file is read once: take this line out, or write a file of its own.")
}

func (b *builder) unreadable(w want, err error) {
	b.blind = true
	span := w.span
	if span.IsZero() {
		span = diag.SpanOf(w.name, 0, 0)
	}
	switch {
	case errors.Is(err, ErrOutside):
		b.msgs.Mistake(span, "include-outside", fmt.Sprintf("`%s` lies outside the job's folder", token.Shorten(w.name)), "A job reads files of its own folder only; copy the file there.")
	case errors.Is(err, fs.ErrNotExist):
		b.msgs.Mistake(span, "no-such-file", fmt.Sprintf("there is no file `%s`", token.Shorten(w.name)), "Its name is written as from the folder of the job.")
	default:
		b.msgs.Mistake(span, "file-unreadable", fmt.Sprintf("`%s` cannot be read", token.Shorten(w.name)), err.Error())
	}
}

// lost notes the names in the lines whose shape could not be read.
func (b *builder) lost(text string, msgs diag.List) {
	for _, d := range msgs {
		const most = 1000 // of a line that a person wrote
		at := min(int(d.Span.Start), len(text))
		before, after := text[max(0, at-most):at], text[at:min(len(text), at+most)]
		before = before[strings.LastIndexByte(before, '\n')+1:]
		after, _, _ = strings.Cut(after, "\n")
		line := before + after
		if len(line) >= most {
			continue
		}
		fields := strings.Fields(strings.NewReplacer("{", " ", "\"", " ", ",", ", ").Replace(line))
		if len(fields) > 0 {
			b.ghosts["word "+fields[0]] = true
		}
		for i := 1; i < len(fields); i++ {
			b.ghost([]string{strings.TrimSuffix(fields[i], ",")})
			if !strings.HasSuffix(fields[i], ",") {
				break
			}
		}
	}
}

// expand checks all lines and takes templates and ranges apart.
func (b *builder) expand(lines []*syntax.Line) {
	var plain []*syntax.Line
	for _, l := range lines {
		if l.Word.Text != "template" {
			plain = append(plain, l)
			continue
		}
		t := b.sense.Template(l)
		if t == nil {
			continue
		}
		if first := b.templates[t.Name]; first != nil {
			b.msgs.Mistake(t.Span, "name-twice", "there is a second template `"+t.Name+"`", "Give one of the two another name.").Point(first.Span, "first declared here")
			continue
		}
		b.templates[t.Name] = t
	}
	stmts, ghosts := b.sense.Lines(plain)
	b.ghost(ghosts)
	b.shape.Sort()
	for _, s := range stmts {
		s.Broken = s.Broken || b.marred(s.Whole)
		if s.Word.Name != "use" {
			b.stmts = append(b.stmts, b.sense.Repeat(s)...)
			continue
		}
		b.use(s)
	}
	for _, l := range lines {
		if l.Word.Text == "template" && len(l.About) > 0 {
			if t := b.templates[l.About[0].Text]; t != nil && !t.Used {
				t.Used = true
				b.sense.Look(t)
			}
		}
	}
}

// marred tells whether a mistake in the shape of the text lies inside a span.
func (b *builder) marred(span diag.Span) bool {
	i, _ := slices.BinarySearchFunc(b.shape, span, func(d diag.Diagnostic, s diag.Span) int {
		return d.Span.Compare(s)
	})
	return i < len(b.shape) && b.shape[i].Span.File == span.File && b.shape[i].Span.Start < span.End
}

func (b *builder) use(s *sense.Stmt) {
	if s.Name() == "" {
		b.blind = true
		return
	}
	t := b.templates[s.Name()]
	if t == nil {
		b.miss(s, missKey{"template", s.Name()}, s.NameSpan(), "no-such-template", fmt.Sprintf("there is no template `%s`", s.Name()), func(d *diag.Diagnostic) {
			names := make([]string, 0, len(b.templates))
			for n := range b.templates {
				names = append(names, n)
			}
			d.Detail = "A template is declared with `template name takes ..`."
			d.Near(diag.Nearest(s.Name(), names))
		})
		b.blind = true
		return
	}
	made, ghosts := b.sense.Use(s, t)
	t.Used = true
	b.ghost(ghosts)
	if made == nil {
		b.ghostShapes(t)
	}
	for _, m := range made {
		for _, r := range b.sense.Repeat(m) {
			b.stmts = append(b.stmts, r)
		}
	}
}
