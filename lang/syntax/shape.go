package syntax

import (
	"sync"

	"loomsheet/lang/token"
)

// What the grammar makes of a line depends on the kinds of its tokens alone, and the lines of a text have few shapes: each is parsed once.
type lineShape struct {
	head *head // its tokens are known by their index, lexer.Token.Pos.Line
	at   int   // as of parseHead
}

// Bounds of what is remembered; whatever is beyond is parsed each time.
const (
	mostShapes    = 4096
	longestShaped = 64 // tokens
)

var (
	shapesMutex sync.Mutex
	shapes      = map[string]lineShape{}
)

// parseShape is parseHead of a line whose like was parsed before. Of the tokens of its head only the index holds.
func parseShape(tokens []token.Token) (*head, int) {
	if len(tokens) > longestShaped {
		return parseHead(tokens)
	}
	var kinds [longestShaped]byte
	for i := range tokens {
		kinds[i] = byte(tokens[i].Kind)
	}
	key := kinds[:len(tokens)]
	shapesMutex.Lock()
	known, ok := shapes[string(key)]
	shapesMutex.Unlock()
	if ok {
		return known.head, known.at
	}
	h, at := parseHead(tokens)
	shapesMutex.Lock()
	if len(shapes) < mostShapes {
		shapes[string(key)] = lineShape{h, at}
	}
	shapesMutex.Unlock()
	return h, at
}
