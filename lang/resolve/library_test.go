package resolve

import (
	"reflect"
	"testing"

	"loomsheet/lang/parts"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

// A statement of the library read by itself is the same, and lies in the same place, as in its whole text; and every one is found by each of its names.
func TestLibraryByStatement(t *testing.T) {
	files := parts.Files()
	l := openLibrary(files)
	n := 0
	seen := map[string]bool{}
	for _, f := range files {
		tree, msgs := syntax.Parse(f.Name, []byte(f.Text))
		r := sense.NewReader()
		stmts, _ := r.Lines(tree.Lines)
		for _, s := range stmts {
			for _, m := range r.Repeat(s) {
				k := m.Word.Name + " " + m.Name()
				if seen[k] || m.Name() == "" {
					continue
				}
				seen[k] = true
				n++
				found := l.find(m.Word.Name, m.Name())
				if found == nil {
					t.Errorf("%s is not found", k)
				} else if !reflect.DeepEqual(found.st, m) {
					t.Errorf("%s by itself is read as\n%+v, in the whole text as\n%+v", k, found.st, m)
				}
			}
		}
		if len(msgs)+len(r.Msgs) > 0 {
			t.Errorf("%s: %v %v", f.Name, msgs, r.Msgs)
		}
	}
	if n < 100 || len(l.read) != len(files) || len(l.msgs) > 0 {
		t.Errorf("%d statements of %d files, %v", n, len(l.read), l.msgs)
	}
}

// A name that the library does not have reads nothing of it.
func TestLibraryReadsOnlyWhatIsWanted(t *testing.T) {
	l := openLibrary([]parts.File{{Name: "a.loom", Text: "wire one heat 105 C {\n  size 1 mm2 resistance 19 mohm/m\n}\nwire two heat 105 C {\n  nonsense here\n}\n"}})
	if l.find("wire", "four") != nil || l.find("fuse", "one") != nil || len(l.read) > 0 {
		t.Error("something is found that is not there")
	}
	if l.find("wire", "one") == nil || len(l.msgs) > 0 || len(l.read) != 1 {
		t.Errorf("wire one: %v", l.msgs)
	}
	if x := l.find("wire", "two"); x == nil || x.st.Name() != "two" || len(l.msgs) == 0 {
		t.Errorf("wire two: %v, %v", x, l.msgs)
	}
}
