// Package clip finds where clips go, on a grid of one millimetre: fewest new holes, then fewest clips, then most even. It knows nothing
// of harnesses, only of tracks to be held and of what may and must stand where; harness/fix makes the problem from a job.
//
// Places are whole millimetres from the beginning of a track.
package clip

// Problem is the tracks of a job that are settled together.
type Problem struct {
	Tracks []Track
	Sides  []Side // where two of them lie side by side
}

// Track is one way from its beginning to Length.
type Track struct {
	Length  int
	Spans   []Span   // largest gap between neighbouring clips; they cover the track in order. A gap is held to the least Most it touches
	Ends    [2]int   // largest distance from the beginning to the first clip, and from the last to the end; 0: no clip is asked there
	Windows []Window // in each at least one clip
	Closed  []Range  // no clip there, unless Given
	NoHole  []Range  // a clip there needs no hole (a tube, a bonded skin)
	NewShut []Range  // no new hole there (a keep-out, too near another hole); an existing one or NoHole will do
	Seats   []Seat   // holes that exist, or are decided; a clip there costs no new hole
	Given   []int    // clips decided by hand: they stand whatever they violate
	Apart   int      // least distance between two clips, 0: 1
}

// Range is from From to To, both included.
type Range struct{ From, To int }

// Span is the largest gap in a part of a track.
type Span struct {
	Range
	Most int
}

// Window wants a clip within it. Nearest is the place it is wanted for (a connector, a bend); of equal answers a clip nearer to it is not better.
type Window struct {
	Range
	Why string
}

// Seat is an existing hole beside a track. Seats of several tracks with one ID are one hole: only one clip may take it.
type Seat struct {
	At int
	ID int
}

// Side says that, from A on, Length millimetres of track A lie beside track B from B on (backwards where Back is set): clips that stand
// face to face there can share one hole.
type Side struct {
	TrackA, TrackB int
	A, B           int
	Length         int
	Back           bool
}

// Place is one clip.
type Place struct {
	At    int
	Seat  int // index into Seats; -1: none
	Given bool
	New   bool // it needs a new hole
	With  int  // track whose clip shares the hole, -1: none
}

// Miss is what could not be met.
type Miss struct {
	Track int
	What  string // "span", "end" or the Why of a window
	Range        // the gap, or the window
	Most  int    // of a span or an end
}

// Answer is the clips of each track in order of place. It is best in this order: fewest Misses, fewest new holes (a shared hole counts
// once), fewest clips, least Uneven (sum of the squares of the gaps, which for one count of clips is least when they are even), and of equals
// the one whose places come first.
type Answer struct {
	Places   [][]Place
	Misses   []Miss
	NewHoles int
	Clips    int
	Uneven   int64
}
