package resolve

import "fmt"

// mostNamed is how many things of a kind a job may declare, beyond what large counts: each is looked for among its kind by every wire,
// case or joint that may have to do with it.
var mostNamed = []struct {
	kind string
	most int
}{
	{"zone", 1000}, {"device", 50000}, {"break", 10000}, {"point", 100000}, {"splice", 20000}, {"cable", 20000}, {"removal", 5000}, {"fixing", 50000}, {"panel", 5000},
}

// manyNames tells when a job declares more things of a kind than can be worked out.
func (b *builder) manyNames() {
	for _, m := range mostNamed {
		n := 0
		for _, t := range b.order {
			if t.kind != m.kind || t.lib {
				continue
			}
			if n++; n > m.most {
				b.mistake(t.st, t.st.NameSpan(), "too-much", fmt.Sprintf("this job has more than %d statements that begin with `%s`", m.most, m.kind),
					"No harness is that large: look for a number that is too large, or write it as several jobs.")
				break
			}
		}
	}
}
