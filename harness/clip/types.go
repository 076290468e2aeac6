// Package clip finds where clips go, on a grid of one millimetre: fewest new holes, then fewest clips, then most even. It knows nothing
// of harnesses, only of tracks to be held and of what may and must stand where; harness/fix makes the problem from a job.
//
// Places are whole millimetres from the beginning of a track.
//
// # What counts as a miss
//
// A window without a clip counts one. An end whose nearest clip is too far, at d, counts the one there and those that the limit m on gaps asks
// for on the way, d/m rounded up less one. A gap g over its limit m counts the clips that it
// lacks: g/m rounded up, less one. So a clip that can stand in such a gap never makes things worse, and one place where none may stand
// is never a reason to leave its neighbours out. Of equal counts the smaller overrun is better: the millimetres by which gaps and ends
// are over their limits, and the distance from each missed window to the nearest clip (the whole track where there is none).
//
// # One hole for two clips
//
// Two clips face to face on a [Side] share one hole: a new one where both may have one, an existing one that either may take, or that of
// a Given clip. No hole holds more than two, and a clip that needs no hole offers none. A Seat taken on one track is otherwise closed to
// every other clip; only clips by hand may double on one.
//
// # Limits
//
// A track longer than MostLength or of negative length, one with more than MostWindows windows, and what exceeds MostTotal, get their
// Given clips only and one Miss, "length" or "windows".
// Where a problem would take more work than Work allows, candidate places are thinned, or what was found by then is taken; Exact then says so.
package clip

// Problem is the tracks of a job that are settled together.
type Problem struct {
	Tracks []Track
	Sides  []Side // where two of them lie side by side
}

// Track is one way from its beginning to Length.
type Track struct {
	Length  int
	Spans   []Span   // largest gap between neighbouring clips. A gap, both its clips included, is held to the least Most it touches; Most 0 or less, or no Span: no limit
	Ends    [2]int   // largest distance from the beginning to the first clip, and from the last to the end; 0: no clip is asked there
	Windows []Window // in each at least one clip
	Closed  []Range  // no clip there, unless Given
	NoHole  []Range  // a clip there needs no hole (a tube, a bonded skin), and takes no Seat unless Given or shared
	NewShut []Range  // no new hole there (a keep-out, too near another hole); an existing one or NoHole will do
	Seats   []Seat   // holes that exist, or are decided; a clip there costs no new hole
	Given   []int    // clips decided by hand: they stand whatever they violate; one stated twice counts once, one outside the track holds nothing
	Apart   int      // least distance between two clips, 0: 1
}

// Range is from From to To, both included.
type Range struct{ From, To int }

// Span is the largest gap in a part of a track.
type Span struct {
	Range
	Most int
}

// Window wants a clip within it, for Why; where in it the clip stands is all the same.
type Window struct {
	Range
	Why string
}

// Seat is an existing hole beside a track. Seats with one ID, of one track or of several, are one hole: only one clip may take it.
type Seat struct {
	At int
	ID int
}

// Side says that, from A on, Length millimetres of track A lie beside track B from B on (backwards where Back is set): clips that stand
// face to face there can share one hole. Of overlapping Sides of the same two tracks the first counts; a Side of a track with itself does not.
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
	Kind  Kind
	What  string // "span", "end", the Why of a window, or "length" or "windows": the track is beyond what is settled
	Range        // the gap, or the window
	Most  int    // of a span or an end
	Count int    // what it weighs: for a gap the clips it lacks, otherwise 1
	Over  int    // mm over Most; of a window, to the nearest clip
}

// Kind is the kind of a miss, since a window may be called anything.
type Kind int

const (
	KindSpan Kind = iota
	KindEnd
	KindWindow
	KindCap
)

// Answer is the clips of each track in order of place. It is best in this order: least Missed, least Overrun, fewest new holes (a shared
// hole counts once), fewest clips, least Uneven (sum of the squares of the gaps between neighbours and to held ends, which for one count of
// clips is least when they are even), and of equals the one whose places come first; for two tracks side by side, read along both together. Where tracks want the same Seat any
// of the equals may be taken, the same for the same Problem.
type Answer struct {
	Places   [][]Place
	Misses   []Miss
	Missed   int   // the sum of Count
	Overrun  int64 // mm, the sum of Over
	NewHoles int
	Clips    int
	Uneven   int64
	Exact    bool // nothing is better. Otherwise every claim of the answer holds, but a better one may exist: three tracks or more side by side, or two that meet crosswise, or too much work
}
