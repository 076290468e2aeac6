package heat

import "sync"

// desk is what a place is worked out on, one after another.
type desk struct {
	limits, sq, up, taus []float64
	steady, slow         state
	figures, heap        []figure
	rises                []rise
	most                 []lifting
	byWire, lifts, fresh []liftedAt
	order                []uint64
	stand                stand
	at                   setting
}

var desks = sync.Pool{New: func() any { return new(desk) }}

// resized is a list of n whose values are any, in the same place if it is large enough.
func resized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}
