package bench

import (
	"iter"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Terms is the parts of a cut length, which a job has very many of: their texts are held once, and what begins alike is held as that.
type Terms struct {
	list  []term
	texts *[]string
}

type term struct {
	length unit.Length
	text   uint32
	lead   uint8
	kind   TermKind
}

// leads is how the texts of most terms begin.
var leads = [...]string{"", "tail at ", "loop at ", "crimp waste at ", "breakout at "}

// termTexts numbers texts as terms hold them.
type termTexts struct {
	list *[]string
	at   map[string]uint32
}

func newTermTexts() *termTexts { return &termTexts{new([]string), map[string]uint32{}} }

// hold is terms as they are kept.
func (x *termTexts) hold(terms []Term) Terms {
	if len(terms) == 0 {
		return Terms{}
	}
	out := Terms{make([]term, len(terms)), x.list}
	for i, t := range terms {
		lead := 0
		for k := 1; k < len(leads) && lead == 0; k++ {
			if strings.HasPrefix(t.What, leads[k]) {
				lead = k
			}
		}
		text := t.What[len(leads[lead]):]
		n, ok := x.at[text]
		if !ok {
			n = uint32(len(*x.list))
			text = strings.Clone(text) // not the whole of which it is a piece
			x.at[text] = n
			*x.list = append(*x.list, text)
		}
		out.list[i] = term{t.Length, n, uint8(lead), t.Kind}
	}
	return out
}

// close puts the texts, of which no more come, into one.
func (x *termTexts) close() {
	list := *x.list
	for whole, at, i := strings.Join(list, ""), 0, 0; i < len(list); i++ {
		end := at + len(list[i])
		list[i], at = whole[at:end], end
	}
	*x.list = design.Exact(list)
}

// TermsOf is some terms by themselves.
func TermsOf(terms ...Term) Terms { return newTermTexts().hold(terms) }

// Len is how many there are.
func (t Terms) Len() int { return len(t.list) }

// All goes through them in their order.
func (t Terms) All() iter.Seq2[int, Term] {
	return func(yield func(int, Term) bool) {
		for i, x := range t.list {
			if !yield(i, Term{leads[x.lead] + (*t.texts)[x.text], x.length, x.kind}) {
				return
			}
		}
	}
}

// Equal tells whether two say the same.
func (t Terms) Equal(o Terms) bool {
	if len(t.list) != len(o.list) {
		return false
	}
	next, stop := iter.Pull2(o.All())
	defer stop()
	for _, x := range t.All() {
		if _, y, _ := next(); x != y {
			return false
		}
	}
	return true
}

// Sum is the length of all terms of a kind.
func (t Terms) Sum(of func(TermKind) bool) (l unit.Length) {
	for _, x := range t.list {
		if of(x.kind) {
			l += x.length
		}
	}
	return l
}
