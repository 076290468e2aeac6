package resolve

import (
	"slices"
	"strings"
	"sync"

	"loomsheet/harness/diag"
	"loomsheet/lang/expand"
	"loomsheet/lang/parts"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
	"loomsheet/lang/word"
)

// library finds parts by name. Its texts are looked through for names at once; a statement is read only when one of its names is wanted.
type library struct {
	files []*libFile
	read  []*libFile // those that were needed, in their order
	msgs  diag.List  // of the statements that were needed
	used  map[*libPart]bool
}

// libFile is one text of the library. It is shared by all jobs of a process and never changed.
type libFile struct {
	file  parts.File
	names map[string][]string // by word
	parts map[string]*libPart // by word and name, the first
}

// libPart is one statement of it, with its block.
type libPart struct {
	file     *parts.File
	from, to int
	once     sync.Once
	stmts    map[string]*sense.Stmt // by word and name
	msgs     diag.List
}

var (
	libMutex sync.Mutex
	libFiles = map[parts.File]*libFile{}
)

func openLibrary(files []parts.File) *library {
	libMutex.Lock()
	defer libMutex.Unlock()
	l := &library{used: map[*libPart]bool{}}
	for _, f := range files {
		known := libFiles[f]
		if known == nil {
			known = scan(f)
			libFiles[f] = known
		}
		l.files = append(l.files, known)
	}
	return l
}

// scan finds the names declared in a text by the words in its first column, which begin its statements.
func scan(file parts.File) *libFile {
	out := &libFile{file: file, names: map[string][]string{}, parts: map[string]*libPart{}}
	var last *libPart
	at := 0
	for line := range strings.SplitSeq(file.Text, "\n") {
		from := at
		at += len(line) + 1
		if line == "" || !(line[0] >= 'a' && line[0] <= 'z') {
			continue
		}
		fields := strings.Fields(strings.ReplaceAll(strings.ReplaceAll(line, "{", " "), ",", ", "))
		if last == nil || word.IsTop(fields[0]) {
			if last != nil {
				last.to = from
			}
			last = &libPart{file: &out.file, from: from, to: len(file.Text)}
		}
		for i := 1; i < len(fields); i++ {
			if ms, _, err := expand.Members(strings.TrimSuffix(fields[i], ",")); err == nil {
				out.names[fields[0]] = append(out.names[fields[0]], ms...)
				for _, m := range ms {
					if k := fields[0] + " " + m; out.parts[k] == nil {
						out.parts[k] = last
					}
				}
			}
			if !strings.HasSuffix(fields[i], ",") {
				break
			}
		}
	}
	return out
}

func (p *libPart) load() {
	p.once.Do(func() {
		file, msgs := syntax.ParseFrom(p.file.Name, p.file.Text[:p.to], p.from)
		r := sense.NewReader()
		stmts, _ := r.Lines(file.Lines)
		p.stmts = map[string]*sense.Stmt{}
		for _, s := range stmts {
			for _, m := range r.Repeat(s) {
				if k := m.Word.Name + " " + m.Name(); p.stmts[k] == nil {
					p.stmts[k] = m
				}
			}
		}
		p.msgs = append(msgs, r.Msgs...)
	})
}

// find reads the statement that declares a name; nil if the library has none.
func (l *library) find(kind, name string) *thing {
	for _, f := range l.files {
		p := f.parts[kind+" "+name]
		if p == nil {
			continue
		}
		p.load()
		if !l.used[p] {
			l.used[p] = true
			l.msgs.Add(p.msgs...)
		}
		if !slices.Contains(l.read, f) {
			l.read = append(l.read, f)
			slices.SortFunc(l.read, func(x, y *libFile) int { return slices.Index(l.files, x) - slices.Index(l.files, y) })
		}
		if s := p.stmts[kind+" "+name]; s != nil {
			return &thing{kind: kind, name: name, st: s, lib: true}
		}
	}
	return nil
}

// list is all names of a kind.
func (l *library) list(kind string) []string {
	var out []string
	for _, f := range l.files {
		out = append(out, f.names[kind]...)
	}
	return out
}
