// Package mate finds connectors that could be plugged into the wrong one, or into their own the wrong way round, what would meet then, and the
// fewest changes of key that prevent it.
package mate

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// Harm is what comes of two nets that meet; the lower the worse.
type Harm uint8

// Kinds of harm, worst first.
const (
	UnfusedShort  Harm = iota // a feed with no fuse before it meets an earth
	FusedShort                // a fused feed meets an earth
	FeedOnSignal              // a feed meets a signal, a sensor or a unit's own supply
	TwoSupplies               // feeds of two supplies, or of one behind different fuses, meet
	WrongFeed                 // a load hangs on a feed that is not its own
	SignalEarthed             // a signal meets an earth
	SignalsMixed              // a signal meets another
	LoadsJoined               // loads of two circuits, or a load and an earth, meet
	Harmless                  // nothing comes of it
)

func (h Harm) String() string {
	return [...]string{"dead short with no fuse", "dead short, fused", "feed on a signal", "two supplies meet", "load on the wrong feed", "signal earthed", "signals mixed", "loads joined", "harmless"}[h]
}

// Half is a connector half that can be plugged: of a break, the plug of a device, or the socket of the device that the plug goes into.
type Half struct {
	Title    string // "A, engine half", "plug of coil1", "socket of coil1"
	Break    string // empty: of a device
	Half     int
	Device   string
	Housing  int // of the device; its part is Part
	Part     string
	Key      string // as stated, else the first that the housing can be had with; empty: none
	Contacts string // pins or sockets; of a device by habit: its socket holds pins
	Free     bool   // it hangs on its wires; else it stays where it sits
	Known    bool   // At is
	KeyGiven bool   // somebody stated Key
	At       design.Point3
	// Held is what a free half hangs from: it reaches no farther than Tail from each.
	Held []Held
	Span diag.Span
}

// Held is a place that holds the tail of a free half.
type Held struct {
	What string // "clip tail-3", "device pump", "break A"
	At   design.Point3
	Tail unit.Length // along the wires from there to the connector, slack and set mate-reach included
}

// Meeting is what meets in one cavity.
type Meeting struct {
	Cavity string // of the first half
	Other  string // of the second: the same but where a connector is turned over
	First  Side
	Second Side
	Harm   Harm
	Text   string // "2: pump-feed (12.6 V behind fuse box f1 - out) meets lamp-earth (earth): dead short, fused"
}

// Side is what is on one side of a meeting.
type Side struct {
	Net   string // the wire's circuit, or the pin of the device
	Role  string // "feed", "earth", "signal", "load", "nothing"
	Volts unit.Voltage
	Text  string // role in words: "12.6 V of battery behind fuse box f1 - out", "earth", "signal", "load pump.1", "nothing"
}

// Pair is two halves that fit each other though they should not, and reach each other.
type Pair struct {
	First, Second int  // of Halves; First is free
	Breaks        bool // neither is of a device
	SameKey       bool
	Gap           unit.Length // how far they sit apart
	Reach         string      // why they reach each other, in words
	Meetings      []Meeting   // the harmless left out, worst first
	Worst         Harm
	Alike         bool // two of a kind: each cavity is what it was, for another device
}

// Turn is a connector that goes into its own other half upside down.
type Turn struct {
	Half     int // of Halves: the one that is turned
	Meetings []Meeting
	Worst    Harm
}

// KeyChange gives a break another key on both halves.
type KeyChange struct {
	Break    string
	From, To string
}

// Keys is the fewest changes of key after which no two halves that would do harm fit each other.
type Keys struct {
	Changes []KeyChange
	Text    string // "Give NP key W: then no two connectors in reach of each other that would do harm go together."
	// Left is the pairs, by index, that no key of theirs keeps apart, with what to do instead in Remedy.
	Left   []int
	Remedy []string
	Proved bool // the search was whole: no fewer changes do
}

// Result is every pair that could be crossed.
type Result struct {
	Halves []Half
	Pairs  []Pair // of one key first, then worst first
	Turned []Turn // worst first
	Keys   Keys
	// Skipped counts pairs that were not looked at, where a half has very many others in reach: the farthest ones. Keys holds for the others.
	Skipped int
}
