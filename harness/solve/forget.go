package solve

// Forget lets go of what is remembered of nets that were solved: points, scratch and orders of elimination, those of the cases too. What is asked of them from
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
		if a := c.again; a != nil {
			a.forget()
		}
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
