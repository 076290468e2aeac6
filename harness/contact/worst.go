package contact

// worst is the worst of each end that has any, by wire and end.
type worst struct {
	at   [][2]int32 // in list, one more
	list []EndResult
}

func newWorst(wires int) *worst { return &worst{at: make([][2]int32, wires)} }

// of is what is kept for an end; nil: nothing.
func (w *worst) of(e end) *EndResult {
	if i := w.at[e.wire][e.end]; i > 0 {
		return &w.list[i-1]
	}
	return nil
}

func (w *worst) keep(e end, r *EndResult) {
	if old := w.of(e); old != nil {
		*old = *r
		return
	}
	w.list = append(w.list, *r)
	w.at[e.wire][e.end] = int32(len(w.list))
}

// all is what was kept, by wire and end.
func (w *worst) all() []EndResult {
	if len(w.list) == 0 {
		return nil
	}
	out := make([]EndResult, 0, len(w.list))
	for i := range w.at {
		for k := range w.at[i] {
			if r := w.of(end{i, k}); r != nil {
				out = append(out, *r)
			}
		}
	}
	return out
}
