package solve

import "maps"

// Forget lets go of what is remembered of nets that were solved: points, scratch and orders of elimination, those of the cases too, and loads of starts. What is asked of them from
// then on is worked out again, to the same digits.
func Forget(cases []*CaseResult) {
	islands.Lock()
	islands.known, islands.queue, islands.kept, islands.size = nil, nil, 0, 0
	islands.Unlock()
	orders.Lock()
	orders.known, orders.queue, orders.size = nil, nil, 0
	orders.Unlock()
	warmed.Lock()
	clear(warmed.grids[:])
	warmed.Unlock()
	for _, c := range cases {
		c.LetGo()
		for i := range c.Starts {
			if m := c.Starts[i].moved; m != nil {
				m.judged.forget()
			}
		}
		if a := c.again; a != nil {
			a.forget()
		}
	}
}

// forget lets go of loads that nobody holds: who does may find more by them.
func (j *judged) forget() {
	j.mu.Lock()
	defer j.mu.Unlock()
	maps.DeleteFunc(j.brief, func(_ int, b *brief) bool { return b.told.Value() == nil })
	if len(j.brief) == 0 {
		j.brief = nil
	}
}

func (a *again) forget() {
	a.lock()
	defer a.unlock()
	a.solved = nil
	a.among.last.Store(nil)
	a.among.joints.Store(nil)
	for i := range a.p.islands {
		a.p.islands[i].order.Store(nil)
	}
}
