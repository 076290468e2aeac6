package resolve

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/diag"
	"loomsheet/lang/parts"
	"loomsheet/lang/syntax"
)

// numbered repeats a line, with a number in the place of each #.
func numbered(line string, n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.ReplaceAll(line, "#", fmt.Sprint(i)))
	}
	return b.String()
}

// A hundred thousand mistakes of any sort are told as at most a thousand, the first ones, and that there are more; no message is longer than
// a person reads.
func TestMistakesAreBounded(t *testing.T) {
	const n = 3000
	for name, loom := range map[string]string{
		"no words":     numbered("sektion x#\n", n),
		"words":        numbered("x# y\n", n),
		"options":      numbered("section s# kolour red\n", n),
		"ends":         numbered("circuit c# from nobody#.1 to nothing#.2\n", n),
		"braces":       strings.Repeat("}\n", n),
		"places":       numbered("point a# at (1, 2\n", n),
		"housings":     numbered("device d# at (0, 0, 0 mm) housing h#\n", n),
		"settings":     numbered("set nonsense# to 3\n", n),
		"twice":        strings.Repeat("section s\n", n),
		"cables":       "circuit a from x.1 to y.1\n" + numbered("cable c# holds a, b# as pair\n", n),
		"includes":     numbered("include \"m#.loom\"\n", n),
		"includes out": numbered("include \"../m#.loom\"\n", n),
		"templates":    numbered("use t# n #\n", n),
		"units":        numbered("zone z# air # Volts\n", n),
		"unreadable":   strings.Repeat("# \xff\n", n),
		"numbers":      numbered("zone z# air -#000 C\n", n),
		"a long word":  strings.Repeat("x", 1<<20) + " y\n",
		"a long list":  "removal r section s undo " + numbered("a#, ", 9000) + "b\n",
		"long range":   "point p[" + numbered("#, ", 9000) + "1..99999] at (0, 0, 0 mm)\n",
		"long include": "include \"" + strings.Repeat("x", 1<<20) + "\"\n",
	} {
		_, src, ds := text(t, "harness \"Many\"\n"+loom)
		if !ds.HasMistakes() || len(ds) > syntax.MostTold+1 {
			t.Errorf("%s: %d messages", name, len(ds))
		}
		more := slices.IndexFunc(ds, func(d diag.Diagnostic) bool { return d.Code == "too-many-mistakes" })
		if (more >= 0) != (len(ds) > syntax.MostTold) || more >= 0 && more != len(ds)-1 {
			t.Errorf("%s: of %d messages that there are more is number %d", name, len(ds), more)
		}
		for _, d := range ds {
			size := len(d.Title) + len(d.Detail)
			for _, s := range d.Suggest {
				size += len(s)
			}
			if _, ok := src.Text(d.Span.File.String()); !ok || size > 2000 || len(d.Related) > 10 {
				t.Fatalf("%s: %s has %d bytes at %v", name, d.Code, size, d.Span)
			}
		}
	}
}

// A job of more statements than anybody writes is told in one message at the first too many, and is not worked out.
func TestStatementsAreBounded(t *testing.T) {
	for name, c := range map[string]struct{ loom, want string }{
		"zones":    {numbered("zone z# air 30 C\n", 1001), "more than 1000 statements that begin with `zone`"},
		"splices":  {numbered("splice s# at p\n", 20001), "more than 20000 statements that begin with `splice`"},
		"removals": {numbered("removal r# section s undo d\n", 5001), "more than 5000 statements that begin with `removal`"},
		"settings": {strings.Repeat("set drop to 3 %\n", 20002), "more than 20000 settings"},
		"files":    {numbered("include \"f#.loom\"\n", 600), "too many or too large"},
		"a file":   {strings.Repeat("#"+strings.Repeat("x", 9999)+"\n", 900), "too many or too large"},
	} {
		_, _, ds := Job("job.loom", func(p string) ([]byte, error) {
			if p != "job.loom" {
				return []byte("# nothing\n"), nil
			}
			return []byte("harness \"Large\"\nsection s\npoint p at (0, 0, 0 mm)\n" + c.loom), nil
		}, parts.Files(), nil)
		n := 0
		for _, d := range ds {
			if d.Code == "too-much" {
				if n++; !strings.Contains(d.Title, c.want) || d.Span.File.String() == "" {
					t.Errorf("%s: %q at %v", name, d.Title, d.Span)
				}
			}
		}
		if n != 1 {
			t.Errorf("%s: told %d times among %d messages", name, n, len(ds))
		}
	}
}

// Names that look the same are told apart, with the letter that is not what it seems; letters with accents can be written in two ways.
func TestNamesThatLookAlike(t *testing.T) {
	const head = "harness \"Alike\" revision A\nsection tub\nzone cabin air 40 C\n"
	for name, c := range map[string]struct{ loom, codes, says string }{
		"two devices":      {"device lamp at (0, 0, 0 mm)\ndevice l\u0430mp at (1, 0, 0 mm)\n", "names-alike", "U+0430"},
		"device and point": {"device lamp at (0, 0, 0 mm)\npoint l\u0430mp at (1, 0, 0 mm)\n", "names-alike", "U+0430"},
		"another space":    {"device lamp at (0, 0, 0 mm)\nsection l\u0430mp\n", "", ""},
		"a reference":      {"device lamp at (0, 0, 0 mm)\npoint p at l\u0430mp offset (1, 0, 0 mm)\n", "no-such-place", "U+0430"},
		"a word":           {"d\u0435vice pump at (0, 0, 0 mm)\n", "no-such-word", "U+0435"},
		"an option":        {"device lamp \u0430t (0, 0, 0 mm)\n", "no-such-option", "U+0430"},
		"wide letters":     {"section t\uff55b\n", "names-alike", "U+FF55"},
		"two accents":      {"section t\u00fcr\ndevice lamp at (0, 0, 0 mm) section tu\u0308r\n", "", ""},
		"one name twice":   {"section t\u00fcr\nsection tu\u0308r\n", "name-twice", ""},
		"all of a script":  {"section \u043d\u043e\u0441, \u043d\u0438\u0437\n", "", ""},
		"hidden letters":   {"section tub\uffa0\n", "invisible-character", "U+FFA0"},
		"a joiner":         {"section t\u034fub\n", "invisible-character", "U+034F"},
	} {
		_, src, ds := text(t, head+c.loom)
		if got := codes(ds); got != c.codes || !strings.Contains(show(src, ds), c.says) {
			t.Errorf("%s: %s, want %q: %s", name, got, c.codes, show(src, ds))
		}
	}
}
