package clip

import (
	"strings"
	"testing"
)

// drawn reads a problem of tracks from pictures, one character a millimetre:
//
//	.  a new hole may be made      x  no clip may stand
//	-  no new hole may be made     ~  no hole is needed
//	s  a seat, and no new hole     S  the same, hole number 99, whatever the track
//	g  a clip by hand
//
// A line of [ and ] below a track gives its windows; rows that are lined up lie side by side where beside is set.
func drawn(most, end, apart int, beside bool, rows ...string) (p Problem) {
	for _, row := range rows {
		if strings.ContainsAny(row, "[]") {
			t := &p.Tracks[len(p.Tracks)-1]
			from := 0
			for at, c := range row {
				switch c {
				case '[':
					from = at
				case ']':
					t.Windows = append(t.Windows, Window{Range{from, at}, "window"})
				}
			}
			continue
		}
		t := Track{Length: len(row) - 1, Spans: []Span{{Range{0, len(row) - 1}, most}}, Ends: [2]int{end, end}, Apart: apart}
		for at, c := range row {
			here := Range{at, at}
			switch c {
			case 'x':
				t.Closed = append(t.Closed, here)
			case '-':
				t.NewShut = append(t.NewShut, here)
			case '~':
				t.NoHole = append(t.NoHole, here)
			case 's', 'S':
				id := 100*len(p.Tracks) + at
				if c == 'S' {
					id = 99
				}
				t.Seats, t.NewShut = append(t.Seats, Seat{at, id}), append(t.NewShut, here)
			case 'g':
				t.Given = append(t.Given, at)
			}
		}
		p.Tracks = append(p.Tracks, t)
	}
	if beside {
		for k := 1; k < len(p.Tracks); k++ {
			p.Sides = append(p.Sides, Side{TrackA: k - 1, TrackB: k, Length: p.Tracks[k].Length})
		}
	}
	return p
}

// clips draws an answer: N new hole, s seat, o no hole, C one in common, made new, c one in common that was there; g by hand.
func clips(p Problem, a Answer) (out []string) {
	for k, t := range p.Tracks {
		row := []byte(strings.Repeat(".", t.Length+1))
		for _, x := range a.Places[k] {
			switch {
			case x.With >= 0 && x.New:
				row[x.At] = 'C'
			case x.With >= 0:
				row[x.At] = 'c'
			case x.Given:
				row[x.At] = 'g'
			case x.New:
				row[x.At] = 'N'
			case x.Seat >= 0:
				row[x.At] = 's'
			default:
				row[x.At] = 'o'
			}
		}
		out = append(out, string(row))
	}
	return out
}

func TestPictures(t *testing.T) {
	cases := []struct {
		name             string
		most, end, apart int
		beside           bool
		rows, want       []string
		missed, holes    int
	}{
		{"as even as the ends allow, the first place first", 5, 3, 1, false,
			[]string{"................"},
			[]string{"...N...N....N..."}, 0, 3},
		{"nothing asked, nothing there", 0, 0, 1, false,
			[]string{"........"},
			[]string{"........"}, 0, 0},
		{"seats before new holes, though more clips", 6, 3, 1, false,
			[]string{"..s...s...s...s.."},
			[]string{"..s...s...s...s.."}, 0, 0},
		{"a new hole only where seats do not reach", 6, 3, 1, false,
			[]string{"..s...........s.."},
			[]string{"..s.....N.....s.."}, 0, 1},
		{"a window between", 9, 2, 1, false,
			[]string{".............", "....[]......."},
			[]string{"..N..N....N.."}, 0, 3},
		{"one clip in two windows", 9, 0, 1, false,
			[]string{".............", "..[...]......", "....[....]..."},
			[]string{"....N........"}, 0, 1},
		{"a closed range as wide as a span", 4, 1, 1, false,
			[]string{"....xxx......"},
			[]string{".N.N...N...N."}, 0, 4},
		{"too wide by one: one clip is lacking, and its sides come as near as they can", 3, 1, 1, false,
			[]string{"....xxx......"},
			[]string{".N.N...N.N.N."}, 1, 5},
		{"a tube needs no holes", 4, 2, 1, false,
			[]string{"~~~~~~~~~"},
			[]string{"..o...o.."}, 0, 0},
		{"by hand, too near each other, and in a closed place", 6, 3, 4, false,
			[]string{"..gg.......g.."},
			[]string{"..gg...N...g.."}, 0, 4},
		{"clips keep apart, at the cost of a window", 6, 2, 4, false,
			[]string{"........", "..[]....", "....[].."},
			[]string{".N...N.."}, 1, 2},
		{"an end out of reach: the nearest place", 5, 2, 1, false,
			[]string{"xxxx..........."},
			[]string{"....N...N...N.."}, 1, 3},
		{"a window all closed: the nearest place", 20, 9, 1, false,
			[]string{".....xxxx......", ".....[..]......"},
			[]string{".........N....."}, 1, 1},
		{"side by side: one hole for two", 5, 3, 1, true,
			[]string{"................", "................"},
			[]string{"...C...C....C...", "...C...C....C..."}, 0, 3},
		{"side by side: the old hole of one serves both", 5, 2, 1, true,
			[]string{"..s...", "......"},
			[]string{"..cC..", "..cC.."}, 0, 1},
		{"one seat, two tracks: the other makes do", 4, 2, 1, false,
			[]string{"..S..", "..S.."},
			[]string{".N.N.", "..s.."}, 0, 2},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := drawn(c.most, c.end, c.apart, c.beside, c.rows...)
			a := Solve(p)
			got := clips(p, a)
			if strings.Join(got, "\n") != strings.Join(c.want, "\n") || a.Missed != c.missed || a.NewHoles != c.holes {
				t.Errorf("got\n%s\nmissed %d, holes %d\nwant\n%s\nmissed %d, holes %d", strings.Join(got, "\n"), a.Missed, a.NewHoles, strings.Join(c.want, "\n"), c.missed, c.holes)
			}
			if err := sound(p, a); err != "" {
				t.Error(err)
			}
		})
	}
}
