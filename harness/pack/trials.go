package pack

import (
	"encoding/binary"
	"math"
	"slices"
	"sync"
)

// trials is the first arrangements of a pile, as far as anybody asked for them: the radius that each needs. They turn on the radii of the circles alone.
type trials struct {
	key   string
	seed  dice // as the next one finds it
	radii []float64
	fresh bool // more are known than are kept
}

// tried is what is known of piles, up to so many circles in all.
var tried = struct {
	sync.Mutex
	by      map[string]trials
	circles int
}{by: map[string]trials{}}

// keyOf is the radii of a pile.
func (p *pile) keyOf() string {
	key := make([]byte, 0, 8*len(p.r))
	for _, r := range p.r {
		key = binary.LittleEndian.AppendUint64(key, math.Float64bits(r))
	}
	return string(key)
}

// trials is what is known of those of a pile.
func (p *pile) trials() trials {
	key := p.keyOf()
	tried.Lock()
	defer tried.Unlock()
	if t, ok := tried.by[key]; ok {
		return t
	}
	return trials{key: key, seed: dice(len(p.r))}
}

// keep lets others know.
func (t *trials) keep() {
	if !t.fresh {
		return
	}
	t.fresh = false
	tried.Lock()
	defer tried.Unlock()
	was, have := tried.by[t.key]
	switch n := len(t.key) / 8; {
	case !have && tried.circles+n > mostKept:
		return
	case !have:
		tried.circles += n
	case len(was.radii) >= len(t.radii):
		return
	}
	tried.by[t.key] = *t
}

// more makes one arrangement more; false if there is none.
func (t *trials) more(p *pile) bool {
	n, k := len(p.r), len(t.radii)
	starts, _, steps := effort(n)
	var x []float64
	switch {
	case n <= 2 && k == 0:
		x = p.best()
	case n <= 2 || k > min(starts, fewStarts):
		return false
	case k == 0:
		x = p.tangent(p.inOrder())
	default:
		x = p.start(k-1, &t.seed)
		p.press(x, roughly[:], steps, nil, nil)
	}
	t.radii, t.fresh = append(slices.Clip(t.radii), p.open(x)), true
	return true
}
