package fit

import (
	"loomsheet/harness/solve"
)

// quantityOf is what a limit on volts holds.
func quantityOf(limit string) solve.Quantity {
	switch limit {
	case "drop", "feed-return-drop":
		return solve.LostBoth
	case "feed-drop":
		return solve.LostFeed
	case "return-drop":
		return solve.LostReturn
	case "most-volts", "volts-over":
		return solve.MostVolts
	}
	return solve.LeastVolts
}

// worst puts a limit at its own corner, where that is worse than the case's own point.
func (l *Limit) worst(k *solve.Corner) {
	if k == nil {
		return
	}
	l.Corner = k
	if l.Floor {
		l.Got = min(l.Got, k.Got)
	} else {
		l.Got = max(l.Got, k.Got)
	}
}

// corners puts the limits on a load of a case each at its own corner; n is the load's index, -1 where it is to be found.
func corners(c *solve.CaseResult, load *solve.LoadResult, n int, limits []Limit) []Limit {
	if n < 0 {
		n = c.IndexOf(load)
	}
	for i := range limits {
		limits[i].worst(c.Corner(n, quantityOf(limits[i].Name)))
	}
	return limits
}

// startCorners is the same while a device starts.
func startCorners(c *solve.CaseResult, starting *solve.LoadResult, limits []Limit) []Limit {
	n := c.IndexOf(starting) // the loads of a start stand as those of the case
	for s := range c.Starts {
		if n >= 0 && stands(c.Starts[s].Load(n), starting) { // one that no start moves has the same corner in all
			for i := range limits {
				limits[i].worst(c.Starts[s].Corner(n, quantityOf(limits[i].Name)))
			}
			break
		}
	}
	return limits
}

// stands tells whether a load was told of one start: what stands alike to the bit in two has one corner in both.
func stands(l, told *solve.LoadResult) bool {
	return l != nil && l.Volts == told.Volts && l.Amps == told.Amps && len(l.Feed) == len(told.Feed) && len(l.Return) == len(told.Return)
}
