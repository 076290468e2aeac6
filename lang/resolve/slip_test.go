package resolve

import (
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/lang/parts"
	"loomsheet/lang/token"
	"loomsheet/lang/word"
)

// A word, name, value, comma or bracket left out of a whole job is always noticed, and one slip does not bury the reader in messages.
func TestOneTokenLeftOut(t *testing.T) {
	const name = "rook.loom"
	load := fromDir("../../testdata/scenarios")
	text, err := os.ReadFile("../../testdata/scenarios/" + name)
	if err != nil {
		t.Fatal(err)
	}
	src := strings.Replace(string(text), "  unused 6\n", "", 1) // the one thing the job itself gets wrong
	var toks []token.Token
	for _, k := range token.Lex(name, []byte(src), word.IsTop).Tokens {
		if k.Kind != token.EOL {
			toks = append(toks, k)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(toks).Draw(t, "token")
		other := src[:k.Start] + src[k.End:]
		_, s, ds := Job(name, func(p string) ([]byte, error) {
			if p == name {
				return []byte(other), nil
			}
			return load(p)
		}, parts.Files(), nil)
		if len(ds) == 0 {
			t.Fatalf("nobody noticed that %q is missing at %d", k.Text, k.Start)
		}
		if len(ds) > 8 {
			t.Fatalf("%q missing at %d:\n%s", k.Text, k.Start, show(s, ds))
		}
	})
}
