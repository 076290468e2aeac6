package drawing

// store is room for candidates, which stay where they are until it is cleared and used again.
type store struct {
	chunks   [][]candidate
	at, used int // the chunk in use, and how many of it are
}

// How many candidates a chunk holds, and the most chunks that are held for another use.
const (
	chunkSize  = 8 * kept
	mostChunks = 20
)

func (s *store) clear() {
	if len(s.chunks) > mostChunks {
		s.chunks = append([][]candidate(nil), s.chunks[:mostChunks]...)
	}
	s.at, s.used = 0, 0
}

// room is that for so many, no more than a chunk holds.
func (s *store) room(n int) []candidate {
	if s.at < len(s.chunks) && s.used+n > chunkSize {
		s.at, s.used = s.at+1, 0
	}
	if s.at == len(s.chunks) {
		s.chunks = append(s.chunks, make([]candidate, chunkSize))
	}
	s.used += n
	return s.chunks[s.at][s.used-n : s.used : s.used]
}
