package clip

import "testing"

// realTrack is a run of a vehicle: spans of 300 mm, thinner further on, windows at connectors and bends, closed ranges, seats.
func realTrack(length int, d die, seatIDs int) Track {
	t := Track{
		Length: length,
		Spans:  []Span{{Range{0, length * 2 / 3}, 300}, {Range{length * 2 / 3, length}, 200}},
		Ends:   [2]int{100, 100},
		Apart:  25,
	}
	for range 12 * length / 3500 {
		at := d(0, length-100)
		t.Windows = append(t.Windows, Window{Range{at, at + d(40, 100)}, "bend"})
	}
	for range 6 * length / 3500 {
		at := d(0, length-100)
		t.Closed = append(t.Closed, Range{at, at + d(20, 150)})
		at = d(0, length-100)
		t.NewShut = append(t.NewShut, Range{at, at + d(50, 300)})
	}
	for range 8 * length / 3500 {
		t.Seats = append(t.Seats, Seat{d(0, length), d(1, seatIDs)})
	}
	return t
}

func BenchmarkTrack(b *testing.B) {
	p := Problem{Tracks: []Track{realTrack(3500, seeded(1), 1<<30)}}
	for b.Loop() {
		Solve(p)
	}
}

func BenchmarkLongTrack(b *testing.B) {
	p := Problem{Tracks: []Track{{Length: 6000, Spans: []Span{{Range{0, 6000}, 300}}, Ends: [2]int{100, 100}}}}
	for b.Loop() {
		Solve(p)
	}
}

func beside(seed uint64) Problem {
	d := seeded(seed)
	return Problem{
		Tracks: []Track{realTrack(2000, d, 1<<30), realTrack(2000, d, 1<<30)},
		Sides:  []Side{{TrackA: 0, TrackB: 1, A: 100, B: 150, Length: 1800}},
	}
}

func BenchmarkSideBySide(b *testing.B) {
	for b.Loop() {
		for seed := range uint64(10) {
			if !Solve(beside(seed)).Exact {
				b.Fatal(seed)
			}
		}
	}
}

// vehicle is a job of that many tracks: every fifth lies beside the next, and some holes are in reach of several.
func vehicle(tracks int) (p Problem) {
	d := seeded(7)
	for k := range tracks {
		p.Tracks = append(p.Tracks, realTrack(d(200, 2500), d, 2000))
		if k%5 == 0 && k+1 < tracks {
			p.Sides = append(p.Sides, Side{TrackA: k, TrackB: k + 1, Length: d(100, 1500), A: d(0, 100), B: d(0, 100)})
		}
	}
	return p
}

func BenchmarkVehicle(b *testing.B) {
	p := vehicle(150)
	for b.Loop() {
		Solve(p)
	}
}
