package mate

// seen is what is found on one side.
type seen struct {
	Side
	harm   role
	unfuse bool
	fuses  string // those nearest, joined
	source string
	load   string  // what it is of the load
	passed []int32 // connectors on some way from there
}

type role uint8

const (
	nothing role = iota
	feed
	earth
	quiet // a signal, or a unit's own supply
	load
)

func (r role) String() string {
	return [...]string{"nothing", "feed", "earth", "signal", "load"}[r]
}

// meet is what comes of two sides that meet.
func meet(a, b seen) Harm {
	if a.harm > b.harm {
		a, b = b, a
	}
	switch {
	case a.harm == nothing || a.harm == earth && b.harm == earth:
		return Harmless
	case a.harm == feed && b.harm == feed:
		if a.source == b.source && a.fuses == b.fuses && a.unfuse == b.unfuse {
			return Harmless
		}
		return TwoSupplies
	case a.harm == feed && b.harm == earth:
		if a.unfuse {
			return UnfusedShort
		}
		return FusedShort
	case a.harm == feed && b.harm == quiet:
		return FeedOnSignal
	case a.harm == feed && b.harm == load:
		return WrongFeed
	case a.harm == earth && b.harm == quiet:
		return SignalEarthed
	case a.harm == quiet && b.harm == quiet:
		return SignalsMixed
	}
	return LoadsJoined
}
