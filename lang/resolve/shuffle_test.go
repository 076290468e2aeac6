package resolve

import (
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"loomsheet/harness/diag"
	"loomsheet/lang/parts"
	"loomsheet/lang/syntax"
)

// ordered is the words in whose block the order of lines has a meaning: along a run or a tube, and of the cores of a cable.
var ordered = map[string]bool{"run": true, "wire": true, "tube": true}

// shuffled writes lines anew, their statements and the lines of their blocks in another order.
func shuffled(t *rapid.T, src string, lines []*syntax.Line, keep bool, indent string) string {
	order := make([]int, len(lines))
	for i := range order {
		order[i] = i
	}
	if !keep {
		order = rapid.Permutation(order).Draw(t, "order")
	}
	var b strings.Builder
	for _, i := range order {
		l := lines[i]
		b.WriteString(indent + src[l.Head.Start:l.Head.End])
		if l.HasBlock {
			b.WriteString(" {\n" + shuffled(t, src, l.Block, ordered[l.Word.Text], indent+"  ") + indent + "}")
		}
		b.WriteString("\n")
	}
	return b.String()
}

var noSpans = cmp.Options{cmpopts.IgnoreTypes(diag.Span{})}

// The order of statements never shows: a job with its statements shuffled is the same job.
func TestShuffled(t *testing.T) {
	for _, name := range []string{"rook.loom", "tern.loom"} {
		load := fromDir("../../testdata/scenarios")
		whole, _, _ := Job(name, load, parts.Files(), nil)
		text, err := os.ReadFile("../../testdata/scenarios/" + name)
		if err != nil {
			t.Fatal(err)
		}
		file, msgs := syntax.Parse(name, text)
		if len(msgs) > 0 {
			t.Fatal(msgs)
		}
		rapid.Check(t, func(t *rapid.T) {
			other := shuffled(t, string(text), file.Lines, false, "")
			got, src, ds := Job(name, func(p string) ([]byte, error) {
				if p == name {
					return []byte(other), nil
				}
				return load(p)
			}, parts.Files(), nil)
			if ds.HasMistakes() {
				t.Fatalf("%s", show(src, ds))
			}
			if d := cmp.Diff(whole, got, noSpans); d != "" {
				t.Fatalf("%s", d)
			}
		})
	}
}
