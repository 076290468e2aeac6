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
)

// library finds parts by name. Its texts are looked through for names at once and read only when one of them is wanted.
type library struct {
	files []*libFile
	read  []*libFile // those that were needed, in their order
}

// libFile is one text of the library. It is shared by all jobs of a process and never changed once read.
type libFile struct {
	file  parts.File
	names map[string][]string // by word
	once  sync.Once
	stmts map[string]*sense.Stmt // by word and name
	msgs  diag.List
}

var (
	libMutex sync.Mutex
	libFiles = map[parts.File]*libFile{}
)

func openLibrary(files []parts.File) *library {
	libMutex.Lock()
	defer libMutex.Unlock()
	l := &library{}
	for _, f := range files {
		known := libFiles[f]
		if known == nil {
			known = &libFile{file: f, names: scan(f.Text)}
			libFiles[f] = known
		}
		l.files = append(l.files, known)
	}
	return l
}

// scan finds the names declared in a text by the words in its first column.
func scan(text string) map[string][]string {
	out := map[string][]string{}
	for line := range strings.SplitSeq(text, "\n") {
		if line == "" || !(line[0] >= 'a' && line[0] <= 'z') {
			continue
		}
		fields := strings.Fields(strings.ReplaceAll(strings.ReplaceAll(line, "{", " "), ",", ", "))
		for i := 1; i < len(fields); i++ {
			if ms, _, err := expand.Members(strings.TrimSuffix(fields[i], ",")); err == nil {
				out[fields[0]] = append(out[fields[0]], ms...)
			}
			if !strings.HasSuffix(fields[i], ",") {
				break
			}
		}
	}
	return out
}

func (f *libFile) load() {
	f.once.Do(func() {
		file, msgs := syntax.Parse(f.file.Name, []byte(f.file.Text))
		r := sense.NewReader()
		stmts, _ := r.Lines(file.Lines)
		f.stmts = map[string]*sense.Stmt{}
		for _, s := range stmts {
			for _, m := range r.Repeat(s) {
				if k := m.Word.Name + " " + m.Name(); f.stmts[k] == nil {
					f.stmts[k] = m
				}
			}
		}
		f.msgs = append(msgs, r.Msgs...)
	})
}

// find reads the statement that declares a name; nil if the library has none.
func (l *library) find(kind, name string) *thing {
	for _, f := range l.files {
		if !slices.Contains(f.names[kind], name) {
			continue
		}
		f.load()
		if !slices.Contains(l.read, f) {
			l.read = append(l.read, f)
			slices.SortFunc(l.read, func(x, y *libFile) int { return slices.Index(l.files, x) - slices.Index(l.files, y) })
		}
		if s := f.stmts[kind+" "+name]; s != nil {
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
