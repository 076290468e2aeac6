package resolve

import (
	"cmp"
	"fmt"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/lang/token"
)

// lookAlike tells two names apart that look the same on paper: a label, a drawing and a list could not say which of the two is meant.
func (b *builder) lookAlike() {
	first := map[[2]string]*thing{}
	for _, t := range b.order {
		k := [2]string{space(t.kind), token.Looks(t.name)}
		other := first[k]
		if other == nil {
			first[k] = t
			continue
		}
		d := b.mistake(t.st, t.st.NameSpan(), "names-alike", fmt.Sprintf("`%s` and another name look the same", t.name), "")
		d.Point(other.st.NameSpan(), "the other name stands here")
		if odd := cmp.Or(token.Odd(t.name), token.Odd(other.name)); odd != "" {
			d.Detail = "One of them holds " + odd + ". "
		}
		d.Detail += "Write one of the two otherwise: on a label nobody could tell them apart."
	}
}

// oddLetters adds to messages about a name, or a word, that looks like one there is, which letter makes it another.
func (b *builder) oddLetters(msgs diag.List) {
	for i := range msgs {
		d := &msgs[i]
		if len(d.Suggest) == 0 || len(d.Suggest[0]) > mostOdd {
			continue
		}
		text, _ := b.src.Text(d.Span.File.String())
		if int(d.Span.End) > len(text) || d.Span.End-d.Span.Start > mostOdd {
			continue
		}
		said := text[d.Span.Start:d.Span.End]
		if odd := token.Odd(said); odd != "" && strings.Contains(token.Looks(said), token.Looks(d.Suggest[0])) {
			d.Detail = "It holds " + odd + "."
		}
	}
}

// mostOdd is how long a text may be to be looked through for letters of another script.
const mostOdd = 400
