package syntax

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loomsheet/harness/diag"
	"loomsheet/lang/token"
)

// A line of a shape that was parsed before becomes what the grammar makes of it, or stops where that stops, whatever its tokens say.
func TestShapesAgreeWithTheGrammar(t *testing.T) {
	kinds := []token.Kind{token.Name, token.Name, token.Name, token.Ref, token.Quantity, token.Text, token.Comma, token.LeftParen, token.RightParen, token.Illegal}
	rapid.Check(t, func(t *rapid.T) {
		var tokens []token.Token
		for i := range rapid.IntRange(1, 9).Draw(t, "tokens") {
			text := rapid.SampledFrom([]string{"a", "pump", "bb.1", "5 mm"}).Draw(t, "text")
			tokens = append(tokens, token.Token{Kind: rapid.SampledFrom(kinds).Draw(t, "kind"), Start: 10 * i, End: 10*i + len(text), Text: text})
		}
		r := &reader{file: &File{Name: "a"}, in: diag.FileOf("a")}
		want, at := parseHead(tokens)
		for range 2 {
			got, stop := parseShape(tokens)
			if stop != at {
				t.Fatalf("stops at %d, the grammar at %d", stop, at)
			}
			if at >= 0 {
				continue
			}
			if d := cmp.Diff(r.convert(want, tokens, 0, 99), r.convert(got, tokens, 0, 99)); d != "" {
				t.Fatal(d)
			}
		}
		// The texts and places of the parsed tokens themselves.
		if at < 0 && (want.Word.Value != tokens[0].Text || want.Word.Pos.Offset != 0) {
			t.Fatal(want.Word)
		}
	})
}
