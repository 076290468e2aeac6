package design

// Index looks things up by name; of two with one name the first counts.
func Index[T any](list []*T, name func(*T) string) map[string]*T {
	out := make(map[string]*T, len(list))
	for _, x := range list {
		if out[name(x)] == nil {
			out[name(x)] = x
		}
	}
	return out
}
