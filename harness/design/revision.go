package design

// Earlier tells whether revision a comes before revision b: shorter before longer, then by letter or digit (B before C, Z before AA, 9 before 10).
func Earlier(a, b string) bool {
	if len(a) != len(b) {
		return len(a) < len(b)
	}
	return a < b
}
